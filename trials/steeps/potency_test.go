package steeps

import (
	"strings"
	"testing"

	"hedgerow/trials"
)

// evidence is a fit worked by hand: difference 0.3 +- 0.1 points, slope 3 +- 0.3
// points per tenfold dose, independent.
func evidence() MethodEvidence {
	return MethodEvidence{MaterialKey: "heather", Attribute: "floral", Method: trials.MethodColdTea,
		Reference:  trials.MethodTea,
		Difference: 0.3, DiffSD: 0.1, Slope: 3, SlopeSD: 0.3, T: 2, Level: 0.95, Doses: 2}
}

// By hand: ln R = 0.1 ln 10 = 0.230259 with se ln 10/3 sqrt(0.01 + 0.01 x 0.09) =
// 0.080133; with the prior 0 +- 0.25 of the water class (section 4 of the page)
// weights are 16 and 155.73, so ln R = 0.208806 and 90.68 % of it is from scores.
func TestScoresAndPriorTogether(t *testing.T) {
	p, err := evidence().MethodPotency(0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "by scores", p.Update.Trials.Ln, 0.230259, 1e-6)
	near(t, "its se", p.Update.Trials.SDLn, 0.080133, 1e-6)
	near(t, "both", p.Update.Combined.Ln, 0.208806, 1e-5)
	near(t, "share of the scores", p.Update.TrialShare, 0.9068, 1e-4)
	if words := p.Words(); !strings.Contains(words, "by cold-tea counts 1.23") ||
		!strings.Contains(words, "91 % of that") {
		t.Errorf("%q", words)
	}
}

// Section 4: no update below two doses of the reference, nor where g >= 1: t 2,
// slope 0.5 +- 0.3 is g = 1.44.
func TestScoresThatSayNothing(t *testing.T) {
	one := evidence()
	one.Doses = 1
	flat := evidence()
	flat.Slope = 0.5
	for what, e := range map[string]MethodEvidence{"1 dose of the reference method": one, "not told from zero": flat} {
		if _, err := e.MethodPotency(0); trials.CodeOf(err) != trials.Invalid || !strings.Contains(err.Error(), what) {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// A potency counts for its own material and method, and moves the dose by itself.
func TestPotencyIsForOneMaterialAndMethod(t *testing.T) {
	p, err := evidence().MethodPotency(1) // heather counts by its aroma
	if err != nil {
		t.Fatal(err)
	}
	n, materials := &trials.Notebook{Now: day(60)}, shipped(t)
	q := SteepRequest{Form: "cut", Method: trials.MethodColdTea, MassG: 40, IntoL: 12,
		Passes: []trials.Pass{{VolumeL: 0.6, StartC: 4, Minutes: 720, Agitation: "still",
			Separation: trials.SeparationDrained}}}
	for _, c := range []struct {
		material, method string
		counts           bool
	}{{"heather", trials.MethodColdTea, true}, {"heather", trials.MethodTea, false}, {"hibiscus", trials.MethodColdTea,
		false}, {"", trials.MethodColdTea, false}} {
		q.Material, q.Method = c.material, c.method
		informed, err := Inform(n, materials, q, []MethodPotency{p})
		if err != nil || (informed.Own != nil) != c.counts {
			t.Errorf("%s by %s: %v (%v)", c.material, c.method, informed.Own, err)
		}
	}
	q.Material, q.Method = "heather", trials.MethodColdTea
	plain := steeped(t, q)
	q.Own = &p
	own := steeped(t, q)
	near(t, "aroma", own.Dose.EffectiveGPerL[1]/plain.Dose.EffectiveGPerL[1], p.Update.Relative.Value, 1e-9)
	near(t, "resin", own.Dose.EffectiveGPerL[2]/plain.Dose.EffectiveGPerL[2], 1, 1e-9)
}

// Held liquid measured once is offered to the calculator for that material only.
func TestHeldLiquidIsOffered(t *testing.T) {
	n, x := jugOf(nil) // 165.85 mL in 32.4 g of dry hibiscus, drained
	for material, want := range map[string]bool{x.MaterialKey: true, "heather": false} {
		q, err := Inform(n, shipped(t), SteepRequest{Material: material}, nil)
		if err != nil || (q.Remembered.Drained != nil) != want {
			t.Errorf("%s: %v (%v)", material, q.Remembered.Drained, err)
		}
		if want && q.Remembered.Drained != nil {
			near(t, "held", *q.Remembered.Drained, (jugML-300)/32.4, 1e-9)
		}
	}
}
