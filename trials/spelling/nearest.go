package spelling

import (
	"slices"
	"strings"
)

// most is how many words are offered: a question with more is a list.
const most = 3

// shortestPart is how many letters a part of a word needs to say which one is
// meant: one or two stand in nearly all.
const shortestPart = 3

// Misspelt returns up to three of the candidates of which word is a near miss,
// the nearest first: those as few Slips away as one may make, without regard to
// case. A candidate that equals word is none.
func Misspelt(word string, candidates []string) []string {
	return ranked(word, candidates, Slips)
}

// Nearest returns up to three of the candidates that a person who typed word may
// have meant: the near misses of Misspelt, then those that begin with word, then
// those that contain it, in each case without regard to case.
func Nearest(word string, candidates []string) []string {
	return ranked(word, candidates, func(lower, c string) (int, bool) {
		if d, ok := Slips(lower, c); ok {
			return d, true
		}
		switch long := len([]rune(lower)) >= shortestPart; {
		case long && strings.HasPrefix(c, lower):
			return most, true
		case long && strings.Contains(c, lower):
			return most + 1, true
		}
		return 0, false
	})
}

// DidYouMean puts the nearest of the candidates as a question, or returns "" if
// none is near.
func DidYouMean(word string, candidates []string) string {
	return Question(Nearest(word, candidates))
}

// Hint says what to write in place of a word that is none of the allowed ones:
// the nearest as a question, else all of them while the list is short.
func Hint(word string, allowed []string) string {
	if asked := DidYouMean(word, allowed); asked != "" {
		return asked
	}
	if len(allowed) > longestList {
		return "list them to see what there is"
	}
	return "choose one of " + strings.Join(allowed, ", ")
}

// longestList is how many words a hint names: more is no hint.
const longestList = 12

// Question asks whether one of some words was meant; of none it is "".
func Question(near []string) string {
	if len(near) == 0 {
		return ""
	}
	return "did you mean " + strings.Join(near, " or ") + "?"
}

// ranked returns the candidates that have a rank, the lowest first, those of one
// rank in their order.
func ranked(word string, candidates []string, rank func(lower, candidate string) (int, bool)) []string {
	type hit struct {
		name string
		rank int
	}
	var hits []hit
	lower := strings.ToLower(word)
	for _, c := range candidates {
		if r, ok := rank(lower, strings.ToLower(c)); ok && c != word {
			hits = append(hits, hit{c, r})
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return a.rank - b.rank })
	var names []string
	for _, h := range hits[:min(most, len(hits))] {
		names = append(names, h.name)
	}
	return names
}
