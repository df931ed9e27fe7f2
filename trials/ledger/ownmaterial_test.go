package ledger

import (
	"testing"

	"hedgerow/trials"
)

// Own figures come before the catalogue's, and an own material is used like any
// other: 20 % water, so 10 g are 8 g dry.
func TestOwnMaterials(t *testing.T) {
	n, b := batchOf(trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(4),
		Stage: trials.StageSecondary, MaterialKey: "moor-mix", Method: trials.MethodContact, Form: "cut",
		MassG: ptr(10.0), Minutes: ptr(5 * 24 * 60.0)})
	n.Materials = []trials.OwnMaterial{{Record: trials.Record{Name: "moor-mix"}, CommonName: "Moor mix", Class: "aroma",
		MoisturePct: ptr(20.0)}}
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	if d := l.Doses[0]; d.Class != 1 || trials.ClassNames[d.Class] != "aroma" {
		t.Errorf("class %d", d.Class)
	}
	near(t, "water class", l.Doses[0].GPerL[0].Value, 8/0.9*0.85/12, 1e-3)
}
