package catalogue

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestCompositionOfTabulatedFruit(t *testing.T) {
	c := mustLoad(t)
	for _, tc := range []struct {
		key, form                  string
		water, sugar, nonferm, ins float64
		source                     string
	}{
		// USDA SR 26, NDB 09302 and 09050: water and sugars as published,
		// nonfermentable = carbohydrate - fibre - sugars + ash by hand:
		// 11.94 - 6.5 - 4.42 + 0.46 = 1.48; 14.49 - 2.4 - 9.96 + 0.24 = 2.37
		{"raspberry", "fresh", 0.8575, 0.0442, 0.0148, 0.0835, "SR26:09302"},
		{"raspberry", "puree", 0.8575, 0.0442, 0.0148, 0.0835, "SR26:09302"},
		{"blueberry", "frozen", 0.8421, 0.0996, 0.0237, 0.0346, "SR26:09050"},
		// juice by hand: 0.8575/0.9165, 0.0442/0.9165, 0.0148/0.9165
		{"raspberry", "juice", 0.93562, 0.04823, 0.01615, 0, "SR26:09302"},
		// NDB 19296, 19304, 19911: water and sugars as published
		{"honey", "", 0.1710, 0.8212, 0.0028, 0.0050, "SR26:19296"},
		{"molasses", "", 0.2187, 0.7472, 0.0331, 0.0010, "SR26:19304"},
		{"maple-syrup", "", 0.3215, 0.5992, 0.0793, 0, "SR26:19911"},
	} {
		got, ok := c.Composition(mustGet(t, c, tc.key), tc.form)
		if !ok || got.Estimated || got.Source != tc.source {
			t.Errorf("%s %s: estimated %v, source %q, %v", tc.key, tc.form, got.Estimated, got.Source, ok)
		}
		for _, f := range []struct {
			what      string
			got, want float64
		}{
			{"water", got.WaterFrac, tc.water},
			{"sugar", got.SugarFrac, tc.sugar},
			{"nonfermentable", got.NonfermentableFrac, tc.nonferm},
			{"insoluble", got.InsolubleFrac, tc.ins},
		} {
			if math.Abs(f.got-f.want) > 1e-5 {
				t.Errorf("%s %s: %s %.5f, want %.5f", tc.key, tc.form, f.what, f.got, f.want)
			}
		}
	}
}

