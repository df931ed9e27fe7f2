package steeps

import (
	"testing"

	"hedgerow/trials"
)

// The next tea of the same bag expects what the one before taught; one of another
// bag, of another plant, or made before it does not.
func TestReadingTeachesTheBag(t *testing.T) {
	first := jugTea()
	first.ID, first.MadeAt, first.Lot = "x0", day(0), "spring"
	first.Passes = first.Passes[:1]
	first.Passes[0].TeaSG = ptr(1.004)
	next := jugTea()
	next.MadeAt, next.Lot = day(3), "spring"
	taught := yielded(t, first).Result.Update
	if taught == nil || taught.NewShare >= 0.63 {
		t.Fatalf("a thin tea taught %+v", taught)
	}
	near(t, "next of the bag", yielded(t, next, first).Result.Steep.Soluble.Share, taught.NewShare, 1e-12)
	near(t, "its sd", yielded(t, next, first).Result.Steep.Soluble.SDLn, taught.NewShareSDLn, 1e-12)
	for what, change := range map[string]func(*trials.Extract){
		"another bag":   func(x *trials.Extract) { x.Lot = "autumn" },
		"made before":   func(x *trials.Extract) { x.MadeAt = day(-1) },
		"another plant": func(x *trials.Extract) { x.MaterialKey = "heather" },
	} {
		other := next
		change(&other)
		if s := yielded(t, other, first).Result.Steep.Soluble; s != nil && s.Share != 0.63 {
			t.Errorf("%s: soluble share %v was learned", what, s.Share)
		}
	}
}

// A reading in spirit says nothing and moves nothing.
func TestReadingInSpiritIsLeftOut(t *testing.T) {
	x := jugTea()
	x.Method, x.SpiritPct = trials.MethodTincture, ptr(40.0)
	x.Passes[0].TeaSG = ptr(1.004)
	if y := yielded(t, x); y.Result.Update != nil {
		t.Errorf("a gravity in spirit taught %+v", y.Result.Update)
	}
}

// A plant put straight into the beer dissolves as much as the teas of its bag taught:
// the same figure in the addition and, for what has no bag, in the calculator.
func TestReadingTeachesWhatIsPutStraightIn(t *testing.T) {
	first := jugTea()
	first.ID, first.MadeAt, first.Lot = "x0", day(0), "spring"
	first.Passes = first.Passes[:1]
	first.Passes[0].TeaSG = ptr(1.004)
	taught := yielded(t, first).Result.Update
	a := trials.Addition{Record: trials.Record{ID: "a", Name: "b.a1"}, BatchID: "b", At: day(3),
		MaterialKey: first.MaterialKey,
		Method:      trials.MethodContact, Form: "crushed", MassG: ptr(50.0), Stage: trials.StageSecondary, Lot: "spring"}
	for lot, learns := range map[string]bool{"spring": true, "autumn": false} {
		a.Lot = lot
		n := &trials.Notebook{Now: day(10), Extracts: []trials.Extract{first}, Additions: []trials.Addition{a}}
		materials, err := n.Catalogue()
		if err != nil {
			t.Fatal(err)
		}
		y, err := putIn(n, materials, a)
		if err != nil {
			t.Fatal(err)
		}
		if got := y.Immersion.Soluble == taught.NewShare && y.Immersion.SolubleSD == taught.NewShareSDLn; got != learns {
			t.Errorf("bag %s: soluble share %v, the tea taught %v", lot, y.Immersion.Soluble, taught.NewShare)
		}
	}
	first.Lot = ""
	n := &trials.Notebook{Now: day(10), Extracts: []trials.Extract{first}}
	materials, err := n.Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	for _, method := range []string{trials.MethodContact, trials.MethodTea} {
		q := SteepRequest{Material: first.MaterialKey, Form: "crushed", Method: method, MassG: 50, IntoL: 10}
		q.Treatments = []Treatment{{Minutes: 7 * 24 * 60}}
		if method == trials.MethodTea {
			q.Treatments = nil
			q.Passes = []trials.Pass{{VolumeL: 0.5, StartC: 95, Minutes: 20, Separation: trials.SeparationDrained}}
		}
		if q, err = Inform(n, materials, q, nil); err != nil {
			t.Fatal(err)
		}
		s, err := q.Steep(materials)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "in a steep as "+method, s.Result.Steep.Soluble.Share, taught.NewShare, 1e-12)
	}
}
