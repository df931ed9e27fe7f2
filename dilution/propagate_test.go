package dilution

import (
	"fmt"
	"math"
	"testing"
)

// A rectangle alone has its share by hand: 0.95 of 2. The sums of four
// rectangular errors are the examples of JCGM 101:2008, clauses 9.2.3 and 9.2.4
// (tables 3 and 4, quoted from memory): standard uncertainties 1, 1, 1, 1 give
// +-3.88, and 1, 1, 1, 10 give +-17.0. Two equal rectangles make a triangle: by
// hand 2 a (1 - root of 0.05) with a = root of 3.
func TestHalfWidths(t *testing.T) {
	for _, c := range []struct {
		u               []float64
		want, tolerance float64
	}{
		{nil, 0, 0},
		{[]float64{2 / math.Sqrt(3)}, 1.9, 1e-12},
		{[]float64{-2 / math.Sqrt(3)}, 1.9, 1e-12},
		{[]float64{1, 1, 1, 1}, 3.88, 0.03},
		{[]float64{1, 1, 1, 10}, 17.0, 0.05},
		{[]float64{1, 1}, 2 * math.Sqrt(3) * (1 - math.Sqrt(0.05)), 0.03},
	} {
		b := budget{OK: true}
		for i, u := range c.u {
			b.Parts = append(b.Parts, contribution{Name: fmt.Sprint(i), U: u})
		}
		closeTo(t, fmt.Sprint(c.u), b.half(), c.want, c.tolerance)
	}
	model := budget{OK: true, Parts: []contribution{{Name: modelError, U: ModelABVPct}}}
	closeTo(t, "a normal error alone", model.half(), 1.96*ModelABVPct, 1e-5)
}

// Both ways of propagation give the same intervals of an account whose limits
// are narrow, and the same best values.
func TestPropagateAgreesWithDraws(t *testing.T) {
	a := exampleOne(0.0005, 0.0005)
	a.Tracers = []Tracer{{Name: "tea", AfterStep: 1, Amount: Within("tea", 25, 1)}}
	fast := must(a.Propagate())(t)
	drawn := must(a.MonteCarlo(Draws{N: 200_000, Seed: 4}))(t)
	for i := range drawn {
		for q := range NumQuantities {
			f, d := fast[i].Estimates[q], drawn[i].Estimates[q]
			if f.OK != d.OK || f.Value != d.Value {
				t.Errorf("step %d, %v: %+v, drawn %+v", i, q, f, d)
			}
			closeTo(t, fmt.Sprint("low of ", q), f.Low, d.Low, 0.02*(d.High-d.Low)+1e-12)
			closeTo(t, fmt.Sprint("high of ", q), f.High, d.High, 0.02*(d.High-d.Low)+1e-12)
		}
	}
	f, d := fast[1].DosesGPerL[0], drawn[1].DosesGPerL[0]
	closeTo(t, "dose", f.Value, d.Value, 1e-12)
	closeTo(t, "its low", f.Low, d.Low, 0.02*(d.High-d.Low))
}

// Best values are those of the account with intervals, to the last digit.
func TestBestValues(t *testing.T) {
	a := exampleOne(0.0005, 0.0005)
	a.Tracers = []Tracer{{Name: "tea", AfterStep: 1, Amount: Within("tea", 25, 1)}}
	bare, full := must(a.BestValues())(t), must(a.Propagate())(t)
	for i := range full {
		for q := range NumQuantities {
			b, f := bare[i].Estimates[q], full[i].Estimates[q]
			if b.Value != f.Value || b.OK != f.OK || b.HasBounds {
				t.Errorf("step %d, %v: %+v, with its interval %+v", i, q, b, f)
			}
		}
		if b, f := bare[i].DosesGPerL[0], full[i].DosesGPerL[0]; b.Value != f.Value || b.OK != f.OK {
			t.Errorf("step %d: dose %+v, with its interval %+v", i, b, f)
		}
	}
}
