package trials

import (
	"slices"
	"testing"
)

// A general caution is said once in a notebook, one of the material each time.
func TestGeneralCautionsAreSaidOnce(t *testing.T) {
	codes := func(n *Notebook, key string) []string {
		var list []string
		for _, c := range n.EntryCautions(key) {
			list = append(list, c.HazardCode)
		}
		return list
	}
	// the rows of yarrow in the tables, scope general: foraging-general, mould
	fresh := codes(&Notebook{}, "yarrow")
	for _, code := range []string{"thujone", "hemlock-look-alike", "foraging-general", "mould"} {
		if !slices.Contains(fresh, code) {
			t.Errorf("first entry: %q lacks %s", fresh, code)
		}
	}
	later := &Notebook{Additions: []Addition{{MaterialKey: "yarrow"}}}
	if got := codes(later, "yarrow"); slices.Contains(got, "mould") || !slices.Contains(got, "thujone") {
		t.Errorf("second entry: %q", got)
	}
	sugar := &Notebook{Extracts: []Extract{{MaterialKey: "cane-sugar"}}}
	if got := codes(sugar, "yarrow"); !slices.Equal(got, fresh) {
		t.Errorf("after an entry that brought nothing up: %q, want %q", got, fresh)
	}
}

// In a batch that has the material already only what must not go on is said again.
func TestCautionsOnceABatch(t *testing.T) {
	n := &Notebook{Extracts: []Extract{{Record: Record{ID: "x"}, MaterialKey: "elderflower"}}, Additions: []Addition{
		{BatchID: "b", ExtractID: ptrTo("x")}}}
	for _, c := range n.EntryCautionsIn("b", "elderflower") {
		if c.Level != "stop" {
			t.Errorf("said again: %s", c.Text)
		}
	}
	if first := n.EntryCautions("elderflower"); len(n.EntryCautionsIn("other", "elderflower")) != len(first) {
		t.Error("another batch is told less")
	}
}

// ptrTo points to a text.
func ptrTo(s string) *string { return &s }
