package moment

import (
	"math"
	"strconv"
	"strings"
	"time"

	"hedgerow/trials/quantity"
)

// ago reads "3 days ago". Hours and minutes are real time; days, weeks, months
// and years keep the clock of now, which is 23 or 25 hours a day when summer time
// begins or ends in between.
func (p *parser) ago() (reading, error) {
	words := p.words[:len(p.words)-1]
	if n, unit, ok := calendarSpan(words); ok {
		return p.back(n, unit)
	}
	minutes, err := quantity.ParseDuration(strings.Join(words, " "))
	if err != nil {
		// an uncertain count has no day, and no unit of time would mend that
		if vague := p.vague(); vague != nil {
			return reading{}, vague
		}
		return reading{}, p.fail(`write "2h ago", "3 days ago" or "2 weeks ago"`, "does not say how long ago")
	}
	return p.said(p.clock.Now.Add(-time.Duration(minutes.Value * float64(time.Minute)))), nil
}

// back goes n units back on the calendar.
func (p *parser) back(n int, unit string) (reading, error) {
	now := p.clock.Now
	day := dateOf(now)
	switch unit {
	case "day":
		day = day.plus(-n)
	case "week":
		day = day.plus(-7 * n)
	case "month":
		day = day.monthsBack(n)
	case "year":
		day = day.monthsBack(12 * n)
	}
	at, notes := p.local(day, hour{h: now.Hour(), m: now.Minute(), s: now.Second()})
	r := p.said(at)
	r.Notes = append(notes, r.Notes...)
	return r, nil
}

// calendarSpan reads a whole number of days or of what is longer.
func calendarSpan(words []string) (n int, unit string, ok bool) {
	text := strings.Join(words, " ")
	number := strings.TrimRight(text, "abcdefghijklmnopqrstuvwxyz")
	if number == "" {
		number, _, _ = strings.Cut(text, " ")
	}
	unit = strings.TrimSpace(strings.TrimPrefix(text, number))
	value, known := counts[strings.TrimSpace(number)]
	if !known {
		var err error
		if value, err = strconv.ParseFloat(strings.TrimSpace(number), 64); err != nil {
			return 0, "", false
		}
	}
	for _, u := range []string{"day", "week", "month", "year"} {
		if unit == u || unit == u+"s" || unit == u[:1] && u != "month" && u != "year" {
			// half days are hours, which the caller reads; a century is a slip
			return int(value), u, value == math.Trunc(value) && value >= 0 && value < 36525
		}
	}
	return 0, "", false
}
