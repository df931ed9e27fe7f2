package quantity

import "hedgerow/trials/figure"

// volumeRead is a volume as read.
type volumeRead struct {
	VolumeL     figure.Limited // litres
	Assumptions []string       // which gallon, spoon or barrel was meant
}

// massRead is a mass as read.
type massRead struct {
	MassG       figure.Limited // grams
	Assumptions []string       // which spoon weight was used
}

// ParseVolume returns the volume that text gives, in litres and above zero:
// "12L", "600 mL", "1,5 L", "2.5 gal", "1 1/2 gal", "1 hL", "1 bbl", "1 gal 2
// qt", "12L+-0.2L", "12L+-2%".
//
// A plain gallon, quart, cup, fluid ounce or spoon is that of opt.Gallon and a
// plain barrel the US beer barrel; either is noted in Assumptions. "US gal", "imp
// gal", "UK gal", "gallon (UK)" and "metric tsp" need no assumption.
//
// It returns an *Error for a number without unit, a bare pint, a mass ("oz" is
// one), a range, a limit larger than the volume, and anything left over.
func ParseVolume(text string, opt Options) (volumeRead, error) {
	return parse(text, opt, "volume", "12L, 600mL or 3 gal", (*reader).volume)
}

// volume reads a volume above zero.
func (r *reader) volume() (volumeRead, error) {
	l, dim, err := r.chained()
	if err != nil {
		return volumeRead{}, err
	}
	switch dim {
	case volume, spoon:
	case mass:
		return volumeRead{}, r.fail("write a volume such as "+r.example+"; a fluid ounce is fl oz",
			"it is a mass, not a volume")
	default:
		return volumeRead{}, r.fail("write a volume such as "+r.example, "it is %s, not a volume", dim.name())
	}
	return volumeRead{VolumeL: l, Assumptions: r.assumed}, r.positive(l, "volume")
}

// ParseMass returns the mass that text gives, in grams and above zero: "36g",
// "0.5 kg", "1 1/2 oz", "1 lb 4 oz", "40g+-1g", and "3 tsp" where opt.Spoons has
// the weight, which is then noted in Assumptions. An ounce is the avoirdupois
// ounce of 28.35 g.
//
// It returns an *Error that says what to weigh for volumes of a dry material
// (cups, fluid ounces, mL), for spoons of unknown weight, and for what has no
// weight at all (handfuls, flower heads, pieces).
func ParseMass(text string, opt Options) (massRead, error) {
	return parse(text, opt, "mass", "40g, 0.5 kg or 1 1/2 oz", (*reader).mass)
}

// mass reads a mass above zero.
func (r *reader) mass() (massRead, error) {
	mark := r.at
	l, dim, err := r.chained()
	if err != nil {
		return massRead{}, err
	}
	switch dim {
	case mass:
	case spoon, volume:
		// read again from its start: a spoon of a material is grams by its weight, not millilitres
		r.at = mark
		if l, err = r.spooned(); err != nil {
			return massRead{}, err
		}
	default:
		return massRead{}, r.fail("write a mass such as "+r.example, "it is %s, not a mass", dim.name())
	}
	return massRead{MassG: l, Assumptions: r.assumed}, r.positive(l, "mass")
}

// chained reads an amount of one unit, or of units that follow each other
// downwards: "1 lb 4 oz", "1 h 30 min". A limit may stand at the end.
func (r *reader) chained() (figure.Limited, dimension, error) {
	m, err := r.measure()
	if err != nil {
		return figure.Limited{}, none, err
	}
	if m.unit.dim == none {
		return figure.Limited{}, none, r.noUnit(r.example)
	}
	return r.chain(m)
}

// chain adds the smaller units of the same chain that follow m, and returns the
// sum in the base unit. A number that does not belong to the chain is left for
// whoever reads on: in "1 h 30C" the 30 C is another quantity.
func (r *reader) chain(m measure) (figure.Limited, dimension, error) {
	total, unit := m.base(), m.unit
	// a limit ends an amount: what follows is another
	for unit.chain != "" && !m.hasHalf && r.peek().kind == numberToken {
		mark, assumed := r.at, len(r.assumed)
		next, err := r.measure()
		if err != nil {
			return total, unit.dim, err
		}
		if next.unit.chain != unit.chain || next.unit.scale >= unit.scale {
			// what was assumed for a unit that is not used is no assumption
			r.at, r.assumed = mark, r.assumed[:assumed]
			break
		}
		part := next.base()
		total.Value += part.Value
		if next.hasHalf {
			total.HasLimit, total.HalfWidth = true, part.HalfWidth
		}
		// per cent at the end are of the whole amount, not of its last unit
		if next.relative {
			total.HalfWidth = total.Value * next.half / 100
		}
		m, unit = next, next.unit
	}
	return total, unit.dim, nil
}

// positive refuses zero and negative values, and a limit that reaches below
// zero: a volume of 1 +- 2 L cannot be meant.
func (r *reader) positive(l figure.Limited, what string) error {
	switch {
	case l.Value <= 0:
		return r.fail("write an amount above zero", "the %s is not above zero", what)
	case l.HasLimit && l.HalfWidth > l.Value:
		return r.fail("write it as 12L+-0.2L or 12L+-2%", "the limit is larger than the %s itself", what)
	}
	return nil
}
