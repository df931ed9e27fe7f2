package catalogue

import (
	"fmt"
	"slices"
	"strings"
)

// tspPerTbsp is the number of teaspoons in a tablespoon, US customary measure
// (NIST Handbook 44, appendix C).
const tspPerTbsp = 3

// spoonFood is a food with the way its spoon was filled.
type spoonFood struct {
	food, measure string
}

// spoonRow is one weighed spoon.
type spoonRow struct {
	grams  float64
	source string
}

// spoonLink says which rows are which material in which forms. detail is what
// follows "tsp" or "tbsp" in the column measure ("ground"). An empty list of
// forms means any form.
type spoonLink struct {
	food, detail string
	keys         []string
	forms        []string
}

// Leaves sold dried are broken as they come, so a spoon of them is much the
// same called whole or cut.
var (
	spoonPowder = []string{"powder", "ground"}
	spoonWhole  = []string{"whole", "dried"}
	spoonLeaf   = []string{"whole", "cut", "dried"}
	spoonFresh  = []string{"fresh", "fresh-cut"}
	spoonZest   = []string{"zest", "fresh", "fresh-cut"}
)

// spoonLinks leave out brown sugar, whose spoon weighs 3.0 g loose and 4.6 g
// packed, and vanilla extract, which is not the pod.
var spoonLinks = []spoonLink{
	{"Spices, allspice, ground", "", []string{"allspice"}, spoonPowder},
	{"Spices, anise seed", "whole", []string{"aniseed"}, spoonWhole},
	{"Spices, basil, dried", "leaves", []string{"basil"}, spoonLeaf},
	{"Spices, basil, dried", "ground", []string{"basil"}, spoonPowder},
	{"Basil, fresh", "chopped", []string{"basil"}, spoonFresh},
	{"Spices, bay leaf", "crumbled", []string{"bay-leaf"}, []string{"cut", "crushed"}},
	{"Spices, caraway seed", "", []string{"caraway"}, spoonWhole},
	{"Spices, cardamom", "ground", []string{"cardamom-green"}, spoonPowder},
	{"Spices, cinnamon, ground", "", []string{"cinnamon-ceylon", "cassia"}, spoonPowder},
	{"Spices, cloves, ground", "", []string{"clove"}, spoonPowder},
	{"Spices, coriander seed", "", []string{"coriander-seed"}, spoonWhole},
	{"Spices, fennel seed", "whole", []string{"fennel-seed"}, spoonWhole},
	{"Spices, ginger, ground", "", []string{"ginger-dried"}, spoonPowder},
	{"Ginger root, raw", "", []string{"ginger-fresh"}, spoonFresh},
	{"Spices, nutmeg, ground", "", []string{"nutmeg"}, spoonPowder},
	{"Spices, pepper, black", "ground", []string{"black-pepper"}, spoonPowder},
	{"Spices, pepper, black", "whole", []string{"black-pepper"}, spoonWhole},
	{"Spices, pepper, red or cayenne", "", []string{"chilli"}, spoonPowder},
	{"Spices, rosemary, dried", "", []string{"rosemary"}, spoonLeaf},
	{"Rosemary, fresh", "", []string{"rosemary"}, spoonFresh},
	{"Spices, sage, ground", "", []string{"sage"}, spoonPowder},
	{"Spices, thyme, dried", "leaves", []string{"thyme"}, spoonLeaf},
	{"Spices, thyme, dried", "ground", []string{"thyme"}, spoonPowder},
	{"Thyme, fresh", "", []string{"thyme"}, spoonFresh},
	{"Peppermint, fresh", "", []string{"peppermint"}, spoonFresh},
	{"Spearmint, fresh", "", []string{"spearmint"}, spoonFresh},
	{"Spearmint, dried", "", []string{"spearmint"}, spoonLeaf},
	{"Lemon peel, raw", "", []string{"lemon-zest"}, spoonZest},
	{"Orange peel, raw", "", []string{"orange-zest"}, spoonZest},
	{"Lemon grass (citronella), raw", "", []string{"lemongrass"}, spoonFresh},
	{"Elderflower, dried", "", []string{"elderflower"}, spoonLeaf},
	{"Cocoa, dry powder, unsweetened", "", []string{"cocoa-powder"}, nil},
	{"Honey", "", []string{"honey"}, nil},
	{"Sugars, granulated", "", []string{"cane-sugar"}, nil},
	{"Syrups, maple", "", []string{"maple-syrup"}, nil},
}

// SpoonWeight returns the grams of a material in a level US teaspoon (4.93 mL)
// and tablespoon (14.79 mL) for a form, with the source; all nil and empty if
// that spoon was never weighed. Where the table has one of the two spoons, the
// other follows from tspPerTbsp. An empty form will do where the material was
// weighed in one form only. USDA weights of light leaves are rounded to 0.1 g,
// which is up to a tenth of them.
func (c *Catalogue) SpoonWeight(m Material, form string) (gramsPerTsp, gramsPerTbsp *float64, source string) {
	if m.GramsPerTsp != nil {
		tbsp := *m.GramsPerTsp * tspPerTbsp
		return m.GramsPerTsp, &tbsp, "your own figure"
	}
	link, ok := spoonLinkOf(m.Key, strings.ToLower(strings.TrimSpace(form)))
	if !ok {
		return nil, nil, ""
	}
	tsp, hasTsp := c.spoons[spoonFood{link.food, measure("tsp", link.detail)}]
	tbsp, hasTbsp := c.spoons[spoonFood{link.food, measure("tbsp", link.detail)}]
	switch {
	case !hasTsp && !hasTbsp:
		return nil, nil, ""
	case !hasTsp:
		tsp = spoonRow{tbsp.grams / tspPerTbsp, tbsp.source}
	case !hasTbsp:
		tbsp = spoonRow{tsp.grams * tspPerTbsp, tsp.source}
	}
	return &tsp.grams, &tbsp.grams, tsp.source
}

// spoonLinkOf finds the link of a material in a form.
func spoonLinkOf(key, form string) (spoonLink, bool) {
	var links []spoonLink
	for _, l := range spoonLinks {
		if !slices.Contains(l.keys, key) {
			continue
		}
		if l.forms == nil || slices.Contains(l.forms, form) {
			return l, true
		}
		links = append(links, l)
	}
	if form == "" && len(links) == 1 {
		return links[0], true
	}
	return spoonLink{}, false
}

// measure writes a spoon as the table does: "tsp" or "tsp, ground".
func measure(spoon, detail string) string {
	if detail == "" {
		return spoon
	}
	return spoon + ", " + detail
}

var spoonColumns = []string{"food", "measure", "g_per_measure", "bulk_density_g_per_ml", "source_id", "note"}

// readSpoons reads the weighed spoons; the same spoon twice is an error.
func readSpoons() (map[spoonFood]spoonRow, error) {
	spoons := map[spoonFood]spoonRow{}
	err := readTable("spoons.csv", spoonColumns, func(r *record) error {
		food := spoonFood{r.text("food"), r.text("measure")}
		grams := r.number("g_per_measure")
		if _, twice := spoons[food]; twice || grams == nil {
			return fmt.Errorf("%s line %d: %s of %s is there twice or has no weight", r.file, r.line, food.measure, food.food)
		}
		spoons[food] = spoonRow{*grams, r.text("source_id")}
		return nil
	})
	return spoons, err
}
