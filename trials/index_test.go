package trials

import (
	"reflect"
	"testing"
)

// An index finds what the notebook finds by going through its lists.
func TestIndexFindsWhatTheNotebookFinds(t *testing.T) {
	child := Batch{Record: Record{ID: "c", Name: "jar-2"}, ParentID: ptr("b"), StartedAt: day(5)}
	early := Batch{Record: Record{ID: "e", Name: "jar-1"}, ParentID: ptr("c"), StartedAt: day(4)}
	n, b := batchOf(child, early, Extract{Record: Record{ID: "x", Name: "tea"}},
		Addition{Record: Record{ID: "a", Name: "b.a1"},
			ExtractID: ptr("x")}, Reading{Record: Record{ID: "r"}}, Loss{Record: Record{ID: "l"}})
	n.Packagings = []Packaging{{Record: Record{ID: "p"}, BatchID: "b"}}
	n.Tasters, n.Servings = []Taster{{Record: Record{ID: "t", Name: "Taster A"}}}, []Serving{{ID: "v", BatchID: "c"}}
	x := n.Index()
	for _, id := range []string{"b", "c", "e", "gone"} {
		want, wantOK := n.BatchByID(id)
		if got, ok := x.BatchByID(id); ok != wantOK || !reflect.DeepEqual(got, want) {
			t.Errorf("batch %s is %+v, want %+v", id, got, want)
		}
		if got, want := x.Children(id), n.Children(id); len(got) != len(want) {
			t.Errorf("children of %s are %+v, want %+v", id, got, want)
		}
	}
	if got := x.Root(early); got.ID != b.ID {
		t.Errorf("the root of jar-1 is %s", got.ID)
	}
	if e, ok := x.ExtractByID("x"); !ok || e.Name != "tea" || len(x.PoursOf("x")) != 1 || len(x.AdditionsTo("b")) != 1 {
		t.Errorf("extract %+v with pours %+v", e, x.PoursOf("x"))
	}
	if _, ok := x.Packaged("b"); !ok || len(x.ReadingsOf("b")) != 1 || len(x.LossesOf("b")) != 1 ||
		len(x.NotesOf("b")) != 0 {
		t.Error("what belongs to the batch is not found")
	}
	if x.TasterName("t") != "Taster A" || x.TasterName("gone") != n.TasterName("gone") || !x.WasServed("c") ||
		x.WasServed("b") {
		t.Error("tasters or servings are not found")
	}
}

// A circle of parents, which no command makes, does not hang.
func TestRootOfACircle(t *testing.T) {
	n := &Notebook{Batches: []Batch{{Record: Record{ID: "a"}, ParentID: ptr("b")},
		{Record: Record{ID: "b"}, ParentID: ptr("a")}}}
	n.Index().Root(n.Batches[0])
}
