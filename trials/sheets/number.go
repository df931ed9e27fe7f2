package sheets

import (
	"fmt"
	"strconv"
	"strings"
)

// figures is a number as it is written, with what follows it.
type figures struct {
	negative bool
	digits   string // figures with the marks between them
	unit     string // what follows, trimmed
}

// splitFigures takes a number from the beginning of a cell. A true minus sign is a
// minus.
func splitFigures(text string) (f figures, ok bool) {
	for _, minus := range []string{"-", "\u2212"} {
		if rest, found := strings.CutPrefix(text, minus); found {
			f.negative, text = true, strings.TrimSpace(rest)
		}
	}
	text = strings.TrimPrefix(text, "+")
	end := 0
	for end < len(text) {
		c := text[end]
		digit := c >= '0' && c <= '9'
		mark := (c == '.' || c == ',') && end+1 < len(text) && text[end+1] >= '0' && text[end+1] <= '9'
		// "1 500": a space before exactly three figures groups thousands
		group := c == ' ' && end > 0 && end <= 3 && groupOfThree(text[end+1:])
		if !digit && !mark && !group {
			break
		}
		end++
	}
	f.digits, f.unit = strings.ReplaceAll(text[:end], " ", ""), strings.TrimSpace(text[end:])
	return f, f.digits != ""
}

// groupOfThree reports whether a text begins with three figures and no more.
func groupOfThree(text string) bool {
	n := 0
	for n < len(text) && text[n] >= '0' && text[n] <= '9' {
		n++
	}
	return n == 3
}

// marksSeen is what the cells of a column tell of its decimal mark.
type marksSeen struct {
	decimal  map[byte]bool // marks that were decimal without doubt
	thousand map[byte]bool // marks that grouped thousands without doubt
}

// reading of one number: the decimal mark in it, 0 for none, and whether that is
// in doubt.
func decimalMark(digits string, separator byte) (mark byte, doubtful bool) {
	comma, point := strings.Count(digits, ","), strings.Count(digits, ".")
	switch {
	case comma+point == 0, comma > 1 && point == 0, point > 1 && comma == 0:
		return 0, false
	case comma > 0 && point > 0:
		// the last one is decimal, the other groups
		return digits[strings.LastIndexAny(digits, ".,")], false
	}
	at := strings.IndexAny(digits, ".,")
	mark = digits[at]
	whole, after := digits[:at], digits[at+1:]
	// five thousandths or five thousand: only three figures behind a mark can be both
	both := len(after) == 3 && len(whole) > 0 && len(whole) <= 3 && whole[0] != '0'
	unusual := mark == ',' && separator != ';' || mark == '.' && separator == ';'
	return mark, both && unusual
}

// plain returns the number with the mark taken as decimal, all other marks dropped.
func plain(digits string, mark byte) float64 {
	var b strings.Builder
	for i := range len(digits) {
		switch c := digits[i]; {
		case c == mark && mark != 0:
			b.WriteByte('.')
		case c != ',' && c != '.':
			b.WriteByte(c)
		}
	}
	v, err := strconv.ParseFloat(b.String(), 64)
	if err != nil {
		return 0
	}
	return v
}

// number reads the number of a cell, and what follows it. A cell that is no number
// is a fault.
func (r *reader) number(w row, c *column) (v float64, unit string, ok bool) {
	text, ok := r.value(w, c)
	if !ok {
		return 0, "", false
	}
	f, ok := splitFigures(text)
	if !ok {
		r.fault(w.line, c, shorten(text), "it is not a number", "write a number such as 6.5, or leave the cell empty")
		return 0, "", false
	}
	v, ok = r.figured(w, c, f)
	return v, f.unit, ok
}

// bare is number for columns whose numbers have no unit.
func (r *reader) bare(w row, c *column) (v float64, ok bool) {
	v, unit, ok := r.number(w, c)
	if ok && unit != "" {
		text, _ := r.value(w, c)
		r.fault(w.line, c, shorten(text), "it is not a plain number", "write the number alone")
		return 0, false
	}
	return v, ok
}

// figured returns the value of figures. A mark that may be decimal or may group
// thousands is settled by the other cells of the column, else asked about.
func (r *reader) figured(w row, c *column, f figures) (float64, bool) {
	mark, doubtful := decimalMark(f.digits, r.separator)
	// 1,046 is a gravity in one reading only
	if doubtful && c.role != roleOG && c.role != roleFG && c.role != roleSG {
		decimal, known := r.settleMark(w, c, f, mark)
		if !known {
			return 0, false
		}
		if !decimal {
			mark = 0
		}
	}
	v := plain(f.digits, mark)
	if f.negative {
		v = -v
	}
	return v, true
}

// settleMark decides whether a mark before three figures is decimal.
func (r *reader) settleMark(w row, c *column, f figures, mark byte) (decimal, known bool) {
	seen := r.marksOf(c)
	other := byte(',')
	if mark == ',' {
		other = '.'
	}
	yes := seen.decimal[mark]
	no := seen.thousand[mark] || seen.decimal[other]
	if yes != no {
		return yes, true
	}
	q := Ask{About: "decimal_mark", Key: "comma of " + c.title, Line: w.line, Value: f.digits,
		Options: []string{fmt.Sprintf("decimal: %g", plain(f.digits, mark)),
			fmt.Sprintf("thousands: %g", plain(f.digits, 0))},
		Text: fmt.Sprintf("%q can be %g or %g", f.digits, plain(f.digits, mark), plain(f.digits, 0))}
	if mark == '.' {
		q.Key = "point of " + c.title
	}
	answer, given := r.ask(q, c, false)
	return answer == "decimal", given
}

// marksOf looks through a column for numbers that leave no doubt.
func (r *reader) marksOf(c *column) marksSeen {
	if seen, ok := r.marks[c.index]; ok {
		return seen
	}
	seen := marksSeen{decimal: map[byte]bool{}, thousand: map[byte]bool{}}
	for _, w := range r.rows {
		f, ok := splitFigures(strings.TrimPrefix(strings.TrimSpace(w.cell(c.index)), "'"))
		if !ok {
			continue
		}
		mark, doubtful := decimalMark(f.digits, r.separator)
		if doubtful {
			continue
		}
		for _, m := range []byte{',', '.'} {
			if strings.IndexByte(f.digits, m) < 0 {
				continue
			}
			if m == mark {
				seen.decimal[m] = true
			} else {
				seen.thousand[m] = true
			}
		}
	}
	r.marks[c.index] = seen
	return seen
}
