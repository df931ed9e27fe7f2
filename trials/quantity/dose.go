package quantity

import (
	"fmt"
	"math"
	"strings"
)

// The bases a dose can be written on.
const (
	basisFresh = "fresh"
	basisDry   = "dry"
)

// Dose is advice such as "3/4 oz per 5 gal" in grams per litre.
type Dose struct {
	LowGPerL    float64  // equal to HighGPerL unless IsRange
	HighGPerL   float64  // grams of material as written per litre
	IsRange     bool     // written as a range, or with a limit
	UpTo        bool     // written as "up to": both figures are the upper one
	PerTea      bool     // per litre of tea, water or spirit, not of beer
	BasisWord   string   // basisFresh, basisDry, or empty when not said
	Assumptions []string // which gallon, spoon weight or figure was used
	Warnings    []string // what was not used, and what to look at again
	AsWritten   string   // the text, without space around it
}

// manyGPerL is the dose above which a warning asks to check the units: more
// material than beer by weight is a slip. Common practice, no source.
const manyGPerL = 1000

// ParseDose returns the dose that text gives: a mass, or spoons of a material of
// known spoon weight, per volume of beer. It reads figures, fractions and number
// words, ranges ("10-15 g/L", "3 to 5 g/L"), "up to", a weight in brackets ("2
// tbsp (5 g) dried in 1 gal"), and words about the material in between.
//
// The figures are grams as written, per litre as written: no allowance is made
// for moisture (BasisWord only repeats what the text says) or for the volume of
// the material. With PerTea they are the strength of a tea, and must not be
// taken for a dose before it is known how much of it goes into how much beer.
//
// What has no weight (flower heads, handfuls, pieces, percent of extract, a
// tincture by volume) is an *Error that says what to measure, as is a volume
// that has no size (a batch, a bottle, a bare pint), and a text with two amounts
// in it. Words that were not used are named in Warnings.
func ParseDose(text string, opt Options) (Dose, error) {
	r, err := newReader(text, opt, "1.5 g/L, 3/4 oz per 5 gal or half a teaspoon per gallon")
	if err != nil {
		return Dose{}, err
	}
	d := doseReader{reader: r, dose: Dose{AsWritten: strings.TrimSpace(text)}}
	d.opening()
	for _, step := range []func() error{d.amount, d.between, d.perVolume, d.tail, d.divide} {
		if err := step(); err != nil {
			return Dose{}, err
		}
	}
	d.dose.Assumptions = r.assumed
	return d.dose, nil
}

// doseReader holds what is known of a dose while it is read.
type doseReader struct {
	*reader
	dose     Dose
	count    span     // the number written before the unit
	grams    span     // the amount of material
	litres   span     // the volume that it is for
	unknown  error    // why the amount has no weight, unless brackets give one
	complete bool     // the amount is per litre already, as ppm is
	pair     bool     // "between" was said, so that "and" joins two numbers
	ignored  []string // words that were not used
}

// span is one number or the two ends of a range.
type span struct {
	low, high float64
	isRange   bool
}

// times returns s multiplied by a factor.
func (s span) times(factor float64) span {
	return span{s.low * factor, s.high * factor, s.isRange}
}

// opening steps over words before the amount and notes those that set a bound.
func (d *doseReader) opening() {
	for {
		switch {
		case d.mark("<"), d.word("max", "maximum"), d.word("most"):
			d.dose.UpTo = true
		case d.atWord("up") && d.peekAt(1).text == "to", d.atWord("at") && d.peekAt(1).text == "most":
			d.at += 2
			d.dose.UpTo = true
		case d.word("between"):
			d.pair = true
		case d.mark("~"), d.word("about", "around", "approx", "approximately", "roughly", "circa", "ca", "from", "add",
			"use"):
		default:
			return
		}
	}
}

// divide works out the dose from the amount and the volume: the low end is the
// smaller amount in the larger volume,
//
//	LowGPerL = grams.low / litres.high,  HighGPerL = grams.high / litres.low
func (d *doseReader) divide() error {
	d.dose.LowGPerL, d.dose.HighGPerL = d.grams.low, d.grams.high
	d.dose.IsRange = d.grams.isRange || d.litres.isRange
	// the strength in g/L is whole already: its volume is one litre
	if !d.complete {
		d.dose.LowGPerL /= d.litres.high
		d.dose.HighGPerL /= d.litres.low
	}
	if !(d.dose.LowGPerL > 0) || math.IsInf(d.dose.HighGPerL, 0) {
		return d.fail("write a dose such as 1.5 g/L or 1 oz per 5 gal", "the dose is not above zero")
	}
	if d.dose.HighGPerL > manyGPerL {
		d.warn("it comes to %s g/L, more material than beer: check the units", digits3(d.dose.HighGPerL))
	}
	if d.dose.PerTea {
		d.warn("this is the strength of a tea or tincture, not a dose in beer: say how much of it goes into how much beer")
	}
	if len(d.ignored) > 0 {
		d.warn("not used in the conversion: %s", strings.Join(d.ignored, " "))
	}
	return nil
}

// warn adds a warning.
func (d *doseReader) warn(format string, args ...any) {
	d.dose.Warnings = append(d.dose.Warnings, fmt.Sprintf(format, args...))
}
