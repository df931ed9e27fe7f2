package quantity

import "math"

// amount reads the material of a dose: a number or range with its unit.
func (d *doseReader) amount() error {
	if d.atWord("at") && d.peekAt(1).text == "least" || d.mark(">") {
		return d.fail("write a range such as 5-10 g/L", "a lower bound alone is not a dose")
	}
	if !d.atNumber() {
		if err := d.countless(); err != nil {
			// not refused yet: a weight in brackets may still tell what it weighs
			d.unknown, d.count = err, span{low: 1, high: 1}
			return nil
		}
		return d.noNumber()
	}
	var err error
	if d.count, err = d.numbers(); err != nil {
		return err
	}
	// before the units: a pint of dry material weighs nothing known in either country, so that asking which is
	// no help
	if d.word("pint", "pints", "pt", "pts") {
		return d.weigh(unit{name: "pint", dim: volume})
	}
	u, err := d.unit()
	if err != nil {
		return err
	}
	d.count = d.partOn(d.count)
	return d.weigh(u)
}

// "one and a half pounds and a half" has its part already
// partOn adds "and a half" after the unit to a whole number before it: "an ounce
// and a half".
func (d *doseReader) partOn(n span) span {
	if n.isRange || n.low != math.Trunc(n.low) {
		return n
	}
	part := d.andPart()
	return span{low: n.low + part, high: n.high + part}
}

// numbers reads a number or a range: "3", "3-5", "3 to 5", "1 or 2", "10+-5".
func (d *doseReader) numbers() (span, error) {
	low, err := d.above()
	if err != nil {
		return span{}, err
	}
	if d.mark("+-") {
		half, err := d.halfWidth()
		if err != nil {
			return span{}, err
		}
		if d.word("%") {
			half *= low / 100
		}
		if half >= low {
			return span{}, d.fail("write a range such as 5-10 g/L", "the limit is as large as the dose")
		}
		return span{low - half, low + half, half > 0}, nil
	}
	if !d.rangeFollows() {
		return span{low: low, high: low}, nil
	}
	d.at++
	high, err := d.above()
	if err != nil {
		return span{}, err
	}
	return d.ordered(low, high)
}

// rangeFollows reports whether r stands between the two numbers of a range.
func (d *doseReader) rangeFollows() bool {
	t, next := d.peek(), d.peekAt(1)
	joins := t.kind == markToken && t.text == "-" || d.atWord("to", "or") || d.pair && d.atWord("and")
	return joins && isNumber(next)
}

// above reads a number above zero.
func (d *doseReader) above() (float64, error) {
	v, err := d.number()
	if err == nil && v <= 0 {
		err = d.fail("write amounts above zero; for a bound write up to 2 g/L", "an amount is not above zero")
	}
	return v, err
}

// ordered returns the range from low to high.
func (d *doseReader) ordered(low, high float64) (span, error) {
	if high < low {
		return span{}, d.fail("write the smaller figure first", "the range runs backwards")
	}
	return span{low: low, high: high, isRange: high > low}, nil
}

// weigh turns the count of units u into grams, or notes why it cannot.
func (d *doseReader) weigh(u unit) error {
	switch u.dim {
	case mass:
		d.grams = d.count.times(u.scale)
		return d.more(u)
	case concentration:
		d.grams, d.complete, d.litres = d.count.times(u.scale), true, span{low: 1, high: 1}
	case spoon:
		perSpoon, err := d.spoonWeight(u)
		// not refused yet: the brackets may know the weight of the spoon
		if err != nil {
			d.unknown = err
			return nil
		}
		u.scale = perSpoon
		d.grams = d.count.times(perSpoon)
		return d.more(u)
	case percent:
		return d.fail("write g/L: about 10 g/L is 1 % of the weight of beer; a share of extract or grain needs the "+
			"gravity or the grain bill", "a percentage is not a dose")
	case volume:
		d.unknown = d.liquidForDry(u)
		if u.name == "mL" || u.name == "L" || u.name == "fl oz" || d.atTincture() {
			d.unknown = d.fail("weigh the material; for a tincture write how many grams are in how much of it, and "+
				"pour it as an addition", "a volume of liquid has no weight of material in it")
		}
	case none:
		d.unknown = d.noUnit("1.5 g/L or 1 oz per 5 gal")
	default:
		return d.fail("write a dose such as 1.5 g/L or 1 oz per 5 gal", "it is %s, not an amount of material", u.dim.name())
	}
	return nil
}

// atTincture reports whether the next word but "of" is a tincture or extract.
func (d *doseReader) atTincture() bool {
	next := d.peek().text
	if next == "of" {
		next = d.peekAt(1).text
	}
	return next == "tincture" || next == "extract"
}

// more reads what continues an amount in unit u, of which one weighs u.scale
// grams: "1 lb 4 oz", "0.5 oz to 1 oz", "1 tsp to 1 tbsp", "an ounce or two".
func (d *doseReader) more(u unit) error {
	mark, joint, joined := d.at, d.peek().text, d.rangeFollows()
	if joined {
		d.at++
	} else if d.peek().kind != numberToken || u.chain == "" || d.count.isRange {
		return nil
	}
	v, err := d.above()
	if err != nil {
		return err
	}
	next, err := d.weighable()
	switch {
	case err != nil:
		return err
	case joined && joint == "or" && next.dim == none: // "or two" of the same
		return d.upTo(v * u.scale)
	case next.dim != mass && next.dim != spoon:
		d.at = mark // "1 oz to 5 gal": the volume begins here
		return nil
	case joined:
		return d.upTo(v * next.scale)
	case next.chain != u.chain || next.scale >= u.scale:
		return d.twoAmounts()
	}
	both := d.grams.low + v*next.scale
	d.grams = span{low: both, high: both}
	return nil
}

// weighable reads a unit; that of a spoon is scaled to the grams in it.
func (d *doseReader) weighable() (unit, error) {
	u, err := d.unit()
	if err == nil && u.dim == spoon {
		u.scale, err = d.spoonWeight(u)
	}
	return u, err
}

// upTo makes the amount a range that ends at some grams.
func (d *doseReader) upTo(grams float64) error {
	var err error
	d.grams, err = d.ordered(d.grams.low, grams)
	return err
}

// twoAmounts is the error for a second amount of material.
func (d *doseReader) twoAmounts() error {
	return d.fail("enter each amount on its own, such as 1 oz dried per 5 gal", "there are two amounts in it")
}
