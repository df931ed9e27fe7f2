package moment

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
)

// parser takes the words of a text one after another and gathers a day and an
// hour.
type parser struct {
	text  string
	clock Clock
	words []string // what is left

	day      *date      // nil until found
	ofBrew   bool       // the day was counted from the start of the brew
	moment   *time.Time // "day 10.4" is a moment by itself
	at       *hour      // nil until found
	hourWord string     // "evening", where a word stood for the hour
	bare     int        // 1 to 12 without am or pm, else 0
	notable  bool       // the date was worked out
	relative bool       // the day was said by a word such as yesterday
}

// next takes the next word, or the words that belong together.
func (p *parser) next() error {
	w := p.words[0]
	p.words = p.words[1:]
	switch {
	case passedOver[w]:
		return nil
	case w == "last" || w == "this":
		return p.lastOrThis(w)
	case w == "day":
		return p.numbered()
	}
	if n, ok := dayWords[w]; ok {
		p.relative = true
		if err := p.setDay(dateOf(p.clock.Now).plus(n), false); err != nil || w != "tonight" {
			return err
		}
	}
	if h, ok := hourWords[w]; ok {
		if p.at != nil {
			return nil // "18:30 in the evening": the clock says more
		}
		p.hourWord = w
		return p.setHour(hour{h: h})
	}
	if d, ok := weekday(w); ok {
		return p.lastWeekday(d, false)
	}
	if m, ok := month(w); ok {
		return p.monthFirst(m)
	}
	return p.figures(w)
}

// lastOrThis reads "last saturday", "last night" and "this morning".
func (p *parser) lastOrThis(w string) error {
	if len(p.words) == 0 {
		return p.fail(examples, "ends too early")
	}
	following := p.words[0]
	d, isWeekday := weekday(following)
	_, isHour := hourWords[following]
	switch {
	case w == "last" && isWeekday:
		p.words = p.words[1:]
		return p.lastWeekday(d, true)
	case w == "last" && following == "night":
		return p.setDay(dateOf(p.clock.Now).plus(-1), true)
	case w == "this" && isHour:
		return p.setDay(dateOf(p.clock.Now), true)
	}
	return p.unknown(w + " " + following)
}

// lastWeekday sets the last such day before today. The bare name of today's own
// weekday may mean today or a week ago.
func (p *parser) lastWeekday(d time.Weekday, saidLast bool) error {
	now := p.clock.Now
	back := (int(now.Weekday()) - int(d) + 7) % 7
	if back == 0 && !saidLast {
		return p.fail(`write "today" or "last `+strings.ToLower(d.String())+`", which is `+
			dateOf(now).plus(-7).String(), "may be today, %s, or a week ago", dateOf(now))
	}
	if back == 0 {
		back = 7
	}
	return p.setDay(dateOf(now).plus(-back), true)
}

// numbered reads "day 9" after its first word, and "day before yesterday".
func (p *parser) numbered() error {
	if len(p.words) >= 2 && p.words[0] == "before" && p.words[1] == "yesterday" {
		p.words = p.words[2:]
		p.relative = true
		return p.setDay(dateOf(p.clock.Now).plus(-2), false)
	}
	const hint = `write "day 5", counted from the start of the brew`
	if len(p.words) == 0 {
		return p.fail(hint, "lacks the number of the day")
	}
	n, err := strconv.ParseFloat(p.words[0], 64)
	// the negated form also refuses NaN, which ParseFloat reads
	if err != nil || !(n >= 0 && n <= 10000) {
		return p.fail(hint, "has no day number from 0 to 10000")
	}
	if p.clock.Brew.IsZero() {
		return p.fail("write a date such as 2026-03-05", "counts days, and there is no start to count from")
	}
	p.words = p.words[1:]
	if n != math.Trunc(n) {
		at := p.clock.Brew.Add(time.Duration(n * 24 * float64(time.Hour)))
		p.moment = &at
		return nil
	}
	p.ofBrew = true
	return p.setDay(dateOf(p.clock.Brew.In(p.clock.Now.Location())).plus(int(n)), false)
}

