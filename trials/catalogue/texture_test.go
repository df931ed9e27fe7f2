package catalogue

import "testing"

// The words are those of extraction: berries, seeds, quills, pods, nibs, roots
// and wood are hard when whole; leaves, petals, calyces, needles and thin peel
// are thin. Which is which was told from the part used, by hand.
func TestHardWhole(t *testing.T) {
	c := mustLoad(t)
	for _, tc := range []struct {
		key  string
		hard bool
	}{
		{"raspberry", true},
		{"hawthorn-berry", true},
		{"elderberry", true},
		{"juniper-berry", true},
		{"coriander-seed", true},
		{"cardamom-green", true},
		{"vanilla", true},
		{"star-anise", true},
		{"clove", true},
		{"cinnamon-ceylon", true},
		{"oak-chips", true},
		{"ginger-dried", true},
		{"liquorice-root", true},
		{"coffee", true},
		{"cacao-nib", true},
		{"lemongrass", true},
		{"hibiscus", false},
		{"rose-petal", false},
		{"chamomile", false},
		{"lavender", false},
		{"heather", false},
		{"spearmint", false},
		{"bay-leaf", false},
		{"spruce-tip", false},
		{"juniper-branch", false},
		{"bitter-orange-peel", false},
		{"lemon-zest", false},
		{"black-tea", false},
		{"cocoa-powder", false},
		{"honey", false},
	} {
		if m := mustGet(t, c, tc.key); m.HardWhole != tc.hard {
			t.Errorf("%s (%s, %s): hard %v", tc.key, m.Category, m.PartUsed, m.HardWhole)
		}
	}
}

func TestHardTablesHaveNoStrayWords(t *testing.T) {
	c := mustLoad(t)
	for _, part := range []string{"stalks", "roasted seed", "roasted cracked seed"} {
		if len(c.matching(func(m Material) bool { return m.PartUsed == part })) == 0 {
			t.Errorf("no material has the part %q", part)
		}
	}
	if isHardWhole("fungus", "cap") || !isHardWhole("fungus", "roasted seed") {
		t.Error("an unknown category does not go by the part")
	}
}

func TestSolids(t *testing.T) {
	c := mustLoad(t)
	for key, dissolves := range map[string]bool{"honey": true, "lactose": true, "date": false, "tamarind": false,
		"raspberry": false} {
		if m := mustGet(t, c, key); m.IsLiquidOrSugar() != dissolves {
			t.Errorf("%s: dissolves as a whole %v", key, m.IsLiquidOrSugar())
		}
	}
}

// Words to classes as in the table of solute classes of extraction.
func TestSoluteClass(t *testing.T) {
	c := mustLoad(t)
	for key, class := range map[string]string{
		"hibiscus": classWater, "honey": classWater, "chamomile": classAroma, "wormwood": classResin,
		"liquorice-root": classWater,
	} {
		if m := mustGet(t, c, key); m.Class != class {
			t.Errorf("%s: class %q, want %q", key, m.Class, class)
		}
	}
}
