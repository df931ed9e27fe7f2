package panel

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Two published properties of the exact limits [11]: at the lower limit the
// chance of as many or more is half of what the level leaves, at the upper
// limit the chance of as few or fewer is.
func TestShareLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "n")
		k := rapid.IntRange(0, n).Draw(t, "k")
		level := rapid.Float64Range(0.5, 0.99).Draw(t, "level")
		s, err := exactShare(k, n, level)
		if err != nil {
			t.Fatal(err)
		}
		tail := (1 - level) / 2
		if k > 0 && math.Abs(binomialTail(k, n, s.Low)-tail) > 1e-7 {
			t.Fatalf("%d of %d: chance at the lower limit %v, want %v", k, n, binomialTail(k, n, s.Low), tail)
		}
		if k < n && math.Abs(1-binomialTail(k+1, n, s.High)-tail) > 1e-7 {
			t.Fatalf("%d of %d: chance at the upper limit %v, want %v", k, n, 1-binomialTail(k+1, n, s.High), tail)
		}
		if s.Low > s.Value || s.Value > s.High {
			t.Fatalf("%+v", s)
		}
	})
}

func TestShareEnds(t *testing.T) {
	none, err := exactShare(0, 5, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	// By hand: upper limit 1 - 0.025^(1/5).
	near(t, "high of 0 of 5", none.High, 1-math.Pow(0.025, 0.2), 1e-9)
	if none.Low != 0 {
		t.Errorf("low of 0 of 5 = %v", none.Low)
	}
	all, _ := exactShare(5, 5, 0.95)
	near(t, "low of 5 of 5", all.Low, math.Pow(0.025, 0.2), 1e-9)
}

func TestShareRefuses(t *testing.T) {
	for _, c := range []struct {
		k, n  int
		level float64
	}{{1, 0, 0.95}, {-1, 5, 0.95}, {6, 5, 0.95}, {1, 5, 95}} {
		if s, err := exactShare(c.k, c.n, c.level); err == nil {
			t.Errorf("%+v gives %+v, want an error", c, s)
		}
	}
}
