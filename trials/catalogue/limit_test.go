package catalogue

import (
	"slices"
	"testing"
)

// hasLimit reports whether a list has a limit of that level for that food.
func hasLimit(list []Limit, jurisdiction, substance, food, level string) bool {
	return slices.ContainsFunc(list, func(l Limit) bool {
		return l.Jurisdiction == jurisdiction && l.Substance == substance && l.FoodCategory == food && l.MaxLevel == level
	})
}

// Levels of Regulation (EC) No 1334/2008, annex III part B, and 21 CFR 189.
func TestLimits(t *testing.T) {
	c := mustLoad(t)
	const eu = "EU and (as retained) UK"
	for _, tc := range []struct{ key, jurisdiction, substance, food, level string }{
		{"wormwood", eu, "thujone (alpha and beta)", "alcoholic beverages produced from Artemisia species", "35"},
		{"sage", eu, "thujone (alpha and beta)", "alcoholic beverages not produced from Artemisia species", "10"},
		{"cherry-sour", eu, "hydrocyanic acid", "alcoholic beverages", "35"},
		{"calamus", eu, "beta-asarone", "alcoholic beverages", "1.0"},
		{"calamus", "USA", "calamus, oil or extract", "all food", "any amount added makes the food adulterated"},
		{"quassia", eu, "quassin", "alcoholic beverages", "1.5"},
		{"peppermint", eu, "pulegone", "mint or peppermint containing alcoholic beverages", "100"},
		{"spearmint", eu, "menthofuran", "mint or peppermint containing alcoholic beverages", "200"},
		{"tonka", "USA", "coumarin as such or as a constituent of tonka beans or extract", "all food",
			"any amount added makes the food adulterated"},
		{"sassafras", "USA", "safrole, oil of sassafras and similar", "all food", "prohibited"},
		{"liquorice-root", "EU", "glycyrrhizinic acid (label: contains liquorice)", "beverages", "10"},
		{"st-johns-wort", eu, "Hypericum perforatum, Teucrium chamaedrys, Laricifomes officinalis",
			"flavourings and ingredients", "only for alcoholic beverages"},
	} {
		if !hasLimit(c.Limits(mustGet(t, c, tc.key)), tc.jurisdiction, tc.substance, tc.food, tc.level) {
			t.Errorf("%s lacks %s %s %s", tc.key, tc.jurisdiction, tc.substance, tc.level)
		}
	}
	for _, key := range []string{"raspberry", "hibiscus", "cane-sugar", "coriander-seed"} {
		if got := c.Limits(mustGet(t, c, key)); len(got) != 0 {
			t.Errorf("%s has %d limits, such as %s", key, len(got), got[0].Substance)
		}
	}
}

// A material that is said to have a legal limit must show one.
func TestLegalLimitCautionHasALimit(t *testing.T) {
	c := mustLoad(t)
	for _, m := range c.All() {
		if slices.Contains(m.CautionCodes, "legal-limit") && len(c.Limits(m)) == 0 {
			t.Errorf("%s has no limit", m.Key)
		}
	}
}

func TestLimitRowsAreComplete(t *testing.T) {
	c := mustLoad(t)
	historical := 0
	for _, l := range c.limits {
		if l.Jurisdiction == "" || l.Instrument == "" || l.Substance == "" || l.Evidence == "" {
			t.Errorf("a row lacks a word: %+v", l)
		}
		if l.Status != "check the current local code" {
			t.Errorf("%s %s: status %q", l.Instrument, l.Substance, l.Status)
		}
		if l.Historical {
			historical++
			if l.ForBeer() {
				t.Errorf("%s %s is repealed and in force", l.Instrument, l.Substance)
			}
		}
	}
	// annex II of Directive 88/388/EEC, repealed in 2011
	if historical != 15 {
		t.Errorf("%d rows of the repealed directive, want 15", historical)
	}
}

func TestHazardSubstancesResolve(t *testing.T) {
	c := mustLoad(t)
	codes := codesOf(c.cautions)
	for _, h := range hazardSubstances {
		if !slices.Contains(codes, h.code) {
			t.Errorf("no caution %q", h.code)
		}
		for _, w := range h.words {
			if len(c.SubstanceLimits(w)) == 0 {
				t.Errorf("%s: no limit names %q", h.code, w)
			}
		}
	}
}

func TestSubstanceLimits(t *testing.T) {
	c := mustLoad(t)
	// six rows in Regulation 1334/2008, Directive 88/388 and 21 CFR, and the
	// list of what may not be added as such
	if got := len(c.SubstanceLimits(" Thujone ")); got != 8 {
		t.Errorf("%d rows name thujone, want 8", got)
	}
	if c.SubstanceLimits("") != nil || c.SubstanceLimits("water") != nil {
		t.Error("nothing and water have limits")
	}
	if got := len(c.GeneralLimits()); got != 4 {
		t.Errorf("%d general rules, want 4", got)
	}
}
