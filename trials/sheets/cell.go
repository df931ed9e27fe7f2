package sheets

import (
	"slices"
	"strings"
)

// empties are the ways of writing nothing into a cell.
var empties = []string{"", "-", "\u2013", "\u2014", "n/a", "na", "?"}

// isEmpty reports whether a cell stands for nothing.
func isEmpty(text string) bool {
	return len(text) <= 4 && slices.Contains(empties, strings.ToLower(text))
}

// notAvailable is what a spreadsheet shows for a value that it was told is missing.
const notAvailable = "#N/A"

// lostValues are what a spreadsheet shows where a formula broke.
var lostValues = []string{"#REF!", "#VALUE!", "#DIV/0!", "#NAME?", "#NULL!", "#NUM!"}

// clean drops signs that could steer a terminal, and reports whether there were
// any. A no-break space is a space.
func clean(text string) (cleaned string, changed bool) {
	if !strings.ContainsFunc(text, func(r rune) bool { return steers(r) || r == '\u00a0' || r == '\u202f' }) {
		return text, false
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\u00a0' || r == '\u202f':
			return ' '
		case steers(r):
			changed = true
			return -1
		}
		return r
	}, text), changed
}

// cleaned is a cell without steering signs and space round it; what was taken away
// is said.
func (r *reader) cleaned(w row, c *column) string {
	text, changed := clean(w.cell(c.index))
	if changed {
		r.remark("signs_removed", w.line, c, "control or direction signs are taken out of %s", c.title)
	}
	return strings.TrimSpace(text)
}

// value returns a cell of a column of numbers, dates or names; false for an empty
// one, and for a formula or a lost value, which is a fault.
func (r *reader) value(w row, c *column) (string, bool) {
	if c == nil {
		return "", false
	}
	text := r.cleaned(w, c)
	// by hand, for a cell that holds a formula would be worked out otherwise
	text = strings.TrimSpace(strings.TrimPrefix(text, "'"))
	switch {
	case isEmpty(text):
		return "", false
	case strings.EqualFold(text, notAvailable):
		r.remark("not_available", w.line, c, "%s is read as empty", notAvailable)
		return "", false
	case slices.Contains(lostValues, strings.ToUpper(text)):
		r.fault(w.line, c, text, "the spreadsheet lost this value", "type the value, or empty the cell")
		return "", false
	case strings.HasPrefix(text, "="):
		r.fault(w.line, c, shorten(text), "it is a formula, not its result",
			"save the sheet as CSV with values, or type the value")
		return "", false
	}
	return text, true
}

// note returns a cell of running text. An apostrophe before what a spreadsheet would
// take for a formula goes; any other is a letter.
func (r *reader) note(w row, c *column) string {
	if c == nil {
		return ""
	}
	text := r.cleaned(w, c)
	if len(text) > 1 && text[0] == '\'' && strings.ContainsRune("=+-@", rune(text[1])) {
		text = text[1:]
	}
	if strings.EqualFold(text, notAvailable) {
		r.remark("not_available", w.line, c, "%s is read as empty", notAvailable)
		return ""
	}
	if isEmpty(text) {
		return ""
	}
	return text
}

// word returns a cell of names or plain words on one line.
func (r *reader) word(w row, c *column) string {
	text, _ := r.value(w, c)
	return strings.Join(strings.Fields(text), " ")
}
