package quantity

import (
	"slices"
	"strings"
)

// Nearest returns up to three of the candidates that a person who typed word
// may have meant, nearest first: those at a Levenshtein distance of at most a
// third of the letters (at least one, at most two), letters compared without
// regard to case. A word of one or two letters has no near miss, since nearly
// every short word is near it, nor has a candidate that equals word. The bounds
// are a judgement.
func Nearest(word string, candidates []string) []string {
	type hit struct {
		name  string
		edits int
	}
	var hits []hit
	lower := strings.ToLower(word)
	allowed := min(2, max(1, len([]rune(lower))/3))
	for _, c := range candidates {
		d := edits(lower, strings.ToLower(c))
		if d > 0 && d <= allowed && len([]rune(lower)) > 2 {
			hits = append(hits, hit{c, d})
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return a.edits - b.edits })
	var names []string
	for _, h := range hits[:min(3, len(hits))] {
		names = append(names, h.name)
	}
	return names
}

// edits returns the Levenshtein distance of a and b: the least number of
// letters inserted, deleted or replaced that turns one into the other. row holds
// one row of the usual table of prefixes, corner the entry up and to the left.
func edits(a, b string) int {
	ra, rb := []rune(a), []rune(b)
	row := make([]int, len(rb)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range ra {
		corner := row[0]
		row[0] = i + 1
		for j, y := range rb {
			cost := corner
			if x != y {
				cost++
			}
			corner = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(rb)]
}
