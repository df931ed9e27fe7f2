package document

import (
	"fmt"
	"testing"
)

// Shares shown together add to 100; by hand: 12.3, 75.2 and 12.5 leave one over,
// which the largest remainder gets.
func TestShares(t *testing.T) {
	for _, c := range []struct {
		shares []float64
		want   string
	}{
		{[]float64{0.123, 0.752, 0.125}, "[12 75 13]"},
		{[]float64{1.0 / 3, 1.0 / 3, 1.0 / 3}, "[34 33 33]"},
		{[]float64{0, 0.004, 0.996}, "[0 0 100]"},
		{[]float64{0.006, 0.006, 0.988}, "[1 0 99]"},
		{[]float64{1}, "[100]"},
	} {
		if got := fmt.Sprint(Shares(c.shares...)); got != c.want {
			t.Errorf("%v: %s, want %s", c.shares, got, c.want)
		}
	}
}

// A chance is never certain, and never none.
func TestChanceIsClippedAtBothEnds(t *testing.T) {
	for p, want := range map[float64]string{0: "less than 1 %", 0.0099: "less than 1 %", 0.01: "1 %", 0.99: "99 %",
		0.9901: "more than 99 %", 1: "more than 99 %"} {
		if got := Chance(p); got != want {
			t.Errorf("%g: %q, want %q", p, got, want)
		}
	}
}
