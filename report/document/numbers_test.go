package document

import "testing"

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