// The table's own last column, soluble solids of the liquid, is the juice's.
func TestJuiceAgreesWithTheTable(t *testing.T) {
	c := mustLoad(t)
	checked := 0
	err := readTable("fruit.csv", fruitColumns, func(r *record) error {
		want := r.fraction("derived_soluble_solids_of_liquid_pct")
		id := "SR26:" + r.text("usda_ndb")
		i := slices.IndexFunc(c.materials, func(m Material) bool { return c.fruits[m.Key].Source == id })
		if i < 0 || want == nil {
			return nil
		}
		checked++
		juice := c.fruits[c.materials[i].Key].juice()
		if got := juice.SugarFrac + juice.NonfermentableFrac; math.Abs(got-*want) > 1.5e-4 {
			t.Errorf("%s: %.4f, the table has %.4f", r.text("name"), got, *want)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if checked != 14 {
		t.Errorf("%d rows checked, want 14", checked)
	}
}

// Milk sugar monohydrate has 18.015 g water in 360.31 g/mol and gives beer
// yeast nothing to ferment.
func TestLactoseDoesNotFerment(t *testing.T) {
	c := mustLoad(t)
	got, ok := c.Composition(mustGet(t, c, "lactose"), "powder")
	if !ok || got.SugarFrac != 0 || math.Abs(got.WaterFrac-0.05) > 1e-4 || math.Abs(got.NonfermentableFrac-0.95) > 1e-4 {
		t.Errorf("%+v, %v", got, ok)
	}
}

func TestCompositionEstimates(t *testing.T) {
	c := mustLoad(t)
	for _, tc := range []struct {
		key, form    string
		water, sugar float64
	}{
		{"blackcurrant", "fresh", 0.8196, 0.0633}, // USDA water, Indian sugar
		{"gooseberry", "fresh", 0.8787, 0.085},    // sugar: median of fruit
		{"sloe", "whole", 0.862, 0.085},           // both medians
		{"cane-sugar", "", 0.0002, 0.9980},        // NDB 19335 as published
		{"jaggery", "", 0.112, 0.8432},
		{"date", "dried", 0.2053, 0.6335}, // NDB 09087 as published
		// by hand: sugar at equal dry matter, 0.0442 * 0.695/0.1425
		{"raspberry", "dried", 0.305, 0.21557},
		// 0.085 * 0.90/0.138
		{"hawthorn-berry", "cut", 0.10, 0.55435},
		// 0.085 * 0.90/0.2020
		{"elderberry", "dried", 0.10, 0.37871},
	} {
		got, ok := c.Composition(mustGet(t, c, tc.key), tc.form)
		if !ok || !got.Estimated || math.Abs(got.WaterFrac-tc.water) > 1e-5 || math.Abs(got.SugarFrac-tc.sugar) > 1e-5 {
			t.Errorf("%s %s: %+v, %v; want water %.5f, sugar %.5f", tc.key, tc.form, got, ok, tc.water, tc.sugar)
		}
		if len(c.Sources(got.Source)) == 0 {
			t.Errorf("%s %s: no source in %q", tc.key, tc.form, got.Source)
		}
	}
	for _, key := range []string{"hibiscus", "ginger-fresh", "coriander-seed"} {
		if got, ok := c.Composition(mustGet(t, c, key), "fresh"); ok {
			t.Errorf("%s has a composition %+v", key, got)
		}
	}
}

// The parts make the whole, whatever the material and its form.
func TestCompositionAddsUp(t *testing.T) {
	c := mustLoad(t)
	known := 0
	for _, m := range c.All() {
		for _, form := range allForms {
			p, ok := c.Composition(m, form)
			if !ok {
				continue
			}
			known++
			sum := p.WaterFrac + p.SugarFrac + p.NonfermentableFrac + p.InsolubleFrac
			if math.Abs(sum-1) > 1e-12 {
				t.Errorf("%s %q: the parts add up to %.6f", m.Key, form, sum)
			}
			for _, v := range []float64{p.WaterFrac, p.SugarFrac, p.NonfermentableFrac, p.InsolubleFrac} {
				if v < 0 || v > 1 {
					t.Errorf("%s %q: a part is %g", m.Key, form, v)
				}
			}
		}
	}
	if known < 300 {
		t.Errorf("only %d compositions", known)
	}
}

// A user's own figures are used, and never make more than the whole.
func TestCompositionOfOwnMaterial(t *testing.T) {
	c := mustLoad(t)
	rapid.Check(t, func(t *rapid.T) {
		water := rapid.Float64Range(0, 0.999).Draw(t, "water")
		sugar := rapid.Float64Range(0, 100).Draw(t, "sugar")
		m := Material{
			Key: "medlar", Category: rapid.SampledFrom([]string{categoryFruit, categorySweet, categoryRoot}).Draw(t, "category"),
			Own: true, MoistureAsBought: &water, SugarPct: &sugar, SugarState: "as-is",
		}
		p, ok := c.Composition(m, rapid.SampledFrom(allForms).Draw(t, "form"))
		if !ok || !p.Estimated {
			t.Fatalf("%+v, %v", p, ok)
		}
		if sum := p.WaterFrac + p.SugarFrac + p.NonfermentableFrac + p.InsolubleFrac; math.Abs(sum-1) > 1e-9 {
			t.Fatalf("the parts add up to %.9f", sum)
		}
		if min(p.WaterFrac, p.SugarFrac, p.NonfermentableFrac, p.InsolubleFrac) < 0 {
			t.Fatalf("a part below nothing: %+v", p)
		}
	})
}

// Raspberries that the user found wetter or drier keep the make-up of their
// dry matter: by hand 0.0442 * 0.20/0.1425 = 0.06204 at 80 % water.
func TestCompositionAtMeasuredWater(t *testing.T) {
	c := mustLoad(t)
	water := 0.80
	with := c.With([]Material{{Key: "raspberry", MoistureAsBought: &water}})
	p, ok := with.Composition(mustGet(t, with, "raspberry"), "fresh")
	if !ok || !p.Estimated || p.WaterFrac != 0.80 || math.Abs(p.SugarFrac-0.06204) > 1e-5 {
		t.Errorf("%+v, %v", p, ok)
	}
}

// Two columns of two tables hold the same USDA row and must agree.
func TestCatalogueAgreesWithTheFruitTable(t *testing.T) {
	c := mustLoad(t)
	err := readTable("fruit.csv", fruitColumns, func(r *record) error {
		id := "SR26:" + r.text("usda_ndb")
		for _, m := range c.All() {
			for _, f := range []struct {
				source    string
				got, want *float64
			}{
				{m.MoistureFreshSource, m.MoistureFresh, r.fraction("water_pct")},
				{m.MoistureDriedSource, m.MoistureDried, r.fraction("water_pct")},
				{m.SugarSource, m.SugarPct, r.number("sugars_pct")},
			} {
				if f.source == id && math.Abs(*f.got-*f.want) > 1e-9 {
					t.Errorf("%s cites %s with %g, the row has %g", m.Key, id, *f.got, *f.want)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestFruitKeysAreMaterials(t *testing.T) {
	c := mustLoad(t)
	for _, f := range fruitKeys {
		if _, ok := c.Get(f.key); !ok {
			t.Errorf("%q: no material %q", f.name, f.key)
		}
	}
}
