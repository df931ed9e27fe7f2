package trials

import (
	"slices"
	"strings"
)

// Nearest returns up to three of the candidates that word was probably meant
// to be: those within two edits (Levenshtein distance), nearest first, then
// those that begin with word or contain it.
func Nearest(word string, candidates []string) []string {
	type hit struct {
		name  string
		score int
	}
	var hits []hit
	w := strings.ToLower(word)
	for _, c := range candidates {
		l := strings.ToLower(c)
		switch d := edits(w, l); {
		case d <= 2 && d < len(l):
			hits = append(hits, hit{c, d})
		case len(w) >= 3 && strings.HasPrefix(l, w):
			hits = append(hits, hit{c, 3})
		case len(w) >= 3 && strings.Contains(l, w):
			hits = append(hits, hit{c, 4})
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return a.score - b.score })
	var names []string
	for _, h := range hits[:min(3, len(hits))] {
		names = append(names, h.name)
	}
	return names
}

// edits returns the Levenshtein distance of a and b: the least number of
// letters to insert, delete or replace to turn one into the other.
func edits(a, b string) int {
	ra, rb := []rune(a), []rune(b)
	row := make([]int, len(rb)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range ra {
		diagonal := row[0]
		row[0] = i + 1
		for j, y := range rb {
			cost := diagonal
			if x != y {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j+1]+1, row[j]+1)
		}
	}
	return row[len(rb)]
}
