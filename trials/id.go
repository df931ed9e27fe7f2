package trials

import (
	"crypto/rand"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// NewID returns a random identifier of 26 letters and digits (at least 128
// bits), so that the records of two notebooks can be merged.
func NewID() string { return strings.ToLower(rand.Text()) }

// Record is what every record carries: a stable random id, a short name unique
// in its kind, and when it was first and last written (UTC).
type Record struct {
	ID        string    `json:"id"`         // stable and random, so that notebooks can be merged
	Name      string    `json:"name"`       // unique among records of its kind
	CreatedAt time.Time `json:"created_at"` // when it was written first, UTC
	ChangedAt time.Time `json:"changed_at"` // when it was last written, UTC
}

// CheckName refuses a name that could not be typed unquoted in a shell. What
// is the kind of record, for the message.
func CheckName(what, name string) error {
	if nameFits(name) {
		return nil
	}
	return Refuse("use letters, digits, - and _, at most 40, such as heather-3",
		"%s name %q cannot be used", what, name)
}

// longestName is how many letters a name may have.
const longestName = 40

// nameFits reports whether a name begins with a letter or digit and holds only
// letters, digits, - and _. A dot would clash with the ".a1" of an addition. It
// is no regular expression, since compiling one with Unicode classes would cost
// every command a millisecond at the start.
func nameFits(name string) bool {
	if n := utf8.RuneCountInString(name); n == 0 || n > longestName {
		return false
	}
	for i, r := range name {
		letter := unicode.IsLetter(r) || unicode.IsNumber(r)
		if !letter && (i == 0 || r != '-' && r != '_') {
			return false
		}
	}
	return true
}
