package moment

import (
	"fmt"
	"strings"
	"time"
)

// Clock is what a text is read against.
type Clock struct {
	Now   time.Time // the present, in the zone of whoever types
	Start time.Time // when the batch began, the zero time where none is known
	Brew  time.Time // where "day 9" counts from; Start if zero
}

// reading is a moment as read.
type reading struct {
	At     time.Time // in UTC
	Notes  []string  // what was taken though not typed
	ToCome bool      // the moment is later than now
}

// Error says why a text is not taken as a moment and what to write instead.
type Error struct {
	Value   string // the text as typed
	Problem string // what is wrong with it, lower case, no full stop
	Hint    string // what to type instead; never empty
}

// Error returns the text in quotes and the problem. The hint is printed by
// whoever reports the error.
func (e *Error) Error() string {
	return fmt.Sprintf("time %q %s", shorten(e.Value), e.Problem)
}

// examples is the hint where nothing better is known.
const examples = `write 2026-03-05, "2026-03-05 18:30", yesterday 18:00, "day 5" or "2h ago"`

// fail returns an *Error about the text of p.
func (p *parser) fail(hint, format string, args ...any) error {
	return &Error{Value: p.text, Problem: fmt.Sprintf(format, args...), Hint: hint}
}

// shorten cuts a text that is too long to be repeated in a message.
func shorten(text string) string {
	const most = 60
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "..."
	}
	return text
}

// Parse reads text. The empty text and "now" are the present. Everything else is
// an *Error: what is not understood, a day that does not exist, and what can be
// read in two ways.
func Parse(text string, c Clock) (reading, error) {
	if c.Brew.IsZero() {
		c.Brew = c.Start
	}
	p := &parser{text: strings.TrimSpace(text), clock: c}
	if at, ok := exact(p.text); ok {
		return p.said(at), nil
	}
	p.words = split(p.text)
	if len(p.words) == 0 || len(p.words) == 1 && p.words[0] == "now" {
		return reading{At: c.Now.UTC()}, nil
	}
	if p.words[len(p.words)-1] == "ago" {
		return p.ago()
	}
	if err := p.vague(); err != nil {
		return reading{}, err
	}
	for len(p.words) > 0 {
		if err := p.next(); err != nil {
			return reading{}, err
		}
	}
	return p.resolve()
}

// exact reads a moment that carries its own zone.
func exact(text string) (time.Time, bool) {
	for _, layout := range []string{time.RFC3339, "2006-01-02 15:04Z07:00", "2006-01-02 15:04:05Z07:00",
		"2006-01-02T15:04Z07:00"} {
		if t, err := time.Parse(layout, text); err == nil {
			return t, true
		}
	}
	return time.Time{}, false
}

// vague refuses words that name no day.
func (p *parser) vague() error {
	whole := strings.Join(p.words, " ")
	for _, v := range []string{"a few", "some time", "other day", "last week", "last month", "recently", "couple",
		"several", "weekend", "next"} {
		if strings.Contains(whole, v) {
			return p.fail(`say which day, such as "3 days ago" or `+p.clock.Now.AddDate(0, 0, -3).Format(time.DateOnly),
				"does not say which day")
		}
	}
	return nil
}
