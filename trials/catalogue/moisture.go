package catalogue

import (
	"fmt"
	"slices"
)

// driedMoistureDefault is the water of a dried plant of which nothing else is
// known, as a mass fraction. Growers dry to about this figure; how far a given
// bag is from it is not known.
const driedMoistureDefault = 0.10

// freshFrom parts a measured moisture of a dried from that of a fresh plant, as
// a mass fraction: no dried plant holds so much water, no fresh one so little. A
// figure measured on the one says nothing on the other. Common practice, no
// source; the wettest dried row of the tables is raisins at 0.20.
const freshFrom = 0.35

// moisture is one row of the second moisture table.
type moisture struct {
	name     string
	fraction float64
	source   string // a source id
}

// classDefault is a median over the USDA rows of one kind of material.
type classDefault struct {
	value  float64
	source string
}

// DefaultMoisture returns the water of a material in a form, as a mass
// fraction, and its source: the user's own figure (unless it was plainly
// measured in another state that the table knows), else the material's own
// figure for that state, else the second moisture table, else the median of
// its kind, else what its tissue is judged to hold where it is spoken of fresh,
// else for dried material driedMoistureDefault. Fruit juice is the
// fruit without its insoluble part, see Composition. ok is false for a fresh
// material of which nothing is known: ask for a figure.
func (c *Catalogue) DefaultMoisture(m Material, form string) (fraction float64, source string, ok bool) {
	if m.MoistureAsBought != nil && !m.measuredOtherwise(form) {
		return *m.MoistureAsBought, "your own figure", true
	}
	if isJuice(form) && m.Category == categoryFruit {
		juice, known := c.Composition(m, form)
		return juice.WaterFrac, juice.Source, known
	}
	s := stateOf(m, form)
	if v, src, known := m.moistureIn(s); known {
		return v, src, true
	}
	if v, src, known := c.tabulatedMoisture(m.Key, s); known {
		return v, src, true
	}
	if v, known := judgedFresh(m); known && s == stateFresh && m.Kind == kindNeedle {
		// the median of leaf herbs is that of soft leaves, far wetter than a needle
		return v, judged, true
	}
	if v, src, known := c.medianMoisture(m, s); known {
		return v, src, true
	}
	if v, known := judgedFresh(m); known && s == stateFresh {
		return v, judged, true
	}
	if m.Key == lactoseKey {
		return lactose.WaterFrac, lactose.Source, true
	}
	if s == stateDried && !m.IsLiquidOrSugar() {
		return driedMoistureDefault, "common practice, no source", true
	}
	return 0, "", false
}

// judged is the source of a figure that is a judgement.
const judged = "common practice, no source"

// The kinds of tissue whose water when fresh is judged apart from the others.
const (
	kindFlower = "flower"
	kindLeaf   = "leaf"
	kindNeedle = "needle"
)

// judgedFresh returns the water of a fresh plant by its kind of tissue, as a
// mass fraction within about 0.05: our judgement. ok is false for a material
// that is not as a rule spoken of fresh.
func judgedFresh(m Material) (fraction float64, ok bool) {
	if m.DefaultBasis != "fresh" {
		return 0, false
	}
	switch m.Kind {
	case kindFlower:
		return 0.80, true
	case kindLeaf:
		return 0.78, true
	case kindNeedle:
		return 0.55, true
	}
	return 0.75, true
}

// measuredOtherwise reports whether the user's figure was plainly measured on
// the plant in another state than form, for which the table has a figure.
func (m Material) measuredOtherwise(form string) bool {
	s := stateOf(m, form)
	_, _, tabulated := m.moistureIn(s)
	return tabulated && (*m.MoistureAsBought > freshFrom) != (s == stateFresh)
}

// moistureIn returns the material's own figure for a state.
func (m Material) moistureIn(s state) (fraction float64, source string, ok bool) {
	v, src := m.MoistureDried, m.MoistureDriedSource
	if s == stateFresh {
		v, src = m.MoistureFresh, m.MoistureFreshSource
	}
	if v == nil {
		return 0, "", false
	}
	return *v, src, true
}

// tabulatedMoisture looks a material up in the second moisture table.
func (c *Catalogue) tabulatedMoisture(key string, s state) (fraction float64, source string, ok bool) {
	for _, link := range moistureLinks {
		if link.key != key || link.state != s {
			continue
		}
		for _, row := range c.moistures {
			if row.name == link.name {
				return row.fraction, row.source, true
			}
		}
	}
	return 0, "", false
}

// crispFruits are sold dried hard like a herb, not soft like a raisin, so that
// the median of soft dried fruit is not theirs. Common practice, no source.
var crispFruits = []string{"hawthorn-berry", "rowan-berry", "elderberry"}

// medianMoisture returns the median water of a material's kind in a state.
func (c *Catalogue) medianMoisture(m Material, s state) (fraction float64, source string, ok bool) {
	// what is used as it is, is neither fresh nor dried
	if m.DoseBasis == "as-is" || s == stateDried && slices.Contains(crispFruits, m.Key) {
		return 0, "", false
	}
	d, ok := c.medians[medianRow(m.Category, s)]
	return d.value / 100, d.source, ok
}

