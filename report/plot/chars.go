package plot

import (
	"math"
	"slices"
	"sort"
	"strings"
	"unicode/utf8"
)

// gutter is the room for labels left of a picture in characters, its bar included.
const gutter = 6

// apartColumns is the room for what has no place across, with the gap after it.
const apartColumns = 6

// Chars draws the panels and lanes in ASCII characters, columns wide without the labels
// at the left; nil for a picture without panels, or whose characters no Legend tells,
// whose numbers are as easily read in a table.
func (p Plot) Chars(columns int) []string {
	if len(p.Panel) == 0 || p.Legend == "" || columns < 20 {
		return nil
	}
	c := chars{Plot: p, columns: columns}
	if p.None != "" {
		c.from = apartColumns
	}
	for i := range p.Panel {
		c.panel(&p.Panel[i])
	}
	c.axis()
	for _, l := range p.Lanes {
		c.lane(l)
	}
	if p.Legend != "" {
		c.lines = append(c.lines, p.Legend)
	}
	for i := range c.lines {
		c.lines[i] = strings.TrimRight(c.lines[i], " ")
	}
	return c.lines
}

// chars is a picture in characters in the making.
type chars struct {
	Plot
	columns int // of the picture
	from    int // the first column of the axis
	lines   []string
}

// column returns the column of a place across.
func (c *chars) column(x float64) int {
	return c.from + int(math.Round(c.X.place(x)*float64(c.columns-1-c.from)))
}

// value returns what stands at a column, the middle of its range.
func (c *chars) value(column int) float64 {
	f := float64(column-c.from) / float64(c.columns-1-c.from)
	if c.X.Log {
		return c.X.Low * math.Pow(c.X.High/c.X.Low, f)
	}
	return c.X.Low + f*(c.X.High-c.X.Low)
}

// rowsOf is how many rows a panel has: one for each tenth where it stands alone.
func (c *chars) rowsOf() int {
	if len(c.Panel) == 1 {
		return 11
	}
	return 4
}

// panel draws one panel.
func (c *chars) panel(p *Panel) {
	rows := c.rowsOf()
	grid := make([][]byte, rows)
	for i := range grid {
		grid[i] = []byte(strings.Repeat(" ", c.columns))
	}
	row := func(y float64) int { return rows - 1 - int(math.Round(p.Y.place(y)*float64(rows-1))) }
	for _, b := range p.Bands {
		c.eachColumn(b.X, b.Char, func(col int, x float64) {
			for r := row(along(b.X, b.High, x)); r <= row(along(b.X, b.Low, x)); r++ {
				grid[r][col] = b.Char
			}
		})
	}
	for _, l := range p.Lines {
		c.eachColumn(l.X, l.Char, func(col int, x float64) { grid[row(along(l.X, l.Y, x))][col] = l.Char })
	}
	c.putPoints(p, grid, row)
	if len(c.Panel) > 1 {
		c.lines = append(c.lines, strings.TrimSpace(p.Label+"  "+p.End+" "+p.Limit))
	}
	marked := map[int]string{}
	for _, t := range p.Y.ticks(float64(rows), func(string) float64 { return 2 }) {
		marked[row(t.at)] = t.label
	}
	for r, cells := range grid {
		c.lines = append(c.lines, right(marked[r], gutter-2)+" |"+string(cells))
	}
}

// eachColumn calls f for each column within the range of a curve that has a character.
func (c *chars) eachColumn(xs []float64, char byte, f func(col int, x float64)) {
	if char == 0 || len(xs) == 0 {
		return
	}
	for col := c.from; col < c.columns; col++ {
		if x := c.value(col); x >= xs[0]*(1-tiny) && x <= xs[len(xs)-1]*(1+tiny) {
			f(col, x)
		}
	}
}

// along returns the value of a curve at x, straight between its points.
func along(xs, ys []float64, x float64) float64 {
	k := sort.SearchFloat64s(xs, x)
	switch {
	case k == 0:
		return ys[0]
	case k == len(xs):
		return ys[k-1]
	case xs[k] == xs[k-1]:
		return ys[k]
	}
	return ys[k-1] + (ys[k]-ys[k-1])*(x-xs[k-1])/(xs[k]-xs[k-1])
}

// putPoints draws the points. In a panel that stands alone those that share a place are
// their number; of unlike ones a capital goes before a small letter.
func (c *chars) putPoints(p *Panel, grid [][]byte, row func(float64) int) {
	here := map[[2]int][]byte{}
	for _, q := range p.Points {
		if q.Char == 0 {
			continue
		}
		at := [2]int{row(q.Y), c.column(q.X)}
		if q.Apart {
			at[1] = 1
		}
		here[at] = append(here[at], q.Char)
	}
	for at, list := range here {
		mark := slices.Min(list)
		if n := len(list); n > 1 && n < 10 && len(c.Panel) == 1 {
			mark = byte('0' + n)
		}
		grid[at[0]][at[1]] = mark
	}
}

// axis draws the axis across with its labels.
func (c *chars) axis() {
	rule := []byte(strings.Repeat("-", c.columns))
	labels := []byte(strings.Repeat(" ", gutter+c.columns+8))
	if c.from > 0 {
		copy(rule[4:c.from], "  ")
		copy(labels[gutter-1:], c.None)
	}
	for _, t := range c.X.ticks(float64(c.columns-c.from), func(l string) float64 { return float64(len(l) + 2) }) {
		if t.label == "" {
			continue
		}
		at := c.column(t.at)
		rule[at] = '+'
		copy(labels[gutter+at-len(t.label)/2:], t.label)
	}
	c.lines = append(c.lines, strings.Repeat(" ", gutter-1)+"+"+string(rule), string(labels))
	if c.Under != "" {
		c.lines = append(c.lines, right(c.Under, gutter+c.columns))
	}
}

// lane draws a lane.
func (c *chars) lane(l Lane) {
	cells := []byte(strings.Repeat(" ", c.columns))
	for _, s := range l.Strips {
		low, high := c.column(s.Low), c.column(s.High)
		for col := low; col <= high; col++ {
			if cells[col] = '='; s.At != nil {
				cells[col] = '-'
			}
		}
		if s.At != nil {
			cells[low], cells[high] = '[', ']'
			cells[c.column(*s.At)] = 'X'
		}
	}
	c.lines = append(c.lines, l.Label+strings.Repeat(" ", max(0, gutter-utf8.RuneCountInString(l.Label)))+string(cells))
}

// right sets a text to the right of a width.
func right(s string, width int) string {
	return strings.Repeat(" ", max(0, width-utf8.RuneCountInString(s))) + s
}
