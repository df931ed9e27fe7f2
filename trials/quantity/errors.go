package quantity

import (
	"cmp"
	"fmt"
	"strings"

	"hedgerow/trials/spelling"
)

// Error says why a text is not taken as an amount and what to write instead.
type Error struct {
	Value   string // the text as typed
	Problem string // what is wrong with it, lower case, no full stop
	Hint    string // what to type or to measure instead; never empty
}

// Error returns one line: the text in quotes and the problem. The hint is
// printed on a line of its own by whoever reports the error.
func (e *Error) Error() string { return fmt.Sprintf("%q: %s", shorten(e.Value), e.Problem) }

// shorten cuts a text that is too long to be repeated in a message.
func shorten(text string) string {
	const most = 60
	// by letters, for a cut between bytes leaves half of one
	runes := []rune(strings.TrimSpace(text))
	if len(runes) <= most {
		return string(runes)
	}
	return string(runes[:most]) + "..."
}

// fail returns an *Error about the text of r.
func (r *reader) fail(hint, format string, args ...any) error {
	return &Error{Value: r.text, Problem: fmt.Sprintf(format, args...), Hint: hint}
}

// unexpected returns the error for the token at which r stands; expect says what
// would have been understood there.
func (r *reader) unexpected(expect string) error {
	t := r.peek()
	if t.kind == endToken {
		return r.fail(expect, "it ends too early")
	}
	return r.fail(expect, "%q is not understood here", t.text)
}

// unknownWord returns the error for a word that is none of the allowed ones.
func (r *reader) unknownWord(word string, allowed []string, expect string) error {
	return r.fail(didYouMean(word, allowed, expect), "unknown word %q", word)
}

// didYouMean returns a hint that names the nearest of the allowed words, or
// otherwise when none is near. Near misses alone: the beginning of a unit ("per"
// of "percent") is more often a sentence cut short than that unit.
func didYouMean(word string, allowed []string, otherwise string) string {
	return cmp.Or(spelling.Question(spelling.Misspelt(word, allowed)), otherwise)
}
