package catalogue

import (
	"slices"
	"strings"
	"testing"
)

// mustLoad returns the built-in catalogue.
func mustLoad(t testing.TB) *Catalogue {
	t.Helper()
	c, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// mustGet returns a built-in material.
func mustGet(t testing.TB, c *Catalogue, key string) Material {
	t.Helper()
	m, ok := c.Get(key)
	if !ok {
		t.Fatalf("no material %q", key)
	}
	return m
}

// The numbers of rows, counted in the files by hand: a row that was lost to an
// unclosed quote would be missed.
func TestRowCounts(t *testing.T) {
	c := mustLoad(t)
	for _, tc := range []struct {
		what      string
		got, want int
	}{
		{"materials", len(c.materials), 100},
		{"cautions", len(c.cautions()), 99},
		{"limits", len(c.limits()), 53},
		{"sources", len(c.sources()), 94},
		{"moistures", len(c.moistures), 76},
		{"medians", len(c.medians), 9},
		{"spoons", len(c.spoons), 92},
	} {
		if tc.got != tc.want {
			t.Errorf("%d %s, want %d", tc.got, tc.what, tc.want)
		}
	}
}

func TestReadTableRefusesAnotherHeader(t *testing.T) {
	err := readTable("sources.csv", []string{"source_id", "kind"}, func(*record) error { return nil })
	if err == nil || !strings.Contains(err.Error(), "header") {
		t.Errorf("error %v, want one about the header", err)
	}
	if err := readTable("none.csv", nil, func(*record) error { return nil }); err == nil {
		t.Error("a table that is not there was read")
	}
}

func TestRecordReportsBadCells(t *testing.T) {
	for _, cell := range []string{"12g", "NaN", "Inf", "1,5"} {
		r := &record{file: "data/x.csv", line: 7, columns: []string{"a"}, cells: []string{cell}}
		if v := r.number("a"); v != nil {
			t.Errorf("%q was read as %g", cell, *v)
		}
		if r.err == nil || !strings.Contains(r.err.Error(), "line 7") || !strings.Contains(r.err.Error(), cell) {
			t.Errorf("%q: error %v names neither line nor cell", cell, r.err)
		}
	}
	r := &record{columns: []string{"a"}, cells: []string{""}}
	if r.number("a") != nil || r.fraction("a") != nil || r.err != nil {
		t.Error("an empty cell is not unknown")
	}
	if r.text("b"); r.err == nil {
		t.Error("a column that is not there was read")
	}
}

func TestLoadIsOneCatalogue(t *testing.T) {
	first, second := mustLoad(t), mustLoad(t)
	if first != second {
		t.Error("the tables were read twice")
	}
}

func TestAllSortedAndUnique(t *testing.T) {
	c := mustLoad(t)
	all := c.All()
	for i := 1; i < len(all); i++ {
		if all[i-1].Key >= all[i].Key {
			t.Errorf("%q stands before %q", all[i-1].Key, all[i].Key)
		}
	}
	all[0].Key = "changed"
	if c.All()[0].Key == "changed" {
		t.Error("the list of All is the catalogue's own")
	}
	for _, m := range c.All() {
		if got, ok := c.Get(m.Key); !ok || got.CommonName != m.CommonName {
			t.Errorf("Get(%q) = %q, %v", m.Key, got.CommonName, ok)
		}
	}
}

// A key is typed at the brew table and may become part of a file name.
func TestMaterialsAreComplete(t *testing.T) {
	for _, m := range mustLoad(t).All() {
		if strings.Trim(m.Key, "abcdefghijklmnopqrstuvwxyz-") != "" || m.Key == "" {
			t.Errorf("key %q has other than lower-case letters and hyphens", m.Key)
		}
		if m.CommonName == "" || m.PartUsed == "" || len(m.TypicalForms) == 0 {
			t.Errorf("%s lacks a name, part or form", m.Key)
		}
		if !slices.Contains(builtInCategories, m.Category) {
			t.Errorf("%s: category %q is not known", m.Key, m.Category)
		}
		if !slices.Contains([]string{classWater, classAroma, classResin}, m.Class) {
			t.Errorf("%s: class %q is not known", m.Key, m.Class)
		}
		if m.Own || m.MoistureAsBought != nil || m.GramsPerTsp != nil {
			t.Errorf("%s passes for a user's own", m.Key)
		}
	}
}

// Every figure has a source, and none has a source without a figure.
func TestFiguresHaveSources(t *testing.T) {
	for _, m := range mustLoad(t).All() {
		for _, f := range []struct {
			what   string
			value  *float64
			source string
			max    float64 // no material has more
		}{
			{"low dose", m.DoseLowGPerL, m.DoseLowSource, 400},
			{"high dose", m.DoseHighGPerL, m.DoseHighSource, 400},
			{"fresh moisture", m.MoistureFresh, m.MoistureFreshSource, 0.97},
			{"dried moisture", m.MoistureDried, m.MoistureDriedSource, 0.40},
			{"dry yield", m.DryYieldKgPer100Kg, m.DryYieldSource, 50},
			{"sugar", m.SugarPct, m.SugarSource, 100},
			{"absorption", m.LiquidAbsorbedMLPerG, m.LiquidAbsorbedSource, 6},
		} {
			if (f.value == nil) != (f.source == "") {
				t.Errorf("%s: %s and its source %q do not go together", m.Key, f.what, f.source)
			}
			if f.value != nil && (*f.value <= 0 || *f.value > f.max) {
				t.Errorf("%s: %s %g is not in (0, %g]", m.Key, f.what, *f.value, f.max)
			}
		}
		if m.DoseLowGPerL != nil && m.DoseHighGPerL != nil && *m.DoseLowGPerL > *m.DoseHighGPerL {
			t.Errorf("%s: the dose runs from %g down to %g", m.Key, *m.DoseLowGPerL, *m.DoseHighGPerL)
		}
		if (m.DoseLowGPerL == nil) != (m.DoseBasis == "") {
			t.Errorf("%s: dose and basis %q do not go together", m.Key, m.DoseBasis)
		}
	}
}

// Water and sugar of one state cannot be more than the whole.
func TestWaterAndSugarFitTogether(t *testing.T) {
	for _, m := range mustLoad(t).All() {
		if m.SugarPct == nil {
			continue
		}
		water := m.MoistureFresh
		if strings.HasPrefix(m.SugarState, "dried") || strings.HasPrefix(m.SugarState, "as-is") {
			water = m.MoistureDried
		}
		if water != nil && *water+*m.SugarPct/100 > 1 {
			t.Errorf("%s: %.2f %% water and %.2f %% sugar", m.Key, *water*100, *m.SugarPct)
		}
	}
}

// Kinds and bases are words that the program knows.
func TestKindsAndBases(t *testing.T) {
	kinds := []string{
		"leaf", "flower", "needle", "stalk", "root", "bark", "wood", "seed", "bud", "pod", "bean-nib", "fruit", "pulp",
		"cone", "peel", "powder", "dissolves",
	}
	c := mustLoad(t)
	for _, m := range c.All() {
		if !slices.Contains(kinds, m.Kind) {
			t.Errorf("%s: kind %q is not known", m.Key, m.Kind)
		}
		if !slices.Contains([]string{"fresh", "dry", "as-is"}, m.DefaultBasis) {
			t.Errorf("%s: default basis %q is not known", m.Key, m.DefaultBasis)
		}
		for _, a := range m.Allergens {
			name := strings.TrimSuffix(a, "?")
			if _, ok := c.allergens()[fold(name)]; !ok {
				t.Errorf("%s: allergen %q is not listed", m.Key, a)
			}
		}
	}
	if m := c.With([]Material{{Key: "my-own-plant"}}).matching(func(m Material) bool { return m.Own }); m[0].Kind != "" {
		t.Errorf("an own material is taken for a %s", m[0].Kind)
	}
}
