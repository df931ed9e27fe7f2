package ledger

import (
	"testing"

	"hedgerow/trials"
)

// plantIn is a finished beer of so many litres at 1.048 and 1.010 with one plant put
// straight in on day 10.
func plantIn(litres float64, a trials.Addition, more ...any) (*trials.Notebook, trials.Batch) {
	a.Record, a.At, a.Method = trials.Record{ID: "a", Name: "heather-1.a1"}, day(10), trials.MethodContact
	a.Stage = trials.StageSecondary
	events := append([]any{func(b *trials.Batch) { b.VolumeL = litres },
		trials.Reading{Record: trials.Record{ID: "r", Name: "heather-1.r1"}, At: day(9), SG: ptr(1.010)}, a}, more...)
	return batchOf(events...)
}

// at is the step of a kind.
func at(t *testing.T, l Ledger, kind eventKind) ledgerStep {
	t.Helper()
	for _, s := range l.Steps {
		if s.Kind == kind {
			return s
		}
	}
	t.Fatalf("no step of kind %s", kind)
	return ledgerStep{}
}

// Worked by hand, volumes taken to add (they do within 0.06 %). 55 g of dried
// heather with 10 % water in 18 L: 5.5 g of water and 0.33 x 49.5 g of solids at
// 0.6 mL/g come in (15.3 mL), 4.0 x 49.5 mL stay in the spent plant when a bag is
// lifted out (0.198 L), and neither strength nor dose changes when it comes out.
func TestPlantGoesInAndComesOut(t *testing.T) {
	n, b := plantIn(18, trials.Addition{MaterialKey: "heather", Form: "cut", MassG: ptr(55.0), MoisturePct: ptr(10.0),
		InBag: true,
		OutAt: ptr(day(24)), OutBy: trials.SeparationDrained})
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	in, out := at(t, l, EventAddition), at(t, l, EventRemoval)
	before := at(t, l, EventReading).State().VolumeL.Value
	near(t, "while it is in", in.State().VolumeL.Value-before, 0.0153, 5e-4)
	near(t, "liquid that came in", in.AddedL, 0.0153, 2e-4)
	near(t, "kept by the spent plant", in.State().VolumeL.Value-out.State().VolumeL.Value, 0.198, 1e-6)
	near(t, "strength", out.State().ABVPct.Value, in.State().ABVPct.Value, 1e-9)
	near(t, "dose", out.Doses[0].AsWeighed, in.Doses[0].AsWeighed, 1e-9)
	if v := out.State().VolumeL; v.High-v.Low <= in.State().VolumeL.High-in.State().VolumeL.Low {
		t.Error("the doubt of the held liquid widens nothing")
	}
}

// Each way of taking it out keeps less beer than the one before; a weighed plant
// counts for itself: 140 g wet, of which 49.5 x (1 - 0.33) = 33.2 g never dissolve,
// hold 106.8 g of beer.
func TestWaysOfTakingAPlantOut(t *testing.T) {
	kept := func(by string, spentG *float64) (litres, kg float64) {
		n, b := plantIn(18, trials.Addition{MaterialKey: "heather", Form: "cut", MassG: ptr(55.0), MoisturePct: ptr(10.0),
			OutAt: ptr(day(24)), OutBy: by, SpentG: spentG})
		l, err := Of(n, b)
		if err != nil {
			t.Fatal(err)
		}
		in, out := at(t, l, EventAddition), at(t, l, EventRemoval)
		return in.State().VolumeL.Value - out.State().VolumeL.Value, in.Result.State.MassKg() - out.Result.State.MassKg()
	}
	for by, want := range map[string]float64{"": 4.0 * 49.5, "drained": 4.0 * 49.5, "squeezed": 2.6 * 49.5,
		"pressed": 1.1 * 49.5} {
		got, _ := kept(by, nil)
		near(t, "mL kept, "+by, 1000*got, want, 1e-3)
	}
	_, kg := kept("squeezed", ptr(140.0))
	near(t, "g of beer in the weighed plant", 1000*kg, 140-49.5*0.67, 0.3)
}

// What is left in stays behind with its beer at packaging, once: a trub loss that
// was logged holds it already. While it is in and the beer is not packaged, the
// ledger shows the volume with it.
func TestPlantLeftIn(t *testing.T) {
	left := trials.Addition{MaterialKey: "heather", Form: "cut", MassG: ptr(55.0), MoisturePct: ptr(10.0)}
	volume := func(packaged bool, more ...any) float64 {
		n, b := plantIn(18, left, more...)
		if packaged {
			n.Packagings = []trials.Packaging{{Record: trials.Record{ID: "p", Name: "heather-1.p1", CreatedAt: day(30)},
				BatchID: b.ID, At: day(30)}}
		}
		l, err := Of(n, b)
		if err != nil {
			t.Fatal(err)
		}
		return l.Last().State().VolumeL.Value
	}
	near(t, "packaged", volume(false)-volume(true), 4.0*0.0495, 1e-6)
	trub := trials.Loss{Record: trials.Record{ID: "l", Name: "heather-1.l1"}, At: day(29), Kind: trials.LossTrub,
		VolumeL: 0.6}
	near(t, "with the trub", volume(false)-volume(true, trub), 0.6, 1e-6)
}

// A plant cannot come out before it went in, and a spent weight below what never
// dissolves is a slip of the scale.
func TestPlantsThatCannotComeOut(t *testing.T) {
	a := trials.Addition{Record: trials.Record{Name: "heather-1.a1"}, At: day(10), Stage: trials.StageSecondary,
		MaterialKey: "heather",
		Method:      trials.MethodContact, Form: "cut", MassG: ptr(55.0), OutAt: ptr(day(9))}
	if err := a.Validate(); trials.CodeOf(err) != trials.Invalid {
		t.Errorf("out before in: %v", err)
	}
	a.OutAt, a.SpentG = nil, ptr(140.0)
	if err := a.Validate(); trials.CodeOf(err) != trials.Invalid {
		t.Errorf("weighed but not out: %v", err)
	}
	n, b := plantIn(18, trials.Addition{MaterialKey: "heather", Form: "cut", MassG: ptr(55.0), MoisturePct: ptr(10.0),
		OutAt:  ptr(day(24)),
		SpentG: ptr(20.0)})
	if _, err := Of(n, b); trials.CodeOf(err) != trials.Invalid {
		t.Errorf("20 g of spent plant: %v", err)
	}
}
