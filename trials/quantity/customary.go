package quantity

import "fmt"

// customaryUnit is a volume whose size depends on the country.
type customaryUnit struct {
	words  []string
	name   string
	dim    dimension
	chain  string
	us     float64 // litres
	imp    float64 // litres
	metric float64 // litres, 0 if there is no metric one
}

// customaryUnits are the volumes that differ between countries. British kitchen
// spoons are metric ones today (from memory), so the imperial spoons are those;
// an older British teaspoon held 3.6 or 5.9 mL, depending on the book. The name
// pint is only read with its country.
var customaryUnits = []customaryUnit{
	{words: []string{"gal", "gals", "gallon", "gallons", "liquid gallon", "liquid gallons"}, name: "gal", dim: volume,
		chain: "gal", us: LPerUSGallon, imp: lPerImpGallon},
	{words: []string{"qt", "qts", "quart", "quarts", "liquid quart", "liquid quarts"}, name: "qt", dim: volume,
		chain: "gal", us: lPerUSQuart, imp: lPerImpQuart},
	{words: []string{"pint", "pints", "pt", "pts", "liquid pint", "liquid pints"}, name: "pint", dim: volume,
		chain: "gal", us: lPerUSPint, imp: lPerImpPint},
	{words: []string{"cup", "cups", "cupful", "cupfuls"}, name: "cup", dim: volume, chain: "gal", us: lPerUSCup,
		imp: lPerImpCup, metric: lPerMetricCup},
	{words: []string{"fl oz", "floz", "fl ozs", "fluid ounce", "fluid ounces", "fluid oz"}, name: "fl oz", dim: volume,
		chain: "gal", us: lPerUSFluidOunce, imp: lPerImpFluidOunce},
	{words: []string{"tbsp", "tbsps", "tbs", "tablespoon", "tablespoons", "tablespoonful", "tablespoonfuls"},
		name: "tbsp", dim: spoon,
		us: lPerUSTablespoon, imp: lPerMetricTablespoon, metric: lPerMetricTablespoon},
	{words: []string{"tsp", "tsps", "teaspoon", "teaspoons", "teaspoonful", "teaspoonfuls"}, name: "tsp", dim: spoon,
		us: lPerUSTeaspoon, imp: lPerMetricTeaspoon, metric: lPerMetricTeaspoon},
	{words: []string{"bbl", "bbls", "barrel", "barrels", "beer barrel", "beer barrels"}, name: "bbl", dim: volume,
		us: lPerUSBarrel, imp: lPerUKBarrel},
}

// country is the word before a customary unit.
type country int

const (
	unsaid country = iota
	american
	british
	metric
)

// countryAfter steps over the country behind a unit: "gal US", "gallons (UK)".
func (r *reader) countryAfter() country {
	mark := r.at
	open := r.mark("(")
	said := r.country()
	if said == unsaid || open && !r.mark(")") {
		// a bracket that says more than the country belongs to whoever reads on
		r.at = mark
		return unsaid
	}
	return said
}

// country steps over the words that say whose unit follows.
func (r *reader) country() country {
	switch {
	case r.word("us", "american"):
		return american
	case r.word("imp", "imperial", "uk", "british"):
		return british
	case r.word("metric"):
		return metric
	}
	return unsaid
}

// customary reads a customary volume, if one stands here: "gal", "US gal", "imp
// fl oz", "metric tsp". A pint needs its country.
func (r *reader) customary() (unit, bool, error) {
	mark := r.at
	said := r.country()
	for _, c := range customaryUnits {
		if !r.phrase(c.words) {
			continue
		}
		if said == unsaid {
			said = r.countryAfter()
		}
		if said == unsaid && c.name == "pint" {
			return unit{}, false, r.fail("write US pint, imp pint or mL; a dry material must be weighed",
				"a bare pint may be 473 or 568 mL")
		}
		u, ok := c.of(said, r.opt.Gallon)
		if !ok {
			return unit{}, false, r.fail("write mL or L", "there is no metric %s", c.name)
		}
		r.assume(u.note)
		return u, true, nil
	}
	r.at = mark
	return unit{}, false, nil
}

// of returns c as it is in a country; where none was said, gallon decides and
// the unit carries a note. A plain barrel is always the American one, since
// advice by the barrel comes from there (judgement); the note says so. ok is
// false for a metric gallon and its like.
func (c customaryUnit) of(said country, gallon gallon) (u unit, ok bool) {
	u = unit{name: c.name, dim: c.dim, chain: c.chain, scale: c.us}
	where := "US"
	if said == british || said == unsaid && gallon == Imperial && c.name != "bbl" {
		u.scale, where = c.imp, "imperial"
	}
	if said == metric {
		return unit{name: c.name, dim: c.dim, scale: c.metric}, c.metric > 0
	}
	if said == unsaid {
		u.note = c.note(where, u.scale)
	}
	return u, true
}

// note says which unit a plain one was taken to be.
func (c customaryUnit) note(where string, litres float64) string {
	switch {
	case c.name == "bbl":
		return "bbl is read as the US beer barrel of 31 US gal, 117.3 L (write UK bbl for 36 imp gal)"
	case c.dim == spoon && where == "imperial":
		return fmt.Sprintf("%s is read as the metric spoon of %.3g mL used in Britain", c.name, litres*1000)
	case litres < 1:
		return fmt.Sprintf("%s is read as the %s %s of %.4g mL", c.name, where, c.name, litres*1000)
	}
	return fmt.Sprintf("%s is read as the %s %s of %.4g L", c.name, where, c.name, litres)
}
