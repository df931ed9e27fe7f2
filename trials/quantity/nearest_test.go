package quantity

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The distances are the textbook ones, from memory: kitten to sitting is 3,
// flaw to lawn 2.
func TestEdits(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3},
		{"flaw", "lawn", 2},
		{"", "abc", 3},
		{"abc", "", 3},
		{"abc", "abc", 0},
		{"ül", "ol", 1},
	} {
		if got := edits(c.a, c.b); got != c.want {
			t.Errorf("edits(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestNearest(t *testing.T) {
	words := []string{"drained", "squeezed", "pressed", "still", "stirred", "bag"}
	for _, c := range []struct {
		word string
		want []string
	}{
		{"draned", []string{"drained"}},
		{"Sqeezed", []string{"squeezed"}},
		{"stil", []string{"still"}},
		{"bagg", []string{"bag"}},
		{"strred", []string{"stirred"}},
		{"drained", nil},
		{"ba", nil},
		{"", nil},
		{"elderflower", nil},
	} {
		if got := Nearest(c.word, words); !slices.Equal(got, c.want) {
			t.Errorf("Nearest(%q) = %q, want %q", c.word, got, c.want)
		}
	}
	if got := Nearest("aaaaaa", []string{"aaaaab", "aaaaac", "aaaaad", "aaaaae"}); len(got) != 3 {
		t.Errorf("got %d of four near words, want 3", len(got))
	}
}

// TestEditsIsDistance checks the properties of a distance.
func TestEditsIsDistance(t *testing.T) {
	word := rapid.StringOfN(rapid.RuneFrom([]rune("abcü")), 0, 8, -1)
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := word.Draw(t, "a"), word.Draw(t, "b"), word.Draw(t, "c")
		ab := edits(a, b)
		if ab != edits(b, a) || (ab == 0) != (a == b) || ab > edits(a, c)+edits(c, b) {
			t.Errorf("edits is no distance for %q, %q, %q", a, b, c)
		}
	})
}

// TestNearMissOfUnits changes one letter of every long unit name and expects the
// name among the suggestions.
func TestNearMissOfUnits(t *testing.T) {
	for _, name := range unitNames() {
		if len(name) < 6 || strings.Contains(name, " ") || strings.HasSuffix(name, "s") {
			continue
		}
		wrong := name[:len(name)-2] + "z" + name[len(name)-1:]
		_, err := ParseVolume("1 "+wrong, Options{})
		wantError(t, wrong, err, name)
	}
}
