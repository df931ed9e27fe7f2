package steeps

import (
	"testing"

	"hedgerow/extraction"
	"hedgerow/trials"
)

// A plant in the fermenter lies in beer of the strength that its gravities tell: the
// last read by then, else the one expected. Strengths of 1.045 to 1.010 and 1.125 to
// 1.010 are 4.6 and near 15.5 % vol by the rule of thumb (OG - FG) x 131 to 135
// (common practice, no source); the ceiling of tannin rises from 10 to 20 % vol by a
// fifth.
func TestPlantLiesInBeerOfItsStrength(t *testing.T) {
	ceiling := func(og float64, fg *float64, read float64) float64 {
		n := &trials.Notebook{Now: day(9), Batches: []trials.Batch{{Record: trials.Record{ID: "b", Name: "b"}, OG: &og,
			FG: fg, StartedAt: day(0), VolumeL: 10}}}
		if read > 0 {
			n.Readings = []trials.Reading{{Record: trials.Record{ID: "r"}, BatchID: "b", At: day(2), SG: &read},
				{Record: trials.Record{ID: "later"}, BatchID: "b", At: day(30), SG: ptr(1.001)}}
		}
		a := trials.Addition{Record: trials.Record{ID: "a", Name: "b.a1"}, BatchID: "b", At: day(3), Form: "cut",
			MaterialKey: "heather", Method: trials.MethodContact, MassG: ptr(40.0), Stage: trials.StageSecondary}
		y, err := NewSteeper(n.Index(), shipped(t), Full).ofDirect(a, day(8))
		if err != nil {
			t.Fatal(err)
		}
		return y.Result.Ceiling[extraction.Tannin]
	}
	near(t, "weak, expected", ceiling(1.045, ptr(1.010), 0), 0.60, 1e-9)
	near(t, "unknown", ceiling(1.125, nil, 0), 0.60, 1e-9)
	near(t, "strong, expected", ceiling(1.125, ptr(1.010), 0), 0.60*1.11, 0.02)
	near(t, "strong, read", ceiling(1.125, nil, 1.010), 0.60*1.11, 0.02)
	near(t, "still sweet when read", ceiling(1.125, ptr(1.010), 1.080), 0.60, 1e-9)
}

// A material of the user's own holds liquid as the kind that was typed for it does.
func TestKindOfOwnMaterial(t *testing.T) {
	for category, want := range map[string]extraction.Kind{"root": extraction.Root, "leaf herb": extraction.LeafFlower,
		"seed spice": extraction.SeedCrushed, "bark-wood": extraction.Bark, "": extraction.UnknownKind} {
		if got := kindOf(trials.Material{Key: "moor-mix", Category: category, Own: true}, extraction.Cut,
			false); got != want {
			t.Errorf("own material of kind %q is %v, want %v", category, got, want)
		}
	}
}
