package catalogue

import (
	"strings"
	"testing"
)

// The groups are those of Annex II of Regulation (EU) No 1169/2011, items 1 to
// 14.
func TestAllergensAreTheAnnex(t *testing.T) {
	want := map[string]string{
		"1": "gluten cereals", "2": "crustaceans", "3": "eggs", "4": "fish", "5": "peanuts", "6": "soya", "7": "milk",
		"8": "nuts", "9": "celery", "10": "mustard", "11": "sesame", "12": "sulphites", "13": "lupin", "14": "molluscs",
	}
	seen := map[string]bool{}
	for name, a := range mustLoad(t).allergens() {
		if want[a.Item] != a.Allergen {
			t.Errorf("%s: item %s is %q, want %q", name, a.Item, a.Allergen, want[a.Item])
		}
		seen[a.Item] = true
	}
	if len(seen) != len(want) {
		t.Errorf("%d groups, want %d", len(seen), len(want))
	}
}

func TestAllergensByName(t *testing.T) {
	c := mustLoad(t)
	for _, tc := range []struct{ key, category, says string }{
		{"celery-seed", "", "celery (Annex II, item 9)"},
		{"Hazelnuts", categorySeedSpice, "nuts (Annex II, item 8)"},
		{"oyster", "", "molluscs (Annex II, item 14)"},
		{"isinglass", "", "is excepted"},
		{"coconut", categoryNut, ""}, // a name is matched whole
	} {
		var texts []string
		for _, row := range c.Cautions(Material{Key: tc.key, Category: tc.category, Own: true}) {
			if row.HazardCode == "allergen-listed" {
				texts = append(texts, row.Text)
			}
		}
		if (tc.says == "") != (len(texts) == 0) || tc.says != "" && !strings.Contains(texts[0], tc.says) {
			t.Errorf("%s: %q, want %q", tc.key, texts, tc.says)
		}
	}
}
