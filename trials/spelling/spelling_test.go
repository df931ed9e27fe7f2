package spelling

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The pairs without a swap are the usual textbook ones, from memory (kitten and
// sitting 3, Saturday and Sunday 3, flaw and lawn 2); the rest is by hand.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0},
		{"", "abc", 3},
		{"abc", "", 3},
		{"abc", "abc", 0},
		{"kitten", "sitting", 3},
		{"saturday", "sunday", 3},
		{"flaw", "lawn", 2},
		{"sl\u00f6e", "sloe", 1},
		{"suagr", "sugar", 1},
		{"haether", "heather", 1},
		{"ca", "abc", 3}, // swapped letters are not touched again
	} {
		if got := Distance(c.a, c.b); got != c.want {
			t.Errorf("Distance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

// slow is the definition, by recursion over what the last letters did.
func slow(a, b []rune) int {
	m, n := len(a), len(b)
	if m == 0 || n == 0 {
		return m + n
	}
	same := 1
	if a[m-1] == b[n-1] {
		same = 0
	}
	d := min(slow(a[:m-1], b[:n-1])+same, slow(a[:m-1], b)+1, slow(a, b[:n-1])+1)
	if m > 1 && n > 1 && a[m-1] == b[n-2] && a[m-2] == b[n-1] {
		d = min(d, slow(a[:m-2], b[:n-2])+1)
	}
	return d
}

// The table of prefixes gives what the definition gives; the distance is
// symmetric and 0 for equal words only.
func TestDistanceIsThatOfTheDefinition(t *testing.T) {
	word := rapid.StringOfN(rapid.RuneFrom([]rune("abc\u00fc")), 0, 6, -1)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		d := Distance(a, b)
		if d != slow([]rune(a), []rune(b)) || d != Distance(b, a) || (d == 0) != (a == b) {
			t.Errorf("Distance(%q, %q) = %d, by definition %d, back %d", a, b, d, slow([]rune(a), []rune(b)), Distance(b, a))
		}
	})
}

// Just inside and just outside what words of each length may hold.
func TestSlips(t *testing.T) {
	for _, c := range []struct {
		typed, meant string
		near         bool
	}{
		{"", "", true},
		{"kg", "mg", false},
		{"\u00fc\u00fc", "\u00fcb", false}, // two letters, four bytes
		{"te", "tea", true},
		{"jug", "jar", false},
		{"sumac", "sugar", false},
		{"sugra", "sugar", true},
		{"spurt", "spirit", true},
		{"hethr", "heather", true},
		{"hethr", "heathers", false},
		{"elderflwor", "elderflower", true},
		{"eldrflwor", "elderflower", false},
	} {
		if d, near := Slips(c.typed, c.meant); near != c.near {
			t.Errorf("%q and %q: %d slips, near %t", c.typed, c.meant, d, near)
		}
	}
}

func TestNearest(t *testing.T) {
	words := []string{"drained", "squeezed", "pressed", "still", "stirred", "bag", "sugar"}
	for _, c := range []struct {
		word              string
		misspelt, nearest []string
	}{
		{"draned", []string{"drained"}, []string{"drained"}},
		{"Sqeezed", []string{"squeezed"}, []string{"squeezed"}},
		{"stil", []string{"still"}, []string{"still"}},
		{"bagg", []string{"bag"}, []string{"bag"}},
		{"strred", []string{"stirred"}, []string{"stirred"}},
		{"Drained", []string{"drained"}, []string{"drained"}},
		{"drained", nil, nil},
		{"sumac", nil, nil},
		{"ba", []string{"bag"}, []string{"bag"}},
		{"b", nil, nil},
		{"", nil, nil},
		{"elderflower", nil, nil},
		{"squee", nil, []string{"squeezed"}},
		{"rained", []string{"drained"}, []string{"drained"}},
		{"ress", nil, []string{"pressed"}},
		{"st", nil, nil},
	} {
		if got := Misspelt(c.word, words); !slices.Equal(got, c.misspelt) {
			t.Errorf("Misspelt(%q) = %q, want %q", c.word, got, c.misspelt)
		}
		if got := Nearest(c.word, words); !slices.Equal(got, c.nearest) {
			t.Errorf("Nearest(%q) = %q, want %q", c.word, got, c.nearest)
		}
	}
}

// Near misses come first, then beginnings, then parts; of many three are offered.
func TestNearestFirst(t *testing.T) {
	got := Nearest("heath", []string{"club-heath", "heather-1", "heat", "heather-2"})
	if want := []string{"heat", "heather-1", "heather-2"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := DidYouMean("heath", []string{"club-heath", "heat"}); got != "did you mean heat or club-heath?" {
		t.Errorf("asked %q", got)
	}
	if got := DidYouMean("quassia", []string{"heat"}); got != "" {
		t.Errorf("asked %q", got)
	}
}
