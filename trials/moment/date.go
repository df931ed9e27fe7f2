package moment

import "time"

// date is a day on the calendar of whoever types.
type date struct {
	year  int
	month time.Month
	day   int
}

// dateOf returns the day of t in the zone of t.
func dateOf(t time.Time) date {
	y, m, d := t.Date()
	return date{y, m, d}
}

// noonUTC stands for the day where only the calendar matters: a day of UTC always
// has 24 hours.
func (d date) noonUTC() time.Time { return time.Date(d.year, d.month, d.day, 12, 0, 0, 0, time.UTC) }

// plus returns the day n days later.
func (d date) plus(n int) date { return dateOf(d.noonUTC().AddDate(0, 0, n)) }

// monthsBack returns the same day of an earlier month, or its last day where the
// month is shorter.
func (d date) monthsBack(n int) date {
	first := time.Date(d.year, d.month-time.Month(n), 1, 12, 0, 0, 0, time.UTC)
	return date{first.Year(), first.Month(), min(d.day, daysIn(first.Year(), first.Month()))}
}

// after reports whether d is later than other.
func (d date) after(other date) bool { return d.noonUTC().After(other.noonUTC()) }

// String returns the day as 2026-03-05.
func (d date) String() string { return d.noonUTC().Format(time.DateOnly) }

// exists reports whether the calendar has the day.
func (d date) exists() bool {
	return d.month >= 1 && d.month <= 12 && d.day >= 1 && d.day <= daysIn(d.year, d.month)
}

// daysIn returns the number of days of a month.
func daysIn(year int, m time.Month) int {
	// day 0 of the next month is the last of this one
	return time.Date(year, m+1, 0, 12, 0, 0, 0, time.UTC).Day()
}

// hour is a time of day.
type hour struct{ h, m, s int }

// local returns the moment that the clock of day shows at. Where summer time skips
// that hour the offset before the gap is taken, where it comes twice the first;
// both are said (RFC 5545, section 3.3.5).
func (p *parser) local(d date, at hour) (time.Time, []string) {
	zone := p.clock.Now.Location()
	wall := time.Date(d.year, d.month, d.day, at.h, at.m, at.s, 0, time.UTC)
	// offsets change at most once within a day, so these two are all there are
	before := wall.Add(-offset(wall.Add(-24*time.Hour), zone))
	after := wall.Add(-offset(wall.Add(24*time.Hour), zone))
	fits := func(t time.Time) bool { return t.In(zone).Format(time.DateTime) == wall.Format(time.DateTime) }
	switch {
	case fits(before) && fits(after) && !before.Equal(after):
		return before, []string{"the clock showed " + wall.Format("15:04") +
			" twice that night: the first is taken; write the offset to say otherwise"}
	case fits(before):
		return before, nil
	case fits(after):
		return after, nil
	}
	return before, []string{"the clock skipped " + wall.Format("15:04") + " that night: " +
		before.In(zone).Format("15:04") + " is taken"}
}

// offset returns how far zone is ahead of UTC at t.
func offset(t time.Time, zone *time.Location) time.Duration {
	_, seconds := t.In(zone).Zone()
	return time.Duration(seconds) * time.Second
}
