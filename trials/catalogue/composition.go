package catalogue

import (
	"fmt"
	"slices"
	"strings"
)

// sugarShares is what a fruit or a sugar is made of, as mass fractions that
// add up to 1.
type sugarShares struct {
	WaterFrac          float64 // free and crystal water
	SugarFrac          float64 // sugars that beer yeast ferments
	NonfermentableFrac float64 // dissolved, but not fermented
	InsolubleFrac      float64 // pulp, skin, seed
	Source             string  // source ids
	Estimated          bool    // a part is reckoned from medians or from another state of the material
}

// SugarLimitRel is the half-width, as a share of the figure, within which the
// sugar of a given lot of fruit may be expected. Common practice, no source.
const SugarLimitRel = 0.25

// lactoseKey is the key of milk sugar, the one sugar that is not fermented.
const lactoseKey = "lactose"

// lactose is milk sugar as sold, the monohydrate C12H22O11.H2O, whose water is
// 18.015 of 360.31 g/mol (standard atomic weights). Ordinary beer yeast does
// not ferment it.
var lactose = sugarShares{
	WaterFrac:          18.015 / 360.31,
	NonfermentableFrac: 1 - 18.015/360.31,
	Source:             "common practice, no source",
}

// Composition returns the water, sugar and other parts of a fruit or sugar in
// a form, for its mass balance in a batch. Fruit in the USDA table [1] has
//
//	nonfermentable = carbohydrate - fibre - sugars + ash   (not below 0)
//	insoluble      = the remainder
//
// Juice is the fruit without its insoluble part. Other fruit is estimated:
// water from DefaultMoisture, sugar from the material or the median of fruit,
// the remainder split as in the middle one of the USDA fruits; dried fruit is
// reckoned from the fresh at equal dry matter, and so is one whose water the
// user measured. Syrups and sugars dissolve wholly. ok is false for other materials, whose sugar is too little to
// matter, and where the water is not known. Fruit varies: see SugarLimitRel.
func (c *Catalogue) Composition(m Material, form string) (composition sugarShares, ok bool) {
	// a figure with a source came from the table itself; only one without is the user's
	ownSugar := m.Own && m.SugarPct != nil && m.SugarSource == ""
	row, tabulated := c.fruits[m.Key]
	switch {
	case m.Key == lactoseKey && !ownSugar:
		return lactose, true
	case tabulated && !ownSugar:
		return c.inForm(row, m, form), true
	case m.Category == categoryFruit || m.Category == categorySweet || ownSugar:
		return c.estimate(m, form)
	}
	return sugarShares{}, false
}

// inForm brings a tabulated composition to the form in which it is used and to
// the water that the user measured.
func (c *Catalogue) inForm(row sugarShares, m Material, form string) sugarShares {
	if isJuice(form) && !m.IsLiquidOrSugar() {
		row = row.juice()
	}
	switch {
	case m.MoistureAsBought != nil:
		return row.atWater(*m.MoistureAsBought, "")
	case m.IsLiquidOrSugar():
		return row
	case stateOf(m, form) == stateFresh:
		return row
	}
	if water, source, ok := c.DefaultMoisture(m, form); ok {
		return row.atWater(water, source)
	}
	return row
}

// estimate composes a material from single figures.
func (c *Catalogue) estimate(m Material, form string) (sugarShares, bool) {
	water, source, ok := c.DefaultMoisture(m, asFruit(form))
	// nothing but water leaves nothing to share out
	if !ok || water >= 1 {
		return sugarShares{}, false
	}
	sugar, sugarSource := c.sugarOf(m, form, water)
	dissolved := c.pulp
	if m.IsLiquidOrSugar() {
		dissolved = 1
	}
	// sugar and water are from different sources, and may come to more than the whole
	sugar = min(sugar, 1-water)
	rest := 1 - water - sugar
	e := sugarShares{
		WaterFrac:          water,
		SugarFrac:          sugar,
		NonfermentableFrac: rest * dissolved,
		InsolubleFrac:      rest * (1 - dissolved),
		Source:             citation(source, sugarSource),
		Estimated:          true,
	}
	if isJuice(form) && !m.IsLiquidOrSugar() {
		e = e.juice()
	}
	return e, true
}

// sugarOf returns the sugar of a material as a mass fraction at the given
// water, from its own figure or the median of fresh fruit. A figure for the
// fresh material is carried over to the dried one at equal dry matter.
func (c *Catalogue) sugarOf(m Material, form string, water float64) (fraction float64, source string) {
	s, fresh := stateOf(m, form), strings.HasPrefix(m.SugarState, "fresh")
	switch {
	case m.SugarPct != nil && (s == stateFresh || !fresh):
		return *m.SugarPct / 100, m.SugarSource
	case m.SugarPct != nil && m.MoistureFresh != nil && *m.MoistureFresh < 1:
		return *m.SugarPct / 100 * (1 - water) / (1 - *m.MoistureFresh), m.SugarSource
	case m.Category == categoryFruit:
		d := c.medians[freshFruitSugar]
		if s == stateFresh {
			return d.value / 100, d.source
		}
		// fresh fruit has at least its median
		wet, _, _ := c.DefaultMoisture(m, "fresh")
		return min(1, d.value/100/(1-wet)) * (1 - water), d.source
	}
	return 0, ""
}

