package catalogue

import (
	"slices"
	"strings"
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
		{"peppermint", eu, "pulegone and menthofuran", "mint or peppermint containing alcoholic beverages", ""},
		{"tonka", "USA", "coumarin as such or as a constituent of tonka beans or extract", "all food",
			"any amount added makes the food adulterated"},
		{"sassafras", "USA", "safrole", "all food", "listed under substances generally prohibited from direct addition"},
		{"liquorice-root", eu, "glycyrrhizinic acid (label: contains liquorice)", "beverages", "10"},
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

// Every row says what was read of it, of which version and in which article,
// and a row that is read cites at least one source of which something was.
func TestLimitRowsSayWhatWasRead(t *testing.T) {
	c := mustLoad(t)
	for _, l := range c.limits() {
		if l.Evidence != evidenceRead && l.Evidence != EvidenceSecondary || l.Article == "" || l.Version == "" {
			t.Errorf("%s %s: evidence %q, article %q, version %q", l.Instrument, l.Substance, l.Evidence, l.Article, l.Version)
		}
		opened := slices.ContainsFunc(c.Sources(l.SourceID),
			func(s Source) bool { return s.Read == "full" || s.Read == "excerpt" })
		if l.Evidence == evidenceRead && !opened {
			t.Errorf("%s %s passes for read, but none of %s was", l.Instrument, l.Substance, l.SourceID)
		}
	}
}

func TestLimitRowsAreComplete(t *testing.T) {
	c := mustLoad(t)
	historical := 0
	for _, l := range c.limits() {
		if l.Jurisdiction == "" || l.Instrument == "" || l.Substance == "" || l.Evidence == "" {
			t.Errorf("a row lacks a word: %+v", l)
		}
		if l.Status != "check the current local code" {
			t.Errorf("%s %s: status %q", l.Instrument, l.Substance, l.Status)
		}
		if l.Historical {
			historical++
			if !strings.Contains(l.Instrument, "REPEALED") {
				t.Errorf("%s %s is historical, but its instrument does not say so", l.Instrument, l.Substance)
			}
		}
	}
	// annex II of Directive 88/388/EEC, repealed in 2011
	if historical != 8 {
		t.Errorf("%d rows of the repealed directive, want 8", historical)
	}
}

func TestHazardSubstancesResolve(t *testing.T) {
	c := mustLoad(t)
	codes := codesOf(c.cautions())
	for _, h := range hazardSubstances {
		if !slices.Contains(codes, h.code) {
			t.Errorf("no caution %q", h.code)
		}
		for _, w := range h.words {
			if len(c.limitsNaming([]string{w})) == 0 {
				t.Errorf("%s: no limit names %q", h.code, w)
			}
		}
	}
}

func TestLimitsNaming(t *testing.T) {
	c := mustLoad(t)
	// three rows of Regulation 1334/2008, one of Directive 88/388, two of
	// 21 CFR and one of its reading, France, Australia: counted by hand
	if got := len(c.limitsNaming([]string{"thujone"})); got != 9 {
		t.Errorf("%d rows name thujone, want 9", got)
	}
	if c.limitsNaming(nil) != nil || c.limitsNaming([]string{"water"}) != nil {
		t.Error("nothing and water have limits")
	}
}
