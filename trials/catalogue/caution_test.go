package catalogue

import (
	"slices"
	"strings"
	"testing"
)

// codesOf returns the hazard codes of cautions.
func codesOf(list []Caution) []string {
	codes := make([]string, 0, len(list))
	for _, row := range list {
		codes = append(codes, row.HazardCode)
	}
	return codes
}

// A code in the table of materials must be explained by a row for that very
// material, and a row that names a material must be listed with it.
func TestCautionCodesGoBothWays(t *testing.T) {
	c := mustLoad(t)
	for _, m := range c.All() {
		var rows []string
		for _, row := range c.cautions() {
			if slices.Contains(row.AppliesTo, m.Key) {
				rows = append(rows, row.HazardCode)
			}
		}
		for _, code := range m.CautionCodes {
			if !slices.Contains(rows, code) {
				t.Errorf("%s: code %q has no row for it", m.Key, code)
			}
		}
		for _, code := range rows {
			if !slices.Contains(m.CautionCodes, code) {
				t.Errorf("%s: row %q is not listed", m.Key, code)
			}
		}
	}
}

func TestCautionRowsAreComplete(t *testing.T) {
	c := mustLoad(t)
	var codes []string
	for _, row := range c.cautions() {
		if row.Text == "" || row.WhatToDo == "" || row.SourceID == "" {
			t.Errorf("%s lacks a text or source", row.HazardCode)
		}
		if slices.Contains(codes, row.HazardCode) {
			t.Errorf("%s stands twice", row.HazardCode)
		}
		codes = append(codes, row.HazardCode)
		for _, to := range row.AppliesTo {
			_, isMaterial := c.Get(to)
			if !isMaterial && !strings.HasPrefix(to, "class:") && !strings.HasPrefix(to, "process:") {
				t.Errorf("%s applies to %q, which is nothing known", row.HazardCode, to)
			}
		}
	}
}

// The materials that are poisonous or forbidden as a whole. Sassafras, calamus
// and tonka: 21 CFR 189.180, 189.110 and 189.130; the others as the table says.
func TestNoDose(t *testing.T) {
	c := mustLoad(t)
	refused := map[string]string{
		"calamus":          "asarone",
		"labrador-tea":     "toxic-plant-parts",
		"sassafras":        "safrole",
		"st-johns-wort":    "hypericin",
		"tonka":            "coumarin-high",
		"wild-cherry-bark": "stone-kernel", // its bark holds cyanide compounds; the table withholds the dose on purpose
	}
	for _, m := range c.All() {
		reason, ok := c.NoDose(m)
		if reason.HazardCode != refused[m.Key] {
			t.Errorf("%s: refused %v for %q, want %q", m.Key, ok, reason.HazardCode, refused[m.Key])
		}
		if ok && (m.DoseLowGPerL != nil || m.DoseHighGPerL != nil) {
			t.Errorf("%s has a dose in the table", m.Key)
		}
		if ok && reason.Level != levelStop && !m.DoseWithheld {
			t.Errorf("%s is refused for a mere %s", m.Key, reason.Level)
		}
	}
}

// A row that says the tool suggests no dose must make it so.
func TestNoDoseFollowsTheText(t *testing.T) {
	for _, row := range mustLoad(t).cautions() {
		if says := strings.Contains(row.WhatToDo, "suggests no dose"); says && !row.NoDose {
			t.Errorf("%s says no dose is suggested", row.HazardCode)
		}
	}
}

// Every material with a stop and why, told from the table by hand.
func TestStops(t *testing.T) {
	c := mustLoad(t)
	want := map[string]string{
		"angelica-root": "hemlock-look-alike",
		"aniseed":       "hemlock-look-alike",
		"calamus":       "asarone",
		"caraway":       "hemlock-look-alike",
		"fennel-seed":   "hemlock-look-alike",
		"gentian-root":  "veratrum-look-alike",
		"labrador-tea":  "toxic-plant-parts",
		"rhubarb":       "rhubarb-leaf",
		"sassafras":     "safrole",
		"spruce-tip":    "yew-look-alike",
		"st-johns-wort": "hypericin",
		"tonka":         "coumarin-high",
		"yarrow":        "hemlock-look-alike",
	}
	for _, m := range c.All() {
		first := c.Cautions(m)[0]
		code := ""
		if first.Level == levelStop {
			code = first.HazardCode
		}
		if code != want[m.Key] {
			t.Errorf("%s: stop %q, want %q", m.Key, code, want[m.Key])
		}
	}
}

func TestCautionsAreSortedAndUnique(t *testing.T) {
	c := mustLoad(t)
	for _, m := range c.All() {
		list := c.Cautions(m)
		for i := 1; i < len(list); i++ {
			if !list[i-1].Level.AtLeast(list[i].Level) {
				t.Errorf("%s: %s stands before %s", m.Key, list[i-1].Level, list[i].Level)
			}
		}
		codes := codesOf(list)
		slices.Sort(codes)
		if len(slices.Compact(codes)) != len(list) {
			t.Errorf("%s has a caution twice", m.Key)
		}
	}
}

