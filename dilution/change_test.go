package dilution

import (
	"math"
	"testing"
)

// water and change of TestExampleOne, computed independently, with what the
// change is counted from.
func dilutedSince(own, common float64) Account {
	a := exampleOne(own, common)
	a.Since = []int{-1, 0}
	return a
}

// The change of example 1 is -0.24 +-0.02 % vol beside 5.0 +-0.3 and 4.7 +-0.3: by
// hand the strength falls by 0.2363, u of it is the root of the squares of 4.76 %
// of 0.103 (gravities), of 0.10 (model) and of 0.045 (yield), and of 0.0033
// (volumes), so that 1.96 u is 0.0155.
func TestChangeOfStrength(t *testing.T) {
	a := dilutedSince(0.001, 0)
	drawn := must(a.MonteCarlo(Draws{N: 200_000, Seed: 3}))(t)[1]
	fast := must(a.Propagate())(t)[1]
	for name, r := range map[string]StepResult{"drawn": drawn, "first order": fast} {
		c := r.Changes[QABV]
		closeTo(t, name, c.Value, -0.2363, 0.0001)
		closeTo(t, name+" half-width", (c.High-c.Low)/2, 0.0155, 0.0004)
		if whole := r.Estimates[QABV]; (whole.High-whole.Low)/2 < 0.28 {
			t.Errorf("%s: strength %+v", name, whole)
		}
		volume := r.Changes[QVolumeL]
		closeTo(t, name+" volume", volume.Value, 0.6002, 0.0001)
		closeTo(t, name+" volume half-width", (volume.High-volume.Low)/2, 0.95*0.006, 0.0001)
	}
}

// Draws and first order give the same change of every quantity.
func TestChangesAgree(t *testing.T) {
	a := dilutedSince(0.0005, 0.0005)
	drawn := must(a.MonteCarlo(Draws{N: 200_000, Seed: 4}))(t)[1].Changes
	fast := must(a.Propagate())(t)[1].Changes
	for q := range NumQuantities {
		d, f := drawn[q], fast[q]
		if d.OK != f.OK {
			t.Errorf("%v: known %v and %v", q, d.OK, f.OK)
		}
		closeTo(t, "value", f.Value, d.Value, 1e-12)
		closeTo(t, "low", f.Low, d.Low, 0.02*(d.High-d.Low)+1e-12)
		closeTo(t, "high", f.High, d.High, 0.02*(d.High-d.Low)+1e-12)
	}
}

// What nothing was done to did not change, with no doubt; where no change is asked
// for, none is given; asking for one moves no other figure.
func TestChangeOfNothing(t *testing.T) {
	a := dilutedSince(0.001, 0)
	a.Steps = append(a.Steps, LoseVolume{VolumeL: Within("sample", 0.2, 0.01)})
	a.Since = []int{-1, -1, 1}
	results := must(a.MonteCarlo(Draws{N: 1000, Seed: 5}))(t)
	if c := results[2].Changes[QABV]; !c.OK || math.Abs(c.Value) > 1e-12 || c.U > 1e-12 {
		t.Errorf("a loss changed the strength by %+v", c)
	}
	if results[1].Changes[QABV].OK || results[0].Changes[QABV].OK {
		t.Error("a change that nobody asked for")
	}
	a.Since = nil
	plain := must(a.MonteCarlo(Draws{N: 1000, Seed: 5}))(t)
	for i := range plain {
		if plain[i].Estimates != results[i].Estimates {
			t.Errorf("snapshot %d moved", i)
		}
	}
}
