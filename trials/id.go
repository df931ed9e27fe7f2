package trials

import (
	"crypto/rand"
	"regexp"
	"strings"
	"time"
)

// NewID returns a random identifier of 26 letters and digits (at least 128
// bits), so that the records of two notebooks can be merged.
func NewID() string { return strings.ToLower(rand.Text()) }

// Record is what every record carries: a stable random id, a short name unique
// in its kind, and when it was first and last written (UTC).
type Record struct {
	ID        string    `json:"id"`
	Name      string    `json:"name"`
	CreatedAt time.Time `json:"created_at"`
	ChangedAt time.Time `json:"changed_at"`
}

// nameForm is what a name that the user chooses may look like: it must survive
// a shell unquoted and must not clash with the ".a1" of an addition's name.
var nameForm = regexp.MustCompile(`^[\p{L}\p{N}][\p{L}\p{N}_-]{0,39}$`)

// CheckName refuses a name that could not be typed unquoted in a shell. What
// is the kind of record, for the message.
func CheckName(what, name string) error {
	if nameForm.MatchString(name) {
		return nil
	}
	return invalid("use letters, digits, - and _, at most 40, such as heather-3",
		"%s name %q cannot be used", what, name)
}