// juice returns the composition without its insoluble part.
func (p sugarShares) juice() sugarShares {
	liquid := 1 - p.InsolubleFrac
	p.WaterFrac /= liquid
	p.SugarFrac /= liquid
	p.NonfermentableFrac /= liquid
	p.InsolubleFrac = 0
	return p
}

// atWater returns the composition at another water content with the dry matter
// made up as before.
func (p sugarShares) atWater(water float64, source string) sugarShares {
	f := (1 - water) / (1 - p.WaterFrac)
	return sugarShares{
		WaterFrac:          water,
		SugarFrac:          p.SugarFrac * f,
		NonfermentableFrac: p.NonfermentableFrac * f,
		InsolubleFrac:      p.InsolubleFrac * f,
		Source:             citation(p.Source, source),
		Estimated:          true,
	}
}

// isJuice reports whether a form is juice.
func isJuice(form string) bool { return strings.EqualFold(strings.TrimSpace(form), "juice") }

// asFruit is the form whose composition juice is reckoned from.
func asFruit(form string) string {
	if isJuice(form) {
		return "fresh"
	}
	return form
}

// citation joins two source texts without repeating one.
func citation(a, b string) string {
	if b == "" || a == b {
		return a
	}
	if a == "" {
		return b
	}
	return a + ";" + b
}

// fruitKeys says which material a row of the USDA table is. Rows of juices and
// of materials that the catalogue does not have are left out, as are ginger
// and pumpkin, whose starch the derived columns would count as dissolved.
var fruitKeys = []struct{ name, key string }{
	{"raspberry", "raspberry"},
	{"blackberry", "blackberry"},
	{"blueberry", "blueberry"},
	{"strawberry", "strawberry"},
	{"sour cherry", "cherry-sour"},
	{"cranberry", "cranberry"},
	{"black currant", "blackcurrant"},
	{"elderberry", "elderberry"},
	{"peach", "peach"},
	{"apricot", "apricot"},
	{"plum", "plum"},
	{"mango", "mango"},
	{"passion fruit", "passion-fruit"},
	{"honey", "honey"},
	{"molasses", "molasses"},
	{"maple syrup (Canadian)", "maple-syrup"},
}

// wholeFruits are the rows of whole raw fruit, the ones that say how the
// remainder of a fruit is split.
var wholeFruits = []string{
	"raspberry", "blackberry", "blueberry", "strawberry", "sour cherry", "sweet cherry", "cranberry", "red/white currant",
	"peach", "apricot", "plum", "mango", "pineapple", "passion fruit", "guava", "orange", "apple", "pear", "grape",
}

var fruitColumns = []string{
	"usda_ndb", "name", "usda_desc", "water_pct", "sugars_pct", "carb_pct", "fibre_pct", "ash_pct", "protein_pct",
	"fat_pct",
	"derived_nonferm_soluble_pct", "derived_insoluble_pct", "derived_soluble_solids_of_liquid_pct",
}

// readFruits reads the compositions by material key, and the middle share of
// the dissolved in what is neither water nor sugar of a whole fruit. Rows
// without a sugar figure have no composition.
func readFruits() (byKey map[string]sugarShares, dissolvedShare float64, err error) {
	byKey = map[string]sugarShares{}
	var shares []float64
	err = readTable("fruit.csv", fruitColumns, func(r *record) error {
		row, ok := compositionOf(r)
		if !ok {
			return nil
		}
		for _, f := range fruitKeys {
			if f.name == r.text("name") {
				byKey[f.key] = row
			}
		}
		if slices.Contains(wholeFruits, r.text("name")) {
			shares = append(shares, row.NonfermentableFrac/(row.NonfermentableFrac+row.InsolubleFrac))
		}
		return nil
	})
	if err != nil {
		return nil, 0, err
	}
	// a row renamed in the table would move the middle one, and nobody would see it
	if len(shares) != len(wholeFruits) {
		return nil, 0, fmt.Errorf("data/fruit.csv has %d of the %d whole fruits", len(shares), len(wholeFruits))
	}
	slices.Sort(shares)
	return byKey, shares[len(shares)/2], nil
}

// compositionOf turns a row of the USDA table into a Composition; ok is false
// if the row has no sugar figure.
func compositionOf(r *record) (sugarShares, bool) {
	water, sugar := r.fraction("water_pct"), r.fraction("sugars_pct")
	dissolved := r.fraction("derived_nonferm_soluble_pct")
	if water == nil || sugar == nil || dissolved == nil {
		return sugarShares{}, false
	}
	return sugarShares{
		WaterFrac:          *water,
		SugarFrac:          *sugar,
		NonfermentableFrac: *dissolved,
		InsolubleFrac:      max(0, 1-*water-*sugar-*dissolved), // the table's own column is rounded
		Source:             "SR26:" + r.text("usda_ndb"),
	}, true
}
