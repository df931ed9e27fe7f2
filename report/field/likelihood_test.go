package field

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// chance returns the probability, with lapses, of the given vote at z.
func (w Window) chance(vote int, z float64) float64 { return w.ChanceAt(vote, w.Expo(z)) }

// Hand calculation with kappa c = ln 3, so A = 3: at z = 0 too little and too
// much are 1/(1+3) each; at kappa z = ln 3 they are 1/(1+9) and 3/(3+3).
func TestWindowByHand(t *testing.T) {
	w := NewWindow(&Node{Kappa: 2, C: math.Log(3) / 2}, 1)
	tests := []struct{ z, little, right, much float64 }{
		{0, 0.25, 0.5, 0.25},
		{math.Log(3) / 2, 0.1, 0.4, 0.5},
		{-math.Log(3) / 2, 0.5, 0.4, 0.1},
	}
	for _, tt := range tests {
		little, right, much := w.Chances(tt.z)
		for _, c := range [][2]float64{{little, tt.little}, {right, tt.right}, {much, tt.much},
			{w.RightAt(w.Expo(tt.z)), tt.right}} {
			if math.Abs(c[0]-c[1]) > 1e-12 {
				t.Errorf("z = %g: %g, want %g", tt.z, c[0], c[1])
			}
		}
		for vote, p := range map[int]float64{-1: tt.little, 0: tt.right, 1: tt.much} {
			if got, want := w.chance(vote, tt.z), 0.97*p+0.01; math.Abs(got-want) > 1e-12 {
				t.Errorf("z = %g vote %d: %g, want %g", tt.z, vote, got, want)
			}
		}
	}
}

// The formulas of doc.go are written with logistic functions; here they are in
// one exponential.
func TestWindowIsLogistic(t *testing.T) {
	logistic := func(x float64) float64 { return 1 / (1 + math.Exp(-x)) }
	rapid.Check(t, func(t *rapid.T) {
		n := Node{Kappa: rapid.Float64Range(0.5, 10).Draw(t, "kappa"), C: rapid.Float64Range(0.05, 1.5).Draw(t, "c")}
		z := rapid.Float64Range(-4, 4).Draw(t, "z")
		little, right, much := NewWindow(&n, 1).Chances(z)
		wantLittle, wantMuch := logistic(n.Kappa*(-n.C-z)), logistic(n.Kappa*(z-n.C))
		if math.Abs(little-wantLittle) > 1e-12 || math.Abs(much-wantMuch) > 1e-12 ||
			math.Abs(right-(1-wantLittle-wantMuch)) > 1e-12 {
			t.Fatalf("chances %g %g %g, want %g and %g at the sides", little, right, much, wantLittle, wantMuch)
		}
	})
}

// The votes of a beer far off are lapses: 0.01 for the wrong ones, and never
// NaN however far.
func TestWindowFarOff(t *testing.T) {
	w := NewWindow(&Node{Kappa: 6.1, C: 0.8}, 10)
	for _, z := range []float64{-1e6, -50, 50, 1e6} {
		sum := 0.0
		for vote := -1; vote <= 1; vote++ {
			p, d1, w2 := w.derivatives(vote, w.Expo(z))
			if math.IsNaN(p+d1+w2) || p < 0.01-1e-12 || w2 < minCurvature {
				t.Errorf("z = %g vote %d: p %g, d1 %g, w2 %g", z, vote, p, d1, w2)
			}
			sum += w.chance(vote, z)
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Errorf("z = %g: chances sum to %g", z, sum)
		}
	}
}

// Derivatives against differences of ln p.
func TestVoteDerivatives(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := Node{Kappa: rapid.Float64Range(1, 7).Draw(t, "kappa"), C: rapid.Float64Range(0.2, 1).Draw(t, "c")}
		z := rapid.Float64Range(-2, 2).Draw(t, "z")
		vote := rapid.IntRange(-1, 1).Draw(t, "vote")
		w := NewWindow(&n, 1)
		ln := func(z float64) float64 { return math.Log(w.chance(vote, z)) }
		const h = 1e-4
		_, d1, w2 := w.derivatives(vote, w.Expo(z))
		slope := (ln(z+h) - ln(z-h)) / (2 * h)
		bend := -(ln(z+h) - 2*ln(z) + ln(z-h)) / (h * h)
		if math.Abs(d1-slope) > 1e-5 || math.Abs(w2-max(bend, minCurvature)) > 1e-4*(1+math.Abs(bend)) {
			t.Fatalf("d1 %g, difference %g; w2 %g, difference %g", d1, slope, w2, bend)
		}
	})
}
