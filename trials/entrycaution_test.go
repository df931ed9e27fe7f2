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
