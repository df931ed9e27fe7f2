package sheets

import (
	"slices"
	"strings"
)

// column is one column with its meaning.
type column struct {
	index     int
	title     string // as it stands in the header, cleaned
	role      role
	attribute string // what a mark or a vote is of; empty where the title does not say
	unit      string // of the header, as written; empty for none
	scale     *scale // of the header; nil for none
	upper     string // what stands above it in the first of two header rows
}

// readTitle takes a title apart: its role, its unit or scale, and the attribute of
// a vote.
func readTitle(index int, text string) column {
	c := column{index: index, title: tidyTitle(text)}
	name := c.title
	for {
		before, inside, after, ok := bracketed(name)
		if !ok {
			break
		}
		c.bracket(inside)
		name = before + " " + after
	}
	name = strings.ReplaceAll(name, "_", " ")
	if c.role = roleOf(name); c.role == roleUnknown {
		name = c.trailingUnit(name)
		c.role = roleOf(name)
	}
	if c.role == roleUnknown {
		c.voteOf(name)
	}
	if c.unit == "" {
		c.unit = ownUnit(name)
	}
	if c.scale == nil && sortedWords(name) == "stars" {
		c.scale = &scale{high: 5, low: 1, words: "stars"}
	}
	// "Pine (0-10)" is scored as pine
	if c.role == roleUnknown {
		c.attribute = strings.ToLower(strings.Join(strings.Fields(name), " "))
	}
	return c
}

// roleOf returns the role of a title.
func roleOf(name string) role { return vocabulary()[sortedWords(name)] }

// tidyTitle is a title on one line without signs that steer.
func tidyTitle(text string) string {
	text, _ = clean(text)
	return strings.TrimPrefix(strings.Join(strings.Fields(text), " "), "'")
}

// bracketed returns what stands in the first pair of brackets, and round it.
func bracketed(text string) (before, inside, after string, ok bool) {
	from := strings.IndexAny(text, "([")
	if from < 0 {
		return text, "", "", false
	}
	to := strings.IndexAny(text[from:], ")]")
	if to < 0 {
		return text[:from], text[from+1:], "", true
	}
	return text[:from], text[from+1 : from+to], text[from+to+1:], true
}

// bracket reads what stands in brackets: a unit or a scale; else nothing.
func (c *column) bracket(text string) {
	if unitDimension(text) != dimNone {
		c.unit = strings.TrimSpace(strings.ReplaceAll(text, "\u00b0", ""))
		return
	}
	if s := scaleOf(text); s != nil {
		c.scale = s
	}
}

// trailingUnit takes a unit from the end of a title, such as "Weight g" or
// "low g per l", and returns the rest.
func (c *column) trailingUnit(name string) string {
	words := strings.Fields(strings.ReplaceAll(name, ",", " "))
	for n := min(3, len(words)-1); n > 0; n-- {
		tail, rest := strings.Join(words[len(words)-n:], " "), strings.Join(words[:len(words)-n], " ")
		// only where the rest can have it: the C of "Taster C" is no Celsius
		if d := unitDimension(tail); d != dimNone && slices.Contains(measures[roleOf(rest)], d) {
			c.unit = strings.ReplaceAll(tail, "\u00b0", "")
			return rest
		}
		// "Liking 1-9"
		if s := scaleOf(tail); s != nil {
			c.scale = s
			return strings.Join(words[:len(words)-n], " ")
		}
	}
	return name
}

// ownUnit is the unit that a title is itself, such as Days or Grams.
func ownUnit(name string) string {
	switch w := sortedWords(name); w {
	case "days", "minutes", "hours", "weeks", "grams", "ounces", "litres", "liters", "gallons", "plato":
		return w
	}
	return ""
}

// voteOf reads a title such as "Smell vote" or "too much pine".
func (c *column) voteOf(name string) {
	words := wordsOf(name)
	for _, v := range []struct {
		phrase string
		role   role
	}{{"too little", roleTooLittle}, {"not enough", roleTooLittle}, {"too much", roleTooMuch}, {"vote", roleVote},
		{"just right", roleVote}} {
		parts := strings.Fields(v.phrase)
		at := indexOf(words, parts)
		if at < 0 || len(words) == len(parts) {
			continue
		}
		c.role = v.role
		c.attribute = strings.Join(slices.Delete(slices.Clone(words), at, at+len(parts)), " ")
		return
	}
}

// indexOf returns where part stands in list, -1 if it does not.
func indexOf(list, part []string) int {
	for i := 0; i+len(part) <= len(list); i++ {
		if slices.Equal(list[i:i+len(part)], part) {
			return i
		}
	}
	return -1
}

// layout is a text taken apart at one separator, with the row of its header.
type layout struct {
	separator byte
	rows      []row
	header    int // index into rows
	known     int // how many titles of the header are known
	unclosed  int // line of a quote that never closes
}

// headerDepth is how many rows are searched for the header: titles above a table
// take a few (common practice, no source).
const headerDepth = 20

// findLayout picks the separator and the header: the row with most titles that are
// known, the first of several.
func findLayout(text string) layout {
	given, rest := sepLine(text)
	candidates := separators
	if given != 0 {
		candidates = string(given)
	}
	var best layout
	for i := range len(candidates) {
		rows, unclosed := grid(rest, candidates[i])
		if l := searchHeader(rows, headerDepth); l.known > best.known || best.rows == nil {
			l.separator, l.unclosed = candidates[i], unclosed
			best = l
		}
	}
	return best
}

// searchHeader finds the header among the first rows.
func searchHeader(rows []row, depth int) layout {
	best := layout{rows: rows, header: -1}
	for i, r := range rows[:min(depth, len(rows))] {
		known, cells := 0, 0
		for j, cell := range r.cells {
			if strings.TrimSpace(cell) == "" {
				continue
			}
			cells++
			if c := readTitle(j, cell); c.role != roleUnknown {
				known++
			}
		}
		// a title that stands alone is the name of the sheet
		if cells >= 2 && known > best.known {
			best.known, best.header = known, i
		}
	}
	return best
}