// moistureLinks say which row of the second moisture table is which material
// in which state. The rows of cloves and mace of the Indian tables are left
// out: their moisture (26 and 20 %) is far above that of traded spice, and the
// table itself advises against their use. The row of amla is another plant
// than the gooseberry.
var moistureLinks = []struct {
	name  string
	key   string
	state state
}{
	{"blackberry", "blackberry", stateFresh},
	{"sour cherry", "cherry-sour", stateFresh},
	{"blackcurrant", "blackcurrant", stateFresh},
	{"mango ripe", "mango", stateFresh},
	{"peach", "peach", stateFresh},
	{"plum", "plum", stateFresh},
	{"strawberry", "strawberry", stateFresh},
	{"raspberry", "raspberry", stateFresh},
	{"blueberry", "blueberry", stateFresh},
	{"cranberry", "cranberry", stateFresh},
	{"elderberry", "elderberry", stateFresh},
	{"gooseberry", "gooseberry", stateFresh},
	{"rhubarb", "rhubarb", stateFresh},
	{"apricot dried", "apricot", stateDried},
	{"dates dry", "date", stateDried},
	{"tamarind pulp", "tamarind", stateDried},
	{"green chilli", "chilli", stateFresh},
	{"red chilli dried", "chilli", stateDried},
	{"ginger fresh", "ginger-fresh", stateFresh},
	{"ginger ground", "ginger-dried", stateDried},
	{"mint fresh", "spearmint", stateFresh},
	{"basil fresh", "basil", stateFresh},
	{"rosemary fresh", "rosemary", stateFresh},
	{"thyme fresh", "thyme", stateFresh},
	{"lemongrass fresh", "lemongrass", stateFresh},
	{"cardamom green", "cardamom-green", stateDried},
	{"coriander seed", "coriander-seed", stateDried},
	{"nutmeg", "nutmeg", stateDried},
	{"black pepper", "black-pepper", stateDried},
	{"allspice ground", "allspice", stateDried},
	{"cloves ground", "clove", stateDried},
	{"cinnamon ground", "cinnamon-ceylon", stateDried},
	{"cinnamon ground", "cassia", stateDried},
	{"vanilla bean cured", "vanilla", stateDried},
	{"juniper berry dried", "juniper-berry", stateDried},
	{"orange peel fresh", "orange-zest", stateFresh},
	{"lemon peel fresh", "lemon-zest", stateFresh},
	{"orange peel dried", "sweet-orange-peel", stateDried},
	{"orange peel dried", "bitter-orange-peel", stateDried},
	{"hibiscus (roselle) fresh", "hibiscus", stateFresh},
	{"hibiscus calyx dried", "hibiscus", stateDried},
	{"elderflower fresh", "elderflower", stateFresh},
	{"rose petal fresh", "rose-petal", stateFresh},
	{"chamomile dried", "chamomile", stateDried},
	{"spruce tip fresh", "spruce-tip", stateFresh},
}

// medianRow names the row of the table of medians for the moisture of a
// category in a state, empty if there is none.
func medianRow(category string, s state) string {
	switch {
	case category == categoryLeafHerb && s == stateDried:
		return "dried leaf herb moisture %"
	case category == categoryLeafHerb:
		return "fresh leaf herb moisture %"
	case category == categorySeedSpice && s == stateDried:
		return "dried seed spice moisture %"
	case category == categoryFruit && s == stateDried:
		return "dried fruit (soft) moisture %"
	case category == categoryFruit:
		return "fresh fruit moisture %"
	}
	return ""
}

// freshFruitSugar is the row of the table of medians for the sugar of fruit.
const freshFruitSugar = "fresh fruit sugar %"

var moistureColumns = []string{
	"name", "source_code", "source_name", "moisture_g_per_100g", "sd", "n_regions",
	"dry_matter_frac", "g_per_1g_dried10", "source", "note",
}

// readMoistures reads the second moisture table. Rows with a food code are
// from the Indian tables, the others from memory.
func readMoistures() ([]moisture, error) {
	var rows []moisture
	err := readTable("moisture.csv", moistureColumns, func(r *record) error {
		v := r.fraction("moisture_g_per_100g")
		if v == nil {
			return fmt.Errorf("%s line %d: no moisture", r.file, r.line)
		}
		rows = append(rows, moisture{name: r.text("name"), fraction: *v, source: r.text("source")})
		return nil
	})
	return rows, err
}

var classColumns = []string{"what", "default", "min", "max", "n", "source_id", "note"}

// readClassDefaults reads the medians by the words of their first column.
func readClassDefaults() (map[string]classDefault, error) {
	defaults := map[string]classDefault{}
	err := readTable("class_defaults.csv", classColumns, func(r *record) error {
		v := r.number("default")
		if v == nil {
			return fmt.Errorf("%s line %d: no value", r.file, r.line)
		}
		defaults[r.text("what")] = classDefault{value: *v, source: r.text("source_id")}
		return nil
	})
	return defaults, err
}
