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
