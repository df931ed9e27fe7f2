package quantity

import "slices"

// dimension is the kind of a quantity.
type dimension int

const (
	none dimension = iota
	volume
	mass
	temperature
	duration
	percent
	plato
	concentration
	spoon // a level spoon: a volume of a liquid, a weight of a known material
)

// name returns the dimension with its article, for messages.
func (d dimension) name() string {
	return [...]string{
		"a bare number", "a volume", "a mass", "a temperature", "a time", "a percentage",
		"a gravity in Plato", "an amount per litre", "a spoon measure",
	}[d]
}

// unit converts a number as written to the base unit of its dimension:
// base = (written - offset) * scale.
type unit struct {
	name   string
	dim    dimension
	scale  float64
	offset float64
	chain  string // units of one chain follow each other: "1 lb 4 oz", "1 h 30 min"
	note   string // what was assumed about it, empty if nothing
}

// base returns v in the base unit; a bare number stays what it is.
func (u unit) base(v float64) float64 {
	if u.dim == none {
		return v
	}
	return (v - u.offset) * u.scale
}

// width returns a difference of v units in the base unit.
func (u unit) width(v float64) float64 { return u.base(v) - u.base(0) }

// named is a unit with the words for it.
type named struct {
	words []string
	unit  unit
}

// fixedUnits are the units that mean one thing everywhere.
var fixedUnits = []named{
	{[]string{"l", "litre", "litres", "liter", "liters", "ltr", "ltrs"}, unit{name: "L", dim: volume, scale: 1}},
	{[]string{"ml", "mls", "millilitre", "millilitres", "milliliter", "milliliters", "cc"}, unit{name: "mL", dim: volume,
		scale: 1e-3}},
	{[]string{"cl", "centilitre", "centilitres", "centiliter", "centiliters"}, unit{name: "cL", dim: volume, scale: 1e-2}},
	{[]string{"dl", "decilitre", "decilitres", "deciliter", "deciliters"}, unit{name: "dL", dim: volume, scale: 1e-1}},
	{[]string{"hl", "hectolitre", "hectolitres", "hectoliter", "hectoliters"}, unit{name: "hL", dim: volume, scale: 100}},
	// British casks of beer, in imperial gallons: customary, no table at hand
	{[]string{"pin", "pins"}, unit{name: "pin", dim: volume, scale: 4.5 * lPerImpGallon,
		note: "a pin is read as 4.5 imperial gal"}},
	{[]string{"firkin", "firkins"}, unit{name: "firkin", dim: volume, scale: 9 * lPerImpGallon,
		note: "a firkin is read as 9 imperial gal"}},
	{[]string{"kilderkin", "kilderkins"}, unit{name: "kilderkin", dim: volume, scale: 18 * lPerImpGallon,
		note: "a kilderkin is read as 18 imperial gal"}},

	{[]string{"g", "gm", "gms", "gram", "grams", "gramme", "grammes"}, unit{name: "g", dim: mass, scale: 1}},
	{[]string{"kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"}, unit{name: "kg",
		dim: mass, scale: 1000}},
	{[]string{"mg", "mgs", "milligram", "milligrams", "milligramme", "milligrammes"}, unit{name: "mg", dim: mass,
		scale: 1e-3}},
	{[]string{"lb", "lbs", "pound", "pounds"}, unit{name: "lb", dim: mass, scale: gPerPound, chain: "lb"}},
	{[]string{"oz", "ozs", "ounce", "ounces"}, unit{name: "oz", dim: mass, scale: gPerOunce, chain: "lb"}},
	{[]string{"grain", "grains"}, unit{name: "grain", dim: mass, scale: gPerGrain}},

	{[]string{"c", "celsius", "centigrade", "degc", "deg c", "degree c", "degrees c", "deg celsius", "degree celsius",
		"degrees celsius"},
		unit{name: "C", dim: temperature, scale: 1}},
	{[]string{"f", "fahrenheit", "degf", "deg f", "degree f", "degrees f", "deg fahrenheit", "degree fahrenheit",
		"degrees fahrenheit"},
		unit{name: "F", dim: temperature, scale: 1 / 1.8, offset: 32}},

	{[]string{"s", "sec", "secs", "second", "seconds"}, unit{name: "s", dim: duration, scale: 1.0 / 60, chain: "time"}},
	{[]string{"min", "mins", "minute", "minutes", "m"}, unit{name: "min", dim: duration, scale: 1, chain: "time"}},
	{[]string{"h", "hr", "hrs", "hour", "hours"}, unit{name: "h", dim: duration, scale: minPerHour, chain: "time"}},
	{[]string{"d", "day", "days"}, unit{name: "d", dim: duration, scale: minPerDay, chain: "time"}},
	{[]string{"w", "wk", "wks", "week", "weeks"}, unit{name: "weeks", dim: duration, scale: minPerWeek, chain: "time"}},

	{[]string{"%", "percent", "pct", "per cent", "% vol", "% abv", "abv"}, unit{name: "%", dim: percent, scale: 1}},
	{[]string{"p", "plato", "degrees plato", "degree plato", "deg plato", "degrees p", "deg p"}, unit{name: "P",
		dim: plato, scale: 1}},
	{[]string{"ppm", "parts per million"}, unit{name: "ppm", dim: concentration, scale: 1e-3,
		note: "ppm is read as mg/L"}},
}

