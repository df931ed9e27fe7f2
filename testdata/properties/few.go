// Package properties checks properties, for tests alone.
package properties

import (
	"flag"
	"testing"

	"pgregory.net/rapid"
)

// few is how often a dear property is drawn; others are drawn a hundred times.
const few = "30"

// CheckFew is rapid.Check of a property of which each draw takes a while: it is drawn
// fewer times, or as often as -rapid.checks says. No other test of the package may run at
// the same time.
func CheckFew(t *testing.T, property func(*rapid.T)) {
	t.Helper()
	checks := flag.Lookup("rapid.checks")
	if usual := checks.Value.String(); usual == checks.DefValue {
		checks.Value.Set(few)
		defer checks.Value.Set(usual)
	}
	rapid.Check(t, property)
}
