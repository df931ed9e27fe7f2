package document

import (
	"slices"
	"strings"
)

// units are what stands behind a number on its line.
var units = []string{"%", "g", "kg", "mg", "g/L", "mL", "L", "C", "F", "min", "h", "days"}

// stays reports whether a word stays on the line of the one before it: a unit on that of its
// number, "vol" on that of its per cent, whatever stands around them.
func stays(before, word string) bool {
	if before == "%" || strings.HasSuffix(before, " %") {
		return strings.HasPrefix(word, "vol")
	}
	number := before != "" && before[len(before)-1] >= '0' && before[len(before)-1] <= '9'
	return number && slices.Contains(units, strings.TrimRight(word, ".,;:)"))
}

// unbroken splits a paragraph at its blanks, but for those between a number and its unit.
func unbroken(paragraph string) []string {
	var list []string
	for _, word := range strings.Fields(paragraph) {
		if last := len(list) - 1; last >= 0 && stays(list[last], word) {
			list[last] += " " + word
			continue
		}
		list = append(list, word)
	}
	return list
}

// bound puts a blank at which no line breaks between numbers and their units.
func bound(text string) string {
	words := strings.Split(text, " ")
	var b strings.Builder
	for i, w := range words {
		switch {
		case i == 0:
		case stays(words[i-1], w):
			b.WriteString("\u00a0")
		default:
			b.WriteByte(' ')
		}
		b.WriteString(w)
	}
	return b.String()
}
