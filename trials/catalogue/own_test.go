package catalogue

import (
	"slices"
	"testing"
)

func TestWithAddsAMaterial(t *testing.T) {
	c := mustLoad(t)
	sugar := 20.0
	with := c.With([]Material{{Key: "medlar", CommonName: "Medlar", Category: categoryFruit, SugarPct: &sugar}})
	if len(with.All()) != len(c.All())+1 {
		t.Errorf("%d materials", len(with.All()))
	}
	m, ok := with.Get("medlar")
	if !ok || !m.Own || m.SugarPct == nil || *m.SugarPct != 20 {
		t.Errorf("%+v, %v", m, ok)
	}
	if got := keysOf(with.Lookup("medlars")); !slices.Equal(got, []string{"medlar"}) {
		t.Errorf("Lookup finds %q", got)
	}
	if _, ok := c.Get("medlar"); ok {
		t.Error("the built-in catalogue was changed")
	}
	if c.With(nil) != c {
		t.Error("a catalogue without own materials was copied")
	}
}

func TestWithKeepsTheOrder(t *testing.T) {
	with := mustLoad(t).With([]Material{{Key: "zedoary"}, {Key: "acorn"}, {Key: "medlar"}})
	if !slices.IsSortedFunc(with.All(), func(a, b Material) int { return slices.Compare([]byte(a.Key), []byte(b.Key)) }) {
		t.Error("not sorted by key")
	}
}

// Own figures for a built-in material: they count, the rest is inherited, and
// no caution is lost.
func TestWithShadowsByKey(t *testing.T) {
	c := mustLoad(t)
	moist := 0.14
	old := mustGet(t, c, "hibiscus")
	with := c.With([]Material{{Key: "hibiscus", MoistureAsBought: &moist, CautionCodes: []string{"citrus-wax"}}})
	m := mustGet(t, with, "hibiscus")
	if len(with.All()) != len(c.All()) {
		t.Errorf("%d materials", len(with.All()))
	}
	if v, source, _ := with.DefaultMoisture(m, "cut"); v != moist || source != "your own figure" {
		t.Errorf("moisture %.3f from %q", v, source)
	}
	if m.CommonName != old.CommonName || m.Class != old.Class || m.HardWhole != old.HardWhole ||
		*m.DoseLowGPerL != *old.DoseLowGPerL {
		t.Errorf("not inherited: %+v", m)
	}
	for _, code := range append(slices.Clone(old.CautionCodes), "citrus-wax") {
		if !slices.Contains(m.CautionCodes, code) {
			t.Errorf("caution %q was lost", code)
		}
	}
	if len(mustGet(t, c, "hibiscus").CautionCodes) != len(old.CautionCodes) || mustGet(t, c, "hibiscus").Own {
		t.Error("the built-in material was changed")
	}
}

func TestOwnFiguresWin(t *testing.T) {
	low, sugar := 2.0, 1.0
	with := mustLoad(t).With([]Material{{
		Key: "raspberry", CommonName: "Garden raspberry", PartUsed: "leaf", Category: categoryLeafHerb, Class: classAroma,
		DoseLowGPerL: &low, DoseBasis: "dry", SugarPct: &sugar, SugarState: "as-is",
	}})
	m := mustGet(t, with, "raspberry")
	if m.CommonName != "Garden raspberry" || m.Category != categoryLeafHerb || m.Class != classAroma || m.HardWhole {
		t.Errorf("the built-in words won: %+v", m)
	}
	if *m.DoseLowGPerL != 2 || m.DoseHighGPerL != nil || m.DoseBasis != "dry" || *m.SugarPct != 1 || m.SugarSource != "" {
		t.Errorf("the built-in figures won: %+v", m)
	}
}

// A dangerous plant under another key is still the plant.
func TestCautionsFollowTheName(t *testing.T) {
	c := mustLoad(t)
	for _, own := range []Material{
		{Key: "sweet-flag"},
		{Key: "my-root", CommonName: "Calamus"},
		{Key: "my-root", BotanicalName: "Acorus calamus"},
	} {
		m := mustGet(t, c.With([]Material{own}), own.Key)
		if reason, refused := c.NoDose(m); !refused || reason.HazardCode != "asarone" {
			t.Errorf("%+v: a dose is suggested", own)
		}
	}
	m := mustGet(t, c.With([]Material{{Key: "medlar", CommonName: "Medlar"}}), "medlar")
	if len(m.CautionCodes) != 0 {
		t.Errorf("medlar has the cautions %q", m.CautionCodes)
	}
}

func TestLaterOwnMaterialCounts(t *testing.T) {
	with := mustLoad(t).With([]Material{{Key: "medlar", Notes: "first"}, {Key: "medlar", Notes: "second"}})
	if m := mustGet(t, with, "medlar"); m.Notes != "second" {
		t.Errorf("notes %q", m.Notes)
	}
}

// The words of dominant solutes are an own material's way to its class too.
func TestOwnClassFromSolute(t *testing.T) {
	with := mustLoad(t).With([]Material{{Key: "medlar", DominantSolute: "volatile-aroma"}, {Key: "acorn"}})
	if m := mustGet(t, with, "medlar"); m.Class != classAroma {
		t.Errorf("class %q", m.Class)
	}
	if m := mustGet(t, with, "acorn"); m.Class != "" {
		t.Errorf("class %q for a material of which nothing is known", m.Class)
	}
}

// A moisture measured on the dried plant says nothing on the fresh one: mint
// leaves hold 84.24 % water (Indian Food Composition Tables 2017, G016) or 85.55 %
// (USDA NDB 02065) when fresh, whatever the bag of dried ones holds.
func TestOwnDriedMoistureLeavesTheFreshFigure(t *testing.T) {
	dried := 0.09
	with := mustLoad(t).With([]Material{{Key: "spearmint", MoistureAsBought: &dried}})
	m, _ := with.Get("spearmint")
	if v, _, ok := with.DefaultMoisture(m, "cut"); !ok || v != dried {
		t.Errorf("dried: %v, %v", v, ok)
	}
	if v, source, ok := with.DefaultMoisture(m, "fresh"); !ok || v < 0.8 || v > 0.9 {
		t.Errorf("fresh: %v from %s, %v", v, source, ok)
	}
}
