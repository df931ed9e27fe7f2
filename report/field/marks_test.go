package field

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Phi from Abramowitz & Stegun, table 26.1: Phi(1) = 0.841344746,
// Phi(2) = 0.977249868; far down, math.Erfc holds to x = -37. The series leaves out
// 15/x^6 and smaller terms, 2e-7 at -21.
func TestLnNormal(t *testing.T) {
	tests := []struct{ x, want float64 }{
		{0, math.Log(0.5)},
		{1, math.Log(0.841344746)},
		{-1, math.Log(1 - 0.841344746)},
		{-2, math.Log(1 - 0.977249868)},
		{-21, math.Log(0.5 * math.Erfc(21/math.Sqrt2))},
		{-35, math.Log(0.5 * math.Erfc(35/math.Sqrt2))},
	}
	for _, tt := range tests {
		got, hazard := lnNormal(tt.x)
		if math.Abs(got-tt.want) > 1e-6 {
			t.Errorf("ln Phi(%g) = %.9f, want %.9f", tt.x, got, tt.want)
		}
		const h = 1e-5
		up, _ := lnNormal(tt.x + h)
		down, _ := lnNormal(tt.x - h)
		if slope := (up - down) / (2 * h); math.Abs(hazard-slope) > 1e-4 {
			t.Errorf("hazard(%g) = %g, difference %g", tt.x, hazard, slope)
		}
	}
}

// Inside the scale: -((6-5)/2)^2/2 - ln 2. At 0 with 0.5 expected the chance
// to go below is a half.
func TestLnMarkByHand(t *testing.T) {
	lp, d1, w2 := lnMark(6, 5, 2)
	if math.Abs(lp-(-0.125-math.Ln2)) > 1e-12 || math.Abs(d1-0.25) > 1e-12 || math.Abs(w2-0.25) > 1e-12 {
		t.Errorf("lnMark(6, 5, 2) = %g, %g, %g", lp, d1, w2)
	}
	for _, end := range [][2]float64{{0, 0.5}, {10, 9.5}} {
		if lp, _, _ := lnMark(end[0], end[1], 1); math.Abs(lp-math.Log(0.5)) > 1e-12 {
			t.Errorf("lnMark(%g, %g, 1) = %g, want ln 1/2", end[0], end[1], lp)
		}
	}
}

func TestMarkDerivatives(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := rapid.SampledFrom([]float64{0, 0.5, 4, 9, 10}).Draw(t, "y")
		m := rapid.Float64Range(-5, 15).Draw(t, "m")
		sy := rapid.Float64Range(0.8, 2).Draw(t, "sy")
		ln := func(m float64) float64 { l, _, _ := lnMark(y, m, sy); return l }
		const h = 1e-3
		_, d1, w2 := lnMark(y, m, sy)
		slope := (ln(m+h) - ln(m-h)) / (2 * h)
		bend := -(ln(m+h) - 2*ln(m) + ln(m-h)) / (h * h)
		if math.Abs(d1-slope) > 1e-3 || math.Abs(w2-max(bend, minCurvature)) > 1e-3 {
			t.Fatalf("y %g m %g: d1 %g, difference %g; w2 %g, difference %g", y, m, d1, slope, w2, bend)
		}
	})
}
