package sheets

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"

	"hedgerow/trials/moment"
)

// dateOrder is what the cells of a column tell of the order of day and month where
// slashes or hyphens part them.
type dateOrder struct {
	dayFirst, monthFirst int    // lines on which only that order gives a day, 0 for none
	example              string // a cell that settles it
	clashed              bool   // both were found
}

// datePattern is a date in three numbers, year first or last, and what follows it.
var datePattern = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(\d{1,4})([./-])(\d{1,2})([./-])(\d{1,4})\.?(?:[T ,]\s*(.+))?$`)
})

// numbersOfDate are the parts of a date as they stand.
type numbersOfDate struct {
	first, second, third int
	mark                 string
	yearFirst            bool
	rest                 string // the time of day, if any
}

// splitDate takes a date apart, false where it is none in numbers.
func splitDate(text string) (d numbersOfDate, ok bool) {
	m := datePattern().FindStringSubmatch(text)
	if m == nil || m[2] != m[4] {
		return d, false
	}
	d = numbersOfDate{mark: m[2], yearFirst: len(m[1]) == 4, rest: strings.TrimSpace(m[6])}
	d.first, _ = strconv.Atoi(m[1])
	d.second, _ = strconv.Atoi(m[3])
	d.third, _ = strconv.Atoi(m[5])
	fits := d.yearFirst && len(m[5]) <= 2 || !d.yearFirst && len(m[1]) <= 2 && (len(m[5]) == 2 || len(m[5]) == 4)
	if !d.yearFirst && len(m[5]) == 2 {
		d.third += 2000
	}
	return d, fits
}

// iso returns the date as year-month-day.
func (d numbersOfDate) iso(dayFirst bool) string {
	switch {
	case d.yearFirst:
		return fmt.Sprintf("%04d-%02d-%02d", d.first, d.second, d.third)
	case dayFirst:
		return fmt.Sprintf("%04d-%02d-%02d", d.third, d.second, d.first)
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.third, d.first, d.second)
}

// twoOrders reports whether the mark leaves open which number is the day.
func (d numbersOfDate) twoOrders() bool { return !d.yearFirst && d.mark != "." }

// orderOf looks through a column for dates that settle the order.
func (r *reader) orderOf(c *column) *dateOrder {
	if o, ok := r.orders[c.index]; ok {
		return o
	}
	o := &dateOrder{}
	r.orders[c.index] = o
	for _, w := range r.rows {
		text, _ := clean(w.cell(c.index))
		d, ok := splitDate(strings.TrimPrefix(strings.TrimSpace(text), "'"))
		if !ok || !d.twoOrders() {
			continue
		}
		switch {
		case d.first > 12 && d.second <= 12 && o.dayFirst == 0:
			o.dayFirst, o.example = w.line, text
		case d.second > 12 && d.first <= 12 && o.monthFirst == 0:
			o.monthFirst, o.example = w.line, text
		}
	}
	switch {
	case o.dayFirst > 0 && o.monthFirst > 0:
		o.clashed = true
		r.fault(max(o.dayFirst, o.monthFirst), c, o.example, fmt.Sprintf(
			"line %d has the day first and line %d the month", o.dayFirst, o.monthFirst), "write all dates as 2025-03-15")
	case o.dayFirst > 0:
		r.remark("date_order", o.dayFirst, c, "%s settles it: the day comes first", strings.TrimSpace(o.example))
	case o.monthFirst > 0:
		r.remark("date_order", o.monthFirst, c, "%s settles it: the month comes first", strings.TrimSpace(o.example))
	}
	return o
}

// date reads the moment of a row. Start is when its batch began, the zero time where
// there is none: a day alone is then that hour, else noon.
func (r *reader) date(w row, c *column, start time.Time) (time.Time, bool) {
	text, ok := r.value(w, c)
	if !ok {
		return time.Time{}, false
	}
	clock := r.word(w, r.with(roleClock))
	key := fmt.Sprint(c.index, "\x00", text, "\x00", clock, "\x00", start.UnixNano())
	if at, known := r.moments[key]; known {
		return at, true
	}
	written, ok := r.dateText(w, c, text)
	if !ok {
		return time.Time{}, false
	}
	if clock != "" && !strings.Contains(written, ":") {
		written += " " + clock
	}
	at, err := moment.Parse(written, moment.Clock{Now: r.o.Now, Start: start})
	if err != nil {
		why, do := faultOf(err)
		r.fault(w.line, c, shorten(text), why, do)
		return time.Time{}, false
	}
	for _, note := range at.Notes {
		r.remark("date_note", w.line, c, "%s", note)
	}
	r.moments[key] = at.At
	return at.At, true
}

// yearInText finds a year of four figures.
var yearInText = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\b(19|20|21)\d\d\b`) })

