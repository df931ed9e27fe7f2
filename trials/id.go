package trials

import (
	"crypto/rand"
	"slices"
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

// CheckName refuses a name that cannot be told from other words of a command. What
// is the kind of record, for the message.
func CheckName(what, name string) error {
	switch {
	case !nameFits(name):
		return Refuse("use letters, digits, spaces, ' - and _, at most 40, such as heather-3",
			"%s name %q cannot be used", what, name)
	case readsAsMoment(name):
		return Refuse("choose another, such as heather-3", "%s name %q reads as a date or day", what, name)
	case readsAsAmount(name):
		return Refuse("choose another, such as heather-3", "%s name %q reads as an amount", what, name)
	}
	return nil
}

// readsAsMoment reports whether a name would be taken for a day.
func readsAsMoment(name string) bool {
	words := strings.Fields(strings.ToLower(name))
	switch words[0] {
	case "now", "today", "yesterday", "tomorrow":
		return len(words) == 1
	case "day":
		return len(words) == 2 && strings.Trim(words[1], "0123456789") == ""
	}
	return len(name) == len("2026-03-05") && strings.Count(name, "-") == 2 && strings.Trim(name, "0123456789-") == ""
}

// readsAsAmount reports whether a name is a number with a unit.
func readsAsAmount(name string) bool {
	unit := strings.TrimSpace(strings.TrimLeft(strings.ToLower(name), "0123456789"))
	return unit != strings.ToLower(name) && slices.Contains([]string{"l", "ml", "cl", "hl", "g", "kg", "mg", "oz", "lb",
		"gal", "qt", "min", "h", "d"}, unit)
}

// longestName is how many letters a name may have.
const longestName = 40

// nameFits reports whether a name begins and ends with a letter or digit and holds
// only these, - and _, and single spaces and apostrophes between them. A dot would clash with the
// ".a1" of an addition. It
// is no regular expression, since compiling one with Unicode classes would cost
// every command a millisecond at the start.
func nameFits(name string) bool {
	if n := utf8.RuneCountInString(name); n == 0 || n > longestName {
		return false
	}
	for i, r := range name {
		letter := unicode.IsLetter(r) || unicode.IsNumber(r)
		if !letter && (i == 0 || !strings.ContainsRune("-_ '", r)) {
			return false
		}
	}
	// two names must not differ in spaces that nobody sees
	return !strings.HasSuffix(name, " ") && !strings.Contains(name, "  ")
}
