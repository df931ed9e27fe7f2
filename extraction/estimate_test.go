package extraction

import (
	"math"
	"slices"
	"testing"

	"hedgerow/trials/figure"

	"pgregory.net/rapid"
)

// Quantiles of type 7 by hand: of 1 to 5, the 10 % one is at index 0.4.
func TestQuantile(t *testing.T) {
	values := []float64{1, 2, 3, 4, 5}
	for q, want := range map[float64]float64{0: 1, 0.10: 1.4, 0.5: 3, 0.975: 4.9, 1: 5} {
		if got := quantile(values, q); !near(got, want, 1e-12) {
			t.Errorf("quantile %v is %v, want %v", q, got, want)
		}
	}
}

// Quantiles of arranged values are those of sorted ones, ties and all.
func TestArrangeAgainstSort(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Map(rapid.IntRange(0, 40), func(i int) float64 { return float64(i) / 8 }), 2,
			300).Draw(t, "values")
		sorted := slices.Clone(values)
		slices.Sort(sorted)
		quantiles := []float64{0.025, 0.10, 0.90, 0.975}
		arrange(values, quantiles...)
		for _, q := range quantiles {
			if got, want := quantile(values, q), quantile(sorted, q); got != want {
				t.Fatalf("quantile %v is %v, want %v", q, got, want)
			}
		}
	})
}

// By hand: ln of 1, e and e^2 has mean 1 and sd 1.
func TestSDLn(t *testing.T) {
	if got := sdLn([]float64{1, math.E, math.E * math.E}); !near(got, 1, 1e-12) {
		t.Errorf("sd of ln %v, want 1", got)
	}
	if got := sdLn([]float64{1, 0, 2}); got != 0 {
		t.Errorf("sd of ln with a zero %v, want 0", got)
	}
}

// The limits hold the point, and their ratio is known above zero only.
func TestIntervalHoldsItsValue(t *testing.T) {
	e := NewBand(9, []float64{1, 2, 3, 4, 5}).At80
	if e.High != 9 || e.Low > e.High || e.Level != 0.8 {
		t.Errorf("%+v, want an interval up to 9", e)
	}
	if _, ok := (figure.Estimate{Value: 1, High: 2}).Factor(); ok {
		t.Error("an interval from zero has a factor")
	}
}

// Known distribution: all that varies in a complete, measured-free contact is the
// ceiling, ln u normal with sd 0.18 about ln 0.85 and capped at 1. The 10 % limit
// is 0.85 exp(-1.28155 * 0.18) = 0.67488 by hand, the 90 % one the cap; scatter
// of a 10 % quantile of 40 000 draws is 0.001.
func TestDrawsFollowTheirDistribution(t *testing.T) {
	s := Steep{Method: FlameOut, Form: Powder, MassG: 20, Moisture: new(0.10),
		Passes: []Pass{{Minutes: 9 * 1440, StartC: new(60.0), Agitation: Stirred}}}
	d, err := s.Doubt(Mix{IntoL: 20}, Draws{N: 40000, Seed: 11})
	if err != nil {
		t.Fatal(err)
	}
	if e := d.Dose[Water].At80; !near(e.Low, 0.67488, 0.003) || !near(e.High, 1, 1e-9) || !near(e.Value, 0.85, 1e-9) {
		t.Errorf("%+v, want 0.85 (0.675 to 1)", e)
	}
	if d.N != 40000 || d.Seed != 11 {
		t.Errorf("n %d, seed %d", d.N, d.Seed)
	}
}

func TestDoubtRefuses(t *testing.T) {
	s := leaf36(stirred(450, Drained))
	for _, c := range []struct {
		mix   Mix
		draws Draws
	}{{Mix{}, Draws{}}, {Mix{IntoL: 17}, Draws{N: -1}}, {Mix{IntoL: 17, AddedML: new(900.0)}, Draws{}},
		{Mix{IntoL: 17, TopUpML: -1}, Draws{}}} {
		if _, err := s.Doubt(c.mix, c.draws); err == nil {
			t.Errorf("%+v is accepted", c)
		}
	}
	s.MassG = 0
	if _, err := s.Doubt(Mix{IntoL: 17}, Draws{}); err == nil {
		t.Error("no mass is accepted")
	}
}
