package ledger

import (
	"math"
	"testing"

	"hedgerow/dilution"
	"hedgerow/trials"
)

// explained is the explanation of a ledger, which must work.
func explained(t testing.TB, n *trials.Notebook, b trials.Batch) (Ledger, Explanation) {
	t.Helper()
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	e, err := l.Explain()
	if err != nil {
		t.Fatal(err)
	}
	return l, e
}

// input picks an input by its name.
func (e Explanation) input(t testing.TB, name string) InputShare {
	t.Helper()
	for _, in := range e.Inputs {
		if in.Name == name {
			return in
		}
	}
	t.Fatalf("there is no input %q among %+v", name, e.Inputs)
	return InputShare{}
}

// Example 1 of the reference page as a ledger: the original gravity adds 0.073 %
// vol to the doubt of the strength, the final one 0.072, the volume 0.003 and the
// water 0.001.
func TestLedgerNamesWhatToMeasureBetter(t *testing.T) {
	n, b := batchOf(
		trials.Reading{Record: trials.Record{ID: "r", Name: "heather-1.r1"}, At: day(10), SG: ptr(1.010), VolumeL: ptr(12.0)},
		trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(11), Stage: trials.StageSecondary,
			LiquidKind: "water", VolumeL: ptr(0.6)})
	_, e := explained(t, n, b)
	for _, c := range []struct {
		name   string
		u      float64
		origin origin
	}{
		{"original gravity", 0.073, origin{fromReading, limitSetting}},
		{"gravity heather-1.r1", 0.072, origin{fromReading, limitSetting}},
		{"volume heather-1.r1", 0.003, origin{fromReading, limitSetting}},
		{"volume of water (heather-1.a1)", 0.001, origin{fromYou, limitDefault}},
	} {
		in := e.input(t, c.name)
		near(t, c.name, math.Abs(in.ABVContribution), c.u, 6e-4)
		if in.Origin != c.origin {
			t.Errorf("%s comes from %+v, want %+v", c.name, in.Origin, c.origin)
		}
	}
	if e.LargestABV != "original gravity" || e.LargestVolume != "volume heather-1.r1" {
		t.Errorf("measure %q and %q better", e.LargestABV, e.LargestVolume)
	}
	// The model's 0.10 % vol is the largest part of all, but nobody can measure it
	// better.
	if top := e.ABVShares[0]; math.Abs(top.U) != dilution.ModelABVPct {
		t.Errorf("the largest part is %+v", top)
	}
}

// One hydrometer: its zero error is a source of its own, and where it is all of
// the limit it is what the real extract depends on, but hardly the strength.
func TestCommonErrorIsNamed(t *testing.T) {
	n, b := calibratedBatch()
	tryInstruments(n)
	_, e := explained(t, n, b)
	in := e.input(t, "zero error of float-1")
	near(t, "limit of the zero", in.HalfWidth, 0.0005, 1e-12)
	if math.Abs(in.ABVContribution) > 0.005 {
		t.Errorf("the zero error adds %g to the strength", in.ABVContribution)
	}
	for _, name := range []string{"water share of raspberry (heather-1.a2)", "sugar share of raspberry (heather-1.a2)"} {
		if got := e.input(t, name).Origin.Value; got != fromCatalogue {
			t.Errorf("%s comes from %q", name, got)
		}
	}
	if got := e.input(t, "solids of heather-tea (heather-1.a1)").Origin.Value; got != fromSteep {
		t.Errorf("solids of the tea come from %q", got)
	}
}

// Every named input has an origin, is there once, and the contributions add up
// to u of the strength in squares.
func TestExplanationIsComplete(t *testing.T) {
	n, b := calibratedBatch()
	l, e := explained(t, n, b)
	seen, sum := map[string]bool{}, 0.0
	for _, in := range e.Inputs {
		if in.Origin.Value == "" || seen[in.Name] {
			t.Errorf("%q comes from %q, seen before: %v", in.Name, in.Origin.Value, seen[in.Name])
		}
		if in.HalfWidth > 0 && in.Origin.Limit == "" {
			t.Errorf("the limit of %q comes from nowhere", in.Name)
		}
		seen[in.Name] = true
		sum += in.ABVContribution * in.ABVContribution
	}
	// First order against draws: within 3 %.
	near(t, "u of the strength", math.Sqrt(sum), l.Last().State().ABVInputsPct.U, 0.03*l.Last().State().ABVInputsPct.U)
}
