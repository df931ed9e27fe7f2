package quantity

import (
	"strings"

	"hedgerow/trials/figure"
)

// Addition is a liquid or sugar put into a batch, as read. What was not written
// is nil; unknown is not zero.
type Addition struct {
	Kind         string          // one of the kinds below
	Material     string          // name of the material if Kind is KindMaterial
	VolumeL      *figure.Limited // as measured at TempC, or at 20 C
	MassG        *figure.Limited // grams; an addition has either a volume or a mass
	TempC        *float64        // temperature at which VolumeL was measured
	StrengthPct  *figure.Limited // % vol of a spirit
	SolidsGPerL  *figure.Limited // dissolved solids, g per litre as measured
	Plato        *figure.Limited // sugar content of juice or wort, degrees Plato
	SG           *figure.Limited // the same as specific gravity
	OG           *figure.Limited // original gravity of another beer
	FG           *figure.Limited // its final gravity
	RetainKgKg   *figure.Limited // liquid that the pulp keeps when it is taken out, kg/kg
	FermentsPct  *figure.Limited // share of the sugar that ferments
	ExtractedPct *figure.Limited // share of juice and solubles that fruit gives up
	Assumptions  []string        // which gallon, cup or spoon was meant
	Warnings     []string        // about gravities outside the tables
	AsWritten    string          // the text as typed
}

// The kinds of addition.
const (
	kindWater    = "water"
	kindTea      = "tea"
	kindSpirit   = "spirit"
	kindSugar    = "sugar"    // sucrose
	kindDextrose = "dextrose" // glucose monohydrate, as sold
	kindHoney    = "honey"
	kindMaple    = "maple"
	kindAgave    = "agave"
	kindMolasses = "molasses"
	kindJuice    = "juice"
	kindWort     = "wort"
	kindBeer     = "beer"
	KindMaterial = "material" // a fruit or other material by weight
)

// ParseAddition returns the addition that text gives: an amount, what it is, and
// what is known of it in any order: "600mL water", "600mL water 80C", "500mL tea
// 8g/L", "250mL+-2% spirit 60+-1% 10+-5g/L", "500g sugar", "2.5kg raspberry
// retain=0.5", "1L juice 12P", "2L beer og=1.050 fg=1.010".
//
// A temperature is that at which the volume was measured. A word that is no kind
// is the name of a material and needs a mass; whether there is such a material
// is for the caller to know. ferments=98% is the share of sugar that ferments,
// retain=0.5 the liquid, in kg per kg, that goes away with the pulp, extracted=90%
// the share of juice and solubles that fruit gives up.
//
// A missing or an unfitting part is an *Error that says what to write: a spirit
// without strength, a juice without sugar content, sugar by volume, two kinds.
func ParseAddition(text string, opt Options) (Addition, error) {
	r, err := newReader(text, opt, "600mL water, 250mL spirit 60% or 500g sugar")
	if err != nil {
		return Addition{}, err
	}
	a := additionReader{reader: r, add: Addition{AsWritten: strings.TrimSpace(text)}}
	for !r.done() {
		if err := a.part(); err != nil {
			return Addition{}, err
		}
	}
	if err := a.check(); err != nil {
		return Addition{}, err
	}
	a.add.Assumptions = r.assumed
	return a.add, nil
}

// additionReader holds what is known of an addition while it is read. Order is
// free, so what fits together is only checked when all of it is read.
type additionReader struct {
	*reader
	add    Addition
	spirit string // the name of a spirit whose strength may not be written
}

// part reads one part of an addition.
func (a *additionReader) part() error {
	t := a.peek()
	switch {
	case a.mark("@"):
		return a.figure()
	case t.kind == markToken && t.text == ",", a.atWord("of", "at", "with", "and", "the"):
		a.at++
		return nil
	case a.atNumber():
		return a.figure()
	case t.kind == wordToken:
		return a.kindOrKey()
	}
	return a.unexpected("write it as " + a.example)
}

// figure reads a number with its unit; the unit says what it is: litres or
// grams how much, degrees at which temperature the volume was measured, per cent
// the strength, grams per litre the solids, degrees Plato the sugar, and none at
// all a gravity.
func (a *additionReader) figure() error {
	// how it was written is gone once it is read, and a gravity is told from an amount by its decimals
	pointed := strings.ContainsAny(a.peek().text, ".,")
	m, err := a.measure()
	if err != nil {
		return err
	}
	switch m.unit.dim {
	case volume, mass, spoon:
		return a.amount(m)
	case temperature:
		return a.temp(m)
	case percent:
		l, err := a.percentageOf(m)
		return a.set(&a.add.StrengthPct, l, err, "strength")
	case concentration:
		return a.solids(m)
	case plato:
		l := m.base()
		if l.Value < 0 || l.Value > maxPlato {
			err = a.fail("write it as 12P", "%s P is outside 0 to %g P", digits3(l.Value), maxPlato)
		}
		return a.set(&a.add.Plato, l, err, "sugar content")
	case none:
		return a.bare(m, pointed)
	}
	return a.fail("write it as "+a.example, "%s has no place in an addition", m.unit.dim.name())
}

// solids notes the dissolved solids, which may be zero.
func (a *additionReader) solids(m measure) error {
	const most = 1000 // g/L; more would be a paste (judgement)
	l := m.base()
	if l.Value < 0 || l.Value > most || l.HalfWidth > most {
		return a.fail("write the dissolved solids as 8g/L", "%s g/L of solids is outside 0 to %d", digits3(l.Value), most)
	}
	return a.set(&a.add.SolidsGPerL, l, nil, "amount of solids")
}

// amount notes the volume or mass; "1 lb 4 oz" is one amount.
func (a *additionReader) amount(m measure) error {
	l, dim, err := a.chain(m)
	if err != nil {
		return err
	}
	if dim == mass {
		return a.set(&a.add.MassG, l, a.positive(l, "mass"), "mass")
	}
	a.assume(m.unit.note)
	return a.set(&a.add.VolumeL, l, a.positive(l, "volume"), "volume")
}

// temp notes the temperature at which the volume was measured.
func (a *additionReader) temp(m measure) error {
	l, err := a.celsius(m)
	switch {
	case err != nil:
		return err
	case l.HasLimit:
		return a.fail("write it as 80C", "the temperature of an addition takes no limit")
	case a.add.TempC != nil:
		return a.fail("write one temperature, that at which the volume was measured", "there are two temperatures in it")
	}
	a.add.TempC = &l.Value
	return nil
}

// bare takes a number without unit as a gravity, which is all it can be; a
// gravity has decimals.
func (a *additionReader) bare(m measure, pointed bool) error {
	// with a word behind it, it is more likely an amount with its unit mistyped
	if a.peek().kind == wordToken && (m.value > figure.SGMax || !pointed) {
		return a.noUnit("600mL, 500g, 60%, 8g/L or 12P")
	}
	l := m.base()
	if !pointed || l.Value < figure.SGMin || l.Value > figure.SGMax {
		return a.fail("write the unit: 600mL, 500g, 60%, 8g/L, 12P", "%s has no unit", digits3(l.Value))
	}
	return a.set(&a.add.SG, l, nil, "gravity")
}

// set fills a field once.
func (a *additionReader) set(field **figure.Limited, l figure.Limited, err error, what string) error {
	if err != nil {
		return err
	}
	if *field != nil {
		return a.fail("write it once", "there is a second %s in it", what)
	}
	*field = &l
	return nil
}
