package extraction

import (
	"strings"

	"hedgerow/trials/spelling"
)

// unknownWord refuses a word that is not in the list, names the allowed ones
// and, if there is one, the word that was probably meant.
func unknownWord(kind, word string, allowed []string) error {
	hint := "use one of " + strings.Join(allowed, ", ")
	if asked := spelling.DidYouMean(word, allowed); asked != "" {
		hint = asked + " allowed: " + strings.Join(allowed, ", ")
	}
	return refuse(hint, "unknown %s %q", kind, word)
}

// plain makes words comparable: it lower-cases a word and turns hyphens, underscores and runs of blanks
// into single blanks, so that "flame-out" and "Flame out" are one word.
func plain(word string) string {
	word = strings.ToLower(strings.NewReplacer("-", " ", "_", " ").Replace(word))
	return strings.Join(strings.Fields(word), " ")
}