// refusedUnits are words for amounts that have no fixed size, with what to write
// instead.
var refusedUnits = []struct {
	words []string
	hint  string
}{
	{[]string{"brix", "bx", "degrees brix"},
		"before fermentation write the same number as Plato, such as 12P; afterwards give the gravity of a hydrometer"},
	{[]string{"month", "months", "year", "years"}, "write weeks or days, such as 4 weeks"},
	{[]string{"k", "kelvin"}, "write 96C or 205F"},
	{[]string{"t", "spoonful", "spoonfuls", "spoon", "spoons"},
		"write tsp for a teaspoon or tbsp for a tablespoon, which holds three of them, or weigh it"},
	{[]string{"dash", "dashes", "drop", "drops"}, "write mL or weigh it"},
}

// unit reads the unit at which r stands, and steps over it. Customary units come
// first since some of their names begin like others ("fl oz", "US oz"). The zero unit, of dimension none, means
// that there is none.
func (r *reader) unit() (unit, error) {
	if u, ok, err := r.customary(); ok || err != nil {
		return u, err
	}
	for _, n := range fixedUnits {
		if r.phrase(n.words) {
			r.assume(n.unit.note)
			return n.unit, nil
		}
	}
	if next := r.peekAt(1); next.kind == markToken && next.text == "=" {
		return unit{}, nil // "brix=" is the name of the next part, not a unit
	}
	for _, n := range refusedUnits {
		if word := r.peek().text; r.phrase(n.words) {
			return unit{}, r.fail(n.hint, "%q is not a unit that can be converted", word)
		}
	}
	return unit{}, nil
}

// phrase steps over the longest of the phrases that stands here, in full words,
// so that "degrees c" is not taken for "degrees" with something left over.
func (r *reader) phrase(phrases []string) bool {
	for length := 3; length > 0; length-- {
		if slices.Contains(phrases, r.words(length)) {
			r.at += length
			return true
		}
	}
	return false
}

// words returns the next words joined by single spaces, or "" if there are fewer.
func (r *reader) words(count int) string {
	text := ""
	for i := range count {
		t := r.peekAt(i)
		if t.kind != wordToken {
			return ""
		}
		if i > 0 {
			text += " "
		}
		text += t.text
	}
	return text
}

// ratio reads a unit, or a mass per volume such as "g/L" or "oz per gal". It is
// for single quantities; a dose, where a number may follow the "per", is read
// piece by piece.
func (r *reader) ratio() (unit, error) {
	top, err := r.unit()
	if err != nil || top.dim != mass {
		return top, err
	}
	mark := r.at
	if !r.mark("/") && !r.word("per") {
		return top, nil
	}
	bottom, err := r.unit()
	if err != nil {
		return bottom, err
	}
	if bottom.dim != volume {
		// per something else: left to whoever reads on, who knows what it is a share of
		r.at = mark
		return top, nil
	}
	return unit{name: top.name + "/" + bottom.name, dim: concentration, scale: top.scale / bottom.scale}, nil
}

// isUnitWord reports whether word alone is a unit.
func isUnitWord(word string) bool {
	return slices.ContainsFunc(fixedUnits, func(n named) bool { return slices.Contains(n.words, word) }) ||
		slices.ContainsFunc(customaryUnits, func(c customaryUnit) bool { return slices.Contains(c.words, word) })
}

// unitNames returns every word that unit understands, for near misses.
func unitNames() []string {
	var names []string
	for _, n := range fixedUnits {
		names = append(names, n.words...)
	}
	for _, n := range customaryUnits {
		names = append(names, n.words...)
	}
	return names
}
