package catalogue

import (
	"math"
	"testing"
)

func TestSpoonWeight(t *testing.T) {
	c := mustLoad(t)
	for _, tc := range []struct {
		key, form string
		tsp, tbsp float64 // g, USDA SR 26 household weights as published
		source    string
	}{
		{"cinnamon-ceylon", "powder", 2.6, 7.8, "SR26:02010"},
		{"cassia", "Powder", 2.6, 7.8, "SR26:02010"},
		{"ginger-dried", "powder", 1.8, 5.2, "SR26:02021"},
		{"coriander-seed", "whole", 1.8, 5.0, "SR26:02013"},
		{"coriander-seed", "", 1.8, 5.0, "SR26:02013"}, // weighed in one form only
		{"black-pepper", "powder", 2.3, 6.9, "SR26:02030"},
		{"thyme", "cut", 1.0, 2.7, "SR26:02042"},
		{"thyme", "powder", 1.4, 4.3, "SR26:02042"},
		{"orange-zest", "zest", 2.0, 6.0, "SR26:09216"},
		// one of the two follows from 3 tsp = 1 tbsp
		{"black-pepper", "whole", 2.9, 8.7, "SR26:02030"},
		{"honey", "", 7.0, 21.0, "SR26:19296"},
		{"cane-sugar", "powder", 4.2, 12.6, "SR26:19335"},
		{"thyme", "fresh", 0.8, 2.4, "SR26:02049"},
		{"elderflower", "cut", 2.5 / 3, 2.5, "common practice, no source"},
	} {
		tsp, tbsp, source := c.SpoonWeight(mustGet(t, c, tc.key), tc.form)
		if tsp == nil || tbsp == nil || source != tc.source {
			t.Errorf("%s %q: %v, %v from %q", tc.key, tc.form, tsp, tbsp, source)
			continue
		}
		if math.Abs(*tsp-tc.tsp) > 1e-9 || math.Abs(*tbsp-tc.tbsp) > 1e-9 {
			t.Errorf("%s %q: %.3f and %.3f g, want %.3f and %.3f g", tc.key, tc.form, *tsp, *tbsp, tc.tsp, tc.tbsp)
		}
	}
}

func TestSpoonWeightUnknown(t *testing.T) {
	c := mustLoad(t)
	for _, tc := range []struct{ key, form string }{
		{"hibiscus", "cut"},       // nobody weighed it
		{"coriander-seed", "cut"}, // only whole seed was weighed
		{"thyme", ""},             // three forms, three weights
		{"brown-sugar", ""},       // loose or packed
		{"vanilla", "whole"},      // the table has the extract
	} {
		tsp, tbsp, source := c.SpoonWeight(mustGet(t, c, tc.key), tc.form)
		if tsp != nil || tbsp != nil || source != "" {
			t.Errorf("%s %q: %v, %v from %q, want unknown", tc.key, tc.form, tsp, tbsp, source)
		}
	}
}

func TestOwnSpoonComesFirst(t *testing.T) {
	c := mustLoad(t)
	m, weighed := mustGet(t, c, "thyme"), 1.1
	m.GramsPerTsp = &weighed
	tsp, tbsp, source := c.SpoonWeight(m, "powder")
	if tsp == nil || *tsp != 1.1 || math.Abs(*tbsp-3.3) > 1e-12 || source != "your own figure" {
		t.Errorf("%v, %v from %q", tsp, tbsp, source)
	}
}

func TestSpoonLinksResolve(t *testing.T) {
	c := mustLoad(t)
	seen := map[string]bool{}
	for _, l := range spoonLinks {
		_, tsp := c.spoons[spoonFood{l.food, measure("tsp", l.detail)}]
		_, tbsp := c.spoons[spoonFood{l.food, measure("tbsp", l.detail)}]
		if !tsp && !tbsp {
			t.Errorf("no spoon of %q, %q", l.food, l.detail)
		}
		for _, key := range l.keys {
			if _, ok := c.Get(key); !ok {
				t.Errorf("%q: no material %q", l.food, key)
			}
			forms := l.forms
			if forms == nil {
				forms = []string{"any"}
			}
			for _, form := range forms {
				if id := key + " " + form; seen[id] {
					t.Errorf("%s has two weights", id)
				} else {
					seen[id] = true
				}
			}
		}
	}
}

// The density beside each weight is grams per spoon over its volume, 4.92892 mL
// or 14.78676 mL (NIST Handbook 44, appendix C), rounded to two digits.
func TestSpoonTableHoldsTogether(t *testing.T) {
	err := readTable("spoons.csv", spoonColumns, func(r *record) error {
		volume := 4.92892159375
		if r.text("measure")[:2] == "tb" {
			volume *= tspPerTbsp
		}
		grams, density := r.number("g_per_measure"), r.number("bulk_density_g_per_ml")
		if math.Abs(*grams/volume-*density) > 0.0051 {
			t.Errorf("%s, %s: %.3f g/mL, the table has %.3f", r.text("food"), r.text("measure"), *grams/volume, *density)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A tablespoon holds three teaspoons. USDA weighed both by themselves and
// rounds to 0.1 g, so they agree within the rounding and about a fifth.
func TestTeaspoonAndTablespoonAgree(t *testing.T) {
	c := mustLoad(t)
	compared := 0
	for _, l := range spoonLinks {
		tsp, ok := c.spoons[spoonFood{l.food, measure("tsp", l.detail)}]
		tbsp, both := c.spoons[spoonFood{l.food, measure("tbsp", l.detail)}]
		if !ok || !both {
			continue
		}
		compared++
		if math.Abs(tbsp.grams-tspPerTbsp*tsp.grams) > 0.2+0.2*tbsp.grams {
			t.Errorf("%s: %.2f g and %.2f g", l.food, tsp.grams, tbsp.grams)
		}
	}
	if compared < 15 {
		t.Errorf("only %d compared", compared)
	}
}
