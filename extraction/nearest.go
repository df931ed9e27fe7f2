package extraction

import (
	"slices"
	"strings"
)

// unknownWord refuses a word that is not in the list, names the allowed ones
// and, if there is one, the word that was probably meant.
func unknownWord(kind, word string, allowed []string) error {
	hint := "use one of " + strings.Join(allowed, ", ")
	if near := nearest(word, allowed); near != "" {
		hint = "did you mean " + near + "? allowed: " + strings.Join(allowed, ", ")
	}
	return refuse(hint, "unknown %s %q", kind, word)
}

// nearest returns the allowed word within two edits (Levenshtein distance) of
// word, else the first that begins with it, else "".
func nearest(word string, allowed []string) string {
	best, bestEdits := "", 3
	for _, a := range allowed {
		if d := edits(word, a); d < bestEdits && d < len(a) {
			best, bestEdits = a, d
		}
	}
	if best != "" || len(word) < 3 {
		return best
	}
	i := slices.IndexFunc(allowed, func(a string) bool { return strings.HasPrefix(a, word) })
	if i < 0 {
		return ""
	}
	return allowed[i]
}

// edits returns the least number of letters to insert, delete or replace to
// turn a into b.
func edits(a, b string) int {
	from, to := []rune(a), []rune(b)
	row := make([]int, len(to)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range from {
		diagonal := row[0]
		row[0] = i + 1
		for j, y := range to {
			change := diagonal
			if x != y {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j+1]+1, row[j]+1)
		}
	}
	return row[len(to)]
}

// plain makes words comparable: it lower-cases a word and turns hyphens, underscores and runs of blanks
// into single blanks, so that "flame-out" and "Flame out" are one word.
func plain(word string) string {
	word = strings.ToLower(strings.NewReplacer("-", " ", "_", " ").Replace(word))
	return strings.Join(strings.Fields(word), " ")
}
