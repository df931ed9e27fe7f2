package planning

import (
	"testing"

	"hedgerow/trials"
)

// A fresh plant thins the beer by its own water, by whatever way it is put straight in.
// By hand: 1 kg of 72 % water brings 720/0.99820123 = 721.3 mL, and at most the 0.6 mL
// that each of its 280 g of dry matter would take up dissolved, so that a beer of 10 L
// keeps 10/10.7213 of its strength or a little less. What goes into the wort is out
// again when the gravities are read.
func TestFreshPlantsAreBrewedStrongerFor(t *testing.T) {
	n := &trials.Notebook{Now: day(60)}
	materials, err := n.Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	for _, method := range []string{trials.MethodContact, trials.MethodPuree} {
		a := trials.Addition{Record: trials.Record{ID: "a"}, MaterialKey: "spruce-tip", MassG: ptr(1000.0), Method: method,
			Form: "fresh-cut", MoisturePct: ptr(72.0), Stage: trials.StageSecondary, At: day(10), Minutes: ptr(7 * 24 * 60.0)}
		if method == trials.MethodPuree {
			a.Form = "puree"
		}
		d := trials.Design{MaterialKey: a.MaterialKey, Method: method, MassG: 1000, Direct: &a}
		w, err := StrongerFor(n, materials, d, 1.048, 1.010, 10)
		if err != nil {
			t.Fatal(err)
		}
		low, high := 10/(10.7213+0.168), 10/10.7213+0.0005
		if kept := w.ThinnedABVPct / w.PlainABVPct; kept < low || kept > high || w.OG < 1.0500 || w.OG > 1.0530 {
			t.Errorf("%s: keeps %.4f of its strength, want %.4f to %.4f; OG %.4f", method, kept, low, high, w.OG)
		}
	}
	a := trials.Addition{MaterialKey: "spruce-tip", MassG: ptr(1000.0), Method: trials.MethodBoil, Form: "fresh-cut",
		Stage: trials.StageBoil, Minutes: ptr(10.0), At: day(0)}
	w, err := StrongerFor(n, materials, trials.Design{MaterialKey: "spruce-tip", Method: a.Method, MassG: 1000,
		Direct: &a},
		1.048, 1.010, 10)
	if err != nil || w.ThinnedABVPct < w.PlainABVPct-1e-9 || w.OG > 1.048+1e-6 {
		t.Errorf("boiled: %+v (%v), want the wort as it is", w, err)
	}
}
