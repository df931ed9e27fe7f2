package trials

import (
	"slices"
	"testing"
)

// A general caution is said once in a notebook, one of the material each time.
func TestGeneralCautionsAreSaidOnce(t *testing.T) {
	codes := func(n *Notebook, key string) []string {
		var list []string
		for _, c := range n.EntryCautions(Handling{MaterialKey: key}) {
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
	for _, c := range n.EntryCautionsIn("b", Handling{MaterialKey: "elderflower"}) {
		if c.Level != "stop" {
			t.Errorf("said again: %s", c.Text)
		}
	}
	if first := n.EntryCautions(Handling{MaterialKey: "elderflower"}); len(n.EntryCautionsIn("other",
		Handling{MaterialKey: "elderflower"})) != len(first) {
		t.Error("another batch is told less")
	}
}

// A caution about a form is said where the entry has it, or may have it.
func TestCautionsOfAForm(t *testing.T) {
	for _, c := range []struct {
		used Handling
		code string
		said bool
	}{
		// the rows of these hazards in the tables: forms fresh, dried, unheated, spirit and picked
		{Handling{"angelica-root", "fresh", MethodContact}, "furocoumarin", true},
		{Handling{"angelica-root", "cut", MethodContact}, "furocoumarin", false},
		{Handling{"angelica-root", "", ""}, "furocoumarin", true},
		{Handling{"plum", "whole", MethodContact}, "sulphites", true},
		{Handling{"plum", "frozen", MethodContact}, "sulphites", false},
		{Handling{"yarrow", "fresh", MethodTea}, "mould", false},
		{Handling{"rowan-berry", "frozen", MethodBoil}, "raw-irritant", false},
		{Handling{"rowan-berry", "frozen", MethodContact}, "raw-irritant", true},
		{Handling{"yarrow", "cut", MethodTea}, "hemlock-look-alike", true},
	} {
		list := (&Notebook{}).EntryCautions(c.used)
		i := slices.IndexFunc(list, func(x Caution) bool { return x.HazardCode == c.code })
		if (i >= 0) != c.said {
			t.Errorf("%+v: %s said %t, want %t", c.used, c.code, i >= 0, c.said)
		}
		if i >= 0 && c.used.Form != "" && c.code != "hemlock-look-alike" && list[i].Form != "" {
			t.Errorf("%+v: %s still asks whether it is %s", c.used, c.code, list[i].Form)
		}
	}
}

// ptrTo points to a text.
func ptrTo(s string) *string { return &s }
