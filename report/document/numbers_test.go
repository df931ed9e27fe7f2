package document

import (
	"strings"
	"testing"
)

// What is left of a sum that should have come to nothing is nothing: 1 - 0.9 - 0.1
// in doubles is some 1e-17. The rest by hand.
func TestSignificant(t *testing.T) {
	for _, c := range []struct {
		v    float64
		n    int
		want string
	}{
		{0.00000000000000009714, 4, "0"}, {-1e-15, 4, "0"}, {0, 4, "0"}, {0.000012345, 2, "0.000012"}, {1234.5, 2, "1234"},
	} {
		if got := Significant(c.v, c.n); got != c.want {
			t.Errorf("Significant(%g, %d) = %q, want %q", c.v, c.n, got, c.want)
		}
	}
}

// A chance is cut off at both ends alike: neither none nor certain unless it is.
func TestWhole(t *testing.T) {
	for share, want := range map[float64]string{
		0: "0 %", 0.004: "less than 1 %", 0.01: "1 %", 0.5: "50 %", 0.99: "99 %", 0.996: "more than 99 %", 1: "100 %",
	} {
		if got := Whole(share); got != want {
			t.Errorf("Whole(%g) = %q, want %q", share, got, want)
		}
	}
}

// TestAlike: as few decimals as show every number, by hand.
func TestAlike(t *testing.T) {
	for _, c := range []struct {
		list []float64
		most int
		want string
	}{
		{[]float64{0.2, 0.05, 1, 1.25}, 2, "0.20 0.05 1.00 1.25"},
		{[]float64{14, 28}, 2, "14 28"},
		{[]float64{0.1 + 0.2, 7}, 2, "0.3 7.0"},
		{nil, 2, ""},
	} {
		if got := strings.Join(Alike(c.list, c.most), " "); got != c.want {
			t.Errorf("Alike(%v, %d) = %q, want %q", c.list, c.most, got, c.want)
		}
	}
}