func TestClassCautions(t *testing.T) {
	c := mustLoad(t)
	for _, tc := range []struct {
		m    Material
		has  []string
		lack []string
	}{
		{mustGet(t, c, "elderflower"), []string{"foraging-general", "pesticide-residue", "mould"}, []string{"essential-oil",
			"no-minors"}},
		{mustGet(t, c, "raspberry"), []string{"pesticide-residue"}, []string{"mould", "foraging-general"}},
		{mustGet(t, c, "cane-sugar"), []string{"sugar-referment"}, []string{"mould", "foraging-general"}},
		{Material{Key: "orange-oil", Category: categoryEssentialOil, Own: true}, []string{"essential-oil"},
			[]string{"foraging-general"}},
		{Material{Key: "hazelnut", Category: categoryNut, Own: true}, []string{"allergen-nuts"}, []string{"allergen-gluten"}},
		{Material{Key: "spelt", Category: categoryGrain, Own: true}, []string{"allergen-gluten"}, nil},
		{Material{Key: "valerian-capsules", Category: categorySupplement, Own: true}, []string{"supplement"}, nil},
		{Material{Key: "sweet-cicely", Category: categoryLeafHerb, Own: true}, []string{"foraging-general"},
			[]string{"mould"}},
	} {
		codes := codesOf(c.Cautions(tc.m))
		for _, code := range tc.has {
			if !slices.Contains(codes, code) {
				t.Errorf("%s lacks %q", tc.m.Key, code)
			}
		}
		for _, code := range tc.lack {
			if slices.Contains(codes, code) {
				t.Errorf("%s has %q", tc.m.Key, code)
			}
		}
	}
	for _, category := range []string{categoryEssentialOil, categorySupplement} {
		if _, refused := c.NoDose(Material{Key: "x", Category: category, Own: true}); !refused {
			t.Errorf("a dose of %s is suggested", category)
		}
	}
}

// Every class of the table is asked for by some material or is a general one,
// so that no caution is out of reach.
func TestNoClassIsOutOfReach(t *testing.T) {
	c := mustLoad(t)
	reached := codesOf(c.GeneralCautions())
	for _, m := range c.All() {
		reached = append(reached, codesOf(c.Cautions(m))...)
	}
	for _, category := range riskyCategories {
		reached = append(reached, codesOf(c.Cautions(Material{Key: "x", Category: category}))...)
	}
	for _, listed := range []string{"tansy", "celery"} {
		reached = append(reached, codesOf(c.Cautions(Material{Key: listed, Own: true}))...)
	}
	for _, row := range c.cautions() {
		if row.About != AboutProcess && !slices.Contains(reached, row.HazardCode) {
			t.Errorf("nothing leads to %q", row.HazardCode)
		}
	}
}

// Every row says what was done to check it, and one that is said to have been
// read cites at least one source of which something was read.
func TestCautionRowsSayWhatWasRead(t *testing.T) {
	c := mustLoad(t)
	for _, row := range c.cautions() {
		sources := c.Sources(row.SourceID)
		opened := slices.ContainsFunc(sources, func(s Source) bool { return s.Read == "full" || s.Read == "excerpt" })
		published := slices.ContainsFunc(sources, Source.Checked)
		switch row.Evidence {
		case evidenceRead:
			if !opened {
				t.Errorf("%s passes for read, but none of %s was", row.HazardCode, row.SourceID)
			}
		case EvidencePractice, EvidenceMemory:
			if published {
				t.Errorf("%s is %s, yet cites %s", row.HazardCode, row.Evidence, row.SourceID)
			}
		default:
			if !published {
				t.Errorf("%s is %s of nothing published: %s", row.HazardCode, row.Evidence, row.SourceID)
			}
		}
		if !slices.Contains([]string{scopeMaterial, scopeForm, ScopeGeneral}, row.Scope) {
			t.Errorf("%s: scope %q is not known", row.HazardCode, row.Scope)
		}
		if row.Scope == scopeForm && row.Form == "" {
			t.Errorf("%s holds for a form that is not named", row.HazardCode)
		}
	}
}

// A reader of the screen has no tables to open.
func TestCautionsSendNobodyToAFile(t *testing.T) {
	for _, row := range mustLoad(t).cautions() {
		for _, word := range []string{".csv", "table of", "these tables", " file", "session"} {
			if strings.Contains(row.WhatToDo, word) {
				t.Errorf("%s says %q: %s", row.HazardCode, word, row.WhatToDo)
			}
		}
	}
}

func TestGeneralCautions(t *testing.T) {
	got := codesOf(mustLoad(t).GeneralCautions())
	if want := []string{"pregnancy-alcohol", "no-minors", "taster-consent", "not-advice"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// The constants are the processes of the table, all of them.
func TestProcessCautions(t *testing.T) {
	c := mustLoad(t)
	all := []string{
		ProcessScald, processSteam, ProcessGlassShock, ProcessGlassHandling, ProcessBottleBomb, processOneWayBottle,
		ProcessTinctureFlame, ProcessTinctureStrength, ProcessInfection, processSteepTemperature, processCO2,
		ProcessPressureKeg, processCleaningChemicals, processAcidHandling, processSpentPlantsPets, processLabGlass,
		ProcessHeatPlastic, ProcessVapourDust, ProcessHotPress,
	}
	for _, p := range all {
		if got := codesOf(c.ProcessCautions(p)); !slices.Equal(got, []string{p}) {
			t.Errorf("process %q has %q", p, got)
		}
	}
	rows := 0
	for _, row := range c.cautions() {
		if row.About == AboutProcess {
			rows++
		}
	}
	if got := len(c.ProcessCautions(all...)); got != rows || rows != len(all) {
		t.Errorf("%d of %d process rows with %d words", got, rows, len(all))
	}
	if got := codesOf(c.ProcessCautions(processSteam, ProcessTinctureFlame, ProcessScald)); !slices.Equal(got,
		[]string{"scald", "tincture-flame", "steam"}) {
		t.Errorf("order %q", got)
	}
	if c.ProcessCautions() != nil || c.ProcessCautions("juggling") != nil {
		t.Error("no process has cautions")
	}
}

func TestLevels(t *testing.T) {
	for i, low := range levels {
		for j, high := range levels {
			if high.AtLeast(low) != (j >= i) {
				t.Errorf("%s at least %s: %v", high, low, high.AtLeast(low))
			}
		}
	}
}