// dateText turns a cell into a text that has one meaning.
func (r *reader) dateText(w row, c *column, text string) (string, bool) {
	if written, ok := r.dayNumber(w, c, text); ok {
		return written, true
	}
	if _, err := time.Parse(time.RFC3339, text); err == nil {
		return text, true
	}
	d, ok := splitDate(text)
	if !ok {
		// "12 March 2025" is plain; "yesterday" would hang on the day on which the sheet is read
		if yearInText().MatchString(text) || strings.HasPrefix(strings.ToLower(text), "day ") {
			return text, true
		}
		r.fault(w.line, c, shorten(text), "it is not a date", "write it as 2025-03-15 or 2025-03-15 18:30")
		return "", false
	}
	dayFirst := true
	if d.twoOrders() {
		if dayFirst, ok = r.settleOrder(w, c, text, d); !ok {
			return "", false
		}
	}
	return strings.TrimSpace(d.iso(dayFirst) + " " + d.rest), true
}

// settleOrder decides which number of a date is the day: by the column, else by
// asking once.
func (r *reader) settleOrder(w row, c *column, text string, d numbersOfDate) (dayFirst, known bool) {
	o := r.orderOf(c)
	switch {
	case o.clashed:
		r.open++
		return false, false
	case o.dayFirst > 0:
		return true, true
	case o.monthFirst > 0:
		return false, true
	case d.first == d.second:
		return true, true
	}
	q := Ask{About: "date_order", Key: "date order", Line: w.line, Value: text,
		Options: []string{"day first: " + d.iso(true), "month first: " + d.iso(false)},
		Text:    fmt.Sprintf("%s can be %s or %s", text, d.iso(true), d.iso(false))}
	answer, given := r.ask(q, c, false)
	return answer == "day first", given
}

// The numbers that a spreadsheet counts days by, from 30 December 1899: these are
// the years 1954 to 2119.
const firstDayNumber, lastDayNumber = 20000, 80000

// dayNumber reads a spreadsheet's number of a day, whose fraction is the hour.
func (r *reader) dayNumber(w row, c *column, text string) (string, bool) {
	f, ok := splitFigures(text)
	if !ok || f.unit != "" || f.negative || strings.Count(f.digits, ".")+strings.Count(f.digits, ",") > 1 {
		return "", false
	}
	mark := byte(0)
	if at := strings.IndexAny(f.digits, ".,"); at >= 0 {
		mark = f.digits[at]
	}
	v := plain(f.digits, mark)
	if v < firstDayNumber || v > lastDayNumber {
		return "", false
	}
	const secondsADay = 24 * 60 * 60
	days := math.Floor(v)
	seconds := math.Round((v - days) * secondsADay)
	at := time.Date(1899, 12, 30, 0, 0, int(seconds), 0, time.UTC).AddDate(0, 0, int(days))
	written := at.Format(time.DateOnly)
	if v != days {
		written = at.Format(time.DateTime)
	}
	if r.said["day_number"] == 0 {
		r.remark("day_number", w.line, c, "%s is a spreadsheet's number of a day: %s", text, written)
		r.said["day_number"] = 1
	}
	return written, true
}