// ordinal is the number of a day in a month, with or without its ending.
var ordinal = pattern(`^(\d{1,2})(st|nd|rd|th|\.)?$`)

// year is a year in four figures.
var year = pattern(`^\d{4}$`)

// monthFirst reads the day and the year after the name of a month.
func (p *parser) monthFirst(m time.Month) error {
	p.skipPassed()
	if len(p.words) == 0 || !ordinal().MatchString(p.words[0]) {
		return p.fail("write the day too, such as "+strings.ToLower(m.String()[:3])+" 15", "names no day of %s", m)
	}
	day := atoi(ordinal().FindStringSubmatch(p.words[0])[1])
	p.words = p.words[1:]
	return p.dayAndMonth(day, m)
}

// dayAndMonth sets a day whose year may follow.
func (p *parser) dayAndMonth(day int, m time.Month) error {
	if len(p.words) > 0 && year().MatchString(p.words[0]) {
		d := date{atoi(p.words[0]), m, day}
		p.words = p.words[1:]
		return p.setTyped(d)
	}
	return p.withoutYear(day, m)
}

// skipPassed drops the words that change nothing.
func (p *parser) skipPassed() {
	for len(p.words) > 0 && passedOver[p.words[0]] {
		p.words = p.words[1:]
	}
}

// setTyped sets a day that was typed whole.
func (p *parser) setTyped(d date) error {
	if d.month < 1 || d.month > 12 {
		return p.fail(examples, "names month %d, and a year has 12", int(d.month))
	}
	if !d.exists() {
		return p.fail("write a day from 1 to "+strconv.Itoa(daysIn(d.year, d.month)),
			"names no day: %s %d has %d days", d.month, d.year, daysIn(d.year, d.month))
	}
	if d.year < 1900 || d.year > 2199 {
		return p.fail("write the year with four figures, such as 2026", "is in the year %d", d.year)
	}
	return p.setDay(d, false)
}

// withoutYear sets the last such day that is not to come. Where that was before
// the batch began, neither year fits, and the year is asked for.
func (p *parser) withoutYear(day int, m time.Month) error {
	today := dateOf(p.clock.Now)
	d := date{today.year, m, day}
	// 29 February is looked for in the leap years before
	for tries := 0; tries < 8 && (!d.exists() || d.after(today)); tries++ {
		d.year--
	}
	if !d.exists() || m < 1 || m > 12 {
		return p.setTyped(date{today.year, m, day})
	}
	if start := p.clock.Start; !start.IsZero() && dateOf(start.In(p.clock.Now.Location())).after(d) {
		return p.fail("write the year too, such as "+d.String(),
			"is either before the batch began (%s) or still to come (%s)",
			d, date{d.year + 1, m, day})
	}
	return p.setDay(d, true)
}

// setDay sets the day once.
func (p *parser) setDay(d date, notable bool) error {
	if p.day != nil && *p.day != d {
		return p.fail(examples, "names two days, %s and %s", *p.day, d)
	}
	p.day, p.notable = &d, p.notable || notable
	return nil
}

// setHour sets the hour once.
func (p *parser) setHour(h hour) error {
	if p.at != nil {
		return p.fail(examples, "names two hours")
	}
	p.at = &h
	return nil
}

// unknown refuses a word.
func (p *parser) unknown(word string) error {
	if word == p.text || len(p.words) == 0 && p.day == nil && p.at == nil {
		return p.fail(examples, "cannot be read")
	}
	return p.fail(examples, "cannot be read: %q is not understood", word)
}

// atoi reads figures.
func atoi(s string) int {
	n, _ := strconv.Atoi(s) // callers have matched figures
	return n
}

// monthNext returns the month whose name comes next, past words that change
// nothing.
func (p *parser) monthNext() (time.Month, bool) {
	i := slices.IndexFunc(p.words, func(w string) bool { return !passedOver[w] })
	if i < 0 {
		return 0, false
	}
	m, ok := month(p.words[i])
	if ok {
		p.words = p.words[i+1:]
	}
	return m, ok
}
