package trials

import (
	"testing"
	"time"
)

// An error that compares two moments must not name them alike, nor in a zone that
// nobody typed.
func TestApart(t *testing.T) {
	at := func(day, hour int) time.Time { return time.Date(2026, 3, day, hour, 0, 0, 0, time.Local) }
	for _, c := range []struct {
		a, b         time.Time
		textA, textB string
	}{
		{at(1, 9), at(4, 9), "2026-03-01", "2026-03-04"},
		{at(1, 9).UTC(), at(1, 18), "2026-03-01 09:00", "2026-03-01 18:00"},
	} {
		if a, b := Apart(c.a, c.b); a != c.textA || b != c.textB {
			t.Errorf("%q and %q, want %q and %q", a, b, c.textA, c.textB)
		}
	}
}
