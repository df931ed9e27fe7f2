package moment

import (
	"fmt"
	"regexp"
	"strings"
	"sync"
	"time"
)

var (
	markedDate = pattern(`^(\d{1,4})([./-])(\d{1,2})(?:([./-])(\d{1,4})?)?$`)
	clock24    = pattern(`^(\d{1,2})[:h](\d{2})?(?::(\d{2}))?h?$`)
	clock12    = pattern(`^(\d{1,2})(?:[:.](\d{2}))?(am|pm|a\.m\.?|p\.m\.?)$`)
	dotted     = pattern(`^(\d{1,2})\.(\d{2})$`)
	half12     = pattern(`^(am|pm|a\.m\.?|p\.m\.?)$`)
)

// figures reads a word of figures: a date, a clock, a day before its month.
func (p *parser) figures(w string) error {
	if len(p.words) > 0 && half12().MatchString(p.words[0]) { // "6 pm"
		joined := w + p.words[0]
		if clock12().MatchString(joined) {
			p.words = p.words[1:]
			return p.figures(joined)
		}
	}
	switch {
	case clock12().MatchString(w):
		return p.twelve(clock12().FindStringSubmatch(w))
	case clock24().MatchString(w):
		m := clock24().FindStringSubmatch(w)
		return p.clockTyped(atoi(m[1]), atoi(m[2]), atoi(m[3]))
	case dotted().MatchString(w) && (p.day != nil || p.moment != nil || atoi(dotted().FindStringSubmatch(w)[2]) > 12):
		m := dotted().FindStringSubmatch(w)
		return p.clockTyped(atoi(m[1]), atoi(m[2]), 0)
	case markedDate().MatchString(w):
		return p.marked(markedDate().FindStringSubmatch(w))
	case ordinal().MatchString(w):
		n := atoi(ordinal().FindStringSubmatch(w)[1])
		if m, ok := p.monthNext(); ok {
			return p.dayAndMonth(n, m)
		}
		return p.bareHour(w, n)
	}
	return p.unknown(w)
}

// clockTyped sets an hour of a clock of 24 hours.
func (p *parser) clockTyped(h, m, s int) error {
	if h > 23 || m > 59 || s > 59 {
		return p.fail("write an hour from 00:00 to 23:59", "has no such time of day")
	}
	if p.hourWord != "" {
		p.at, p.hourWord = nil, "" // "yesterday evening 18:30": the clock says more
	}
	return p.setHour(hour{h, m, s})
}

// twelve sets an hour with am or pm: 12am is midnight, 12pm noon.
func (p *parser) twelve(m []string) error {
	h, minute := atoi(m[1]), atoi(m[2])
	if h < 1 || h > 12 || minute > 59 {
		return p.fail("write 6pm, 6.30pm or 18:30", "has no such time of day")
	}
	// the hour before 1 is 12: it counts as none
	h %= 12
	if m[3][0] == 'p' {
		h += 12
	}
	return p.clockTyped(h, minute, 0)
}

// bareHour takes an hour without minutes: 13 to 23 can only be one of 24; smaller
// ones wait for a word that tells morning from evening.
func (p *parser) bareHour(w string, n int) error {
	switch {
	case strings.TrimRight(w, "0123456789") != "":
		return p.unknown(w) // "9th" of no month
	case n > 12 && n < 24:
		return p.clockTyped(n, 0, 0)
	case n < 1 || n > 12 || p.bare != 0:
		return p.unknown(w)
	}
	p.bare = n
	return nil
}

// marked reads a date in figures. Year first is year, month, day; dots are
// day.month; with slashes and hyphens a number over 12 is the day.
func (p *parser) marked(m []string) error {
	mark, second, third := m[2], atoi(m[3]), m[5]
	if m[4] != "" && m[4] != mark {
		return p.unknown(m[0])
	}
	if len(m[1]) == 4 {
		if third == "" || len(third) > 2 {
			return p.fail("write year, month and day, such as 2026-03-05", "is no whole date")
		}
		return p.setTyped(date{atoi(m[1]), time.Month(second), atoi(third)})
	}
	if len(m[1]) > 2 || len(third) == 1 || len(third) == 3 || m[4] != "" && third == "" && mark != "." {
		return p.unknown(m[0])
	}
	if len(third) == 2 && mark == "-" {
		return p.fail("write the year with four figures, such as 2026-03-05", "can be read in more than one way")
	}
	return p.pair(atoi(m[1]), second, mark, third)
}

// pair reads two numbers of which one is the day, and a year or none.
func (p *parser) pair(a, b int, mark, yearText string) error {
	set := func(day, m int) error {
		if yearText == "" {
			return p.withoutYear(day, time.Month(m))
		}
		return p.setTyped(date{fullYear(yearText), time.Month(m), day})
	}
	switch {
	case mark == "." || a > 12 || a == b:
		return set(a, b)
	case b > 12:
		return set(b, a)
	}
	y := fullYear(yearText)
	if yearText == "" {
		y = p.clock.Now.Year()
	}
	first, second := date{y, time.Month(b), a}, date{y, time.Month(a), b}
	return p.fail(fmt.Sprintf("write %s (%d %s) or %s (%d %s)", first, a, first.month, second, b, second.month),
		"can be read in two ways")
}

// fullYear returns the year of two or four figures.
func fullYear(text string) int {
	if len(text) == 2 {
		return 2000 + atoi(text)
	}
	return atoi(text)
}

// pattern compiles an expression when it is first used: few commands read one, and
// every command would pay for it at the start.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}
