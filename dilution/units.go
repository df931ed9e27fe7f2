package dilution

import "fmt"

// unit is a named unit as offset and factor to the base of its kind.
type unit struct {
	kind   string
	factor float64 // base units in one of this
	offset float64 // subtracted before the factor is applied; temperatures only
}

// Exact factors [12]: litres, grams and kilopascals are the bases.
const (
	usGallonL       = 3.785411784
	imperialGallonL = 4.54609
	poundG          = 453.59237
	inchMM          = 25.4
)

// unitOf returns the unit of a name as [12] and the trade write it. Bare
// gallon, pint and the like are not in it: US and imperial ones differ by a
// fifth. Nor is an ounce of volume: "oz" is mass.
func unitOf(name string) (unit, bool) {
	for _, table := range []func(string) (unit, bool){volumeUnit, massUnit, strengthUnit, otherUnit} {
		if u, ok := table(name); ok {
			return u, true
		}
	}
	return unit{}, false
}

// volumeUnit knows the units of volume, in litres. US measures are parts of the
// gallon of 231 cubic inches, imperial ones of the gallon of 4.54609 L; the beer
// barrels are 31 US and 36 imperial gallons. Metric spoons are a convention (an
// Australian tablespoon is 20 mL).
func volumeUnit(name string) (unit, bool) {
	factor := map[string]float64{
		"L": 1, "litre": 1, "mL": 1e-3, "ml": 1e-3, "hL": 100, "m3": 1000,
		"US gallon":                   usGallonL,
		"US gal":                      usGallonL,
		"US liquid quart":             usGallonL / 4,
		"US quart":                    usGallonL / 4,
		"US liquid pint":              usGallonL / 8,
		"US pint":                     usGallonL / 8,
		"US cup":                      usGallonL / 16,
		"US fluid ounce":              usGallonL / 128,
		"US fl oz":                    usGallonL / 128,
		"US tablespoon":               usGallonL / 256,
		"US tbsp":                     usGallonL / 256,
		"US teaspoon":                 usGallonL / 768,
		"US tsp":                      usGallonL / 768,
		"US beer barrel":              31 * usGallonL,
		"imperial gallon":             imperialGallonL,
		"imperial gal":                imperialGallonL,
		"imperial quart":              imperialGallonL / 4,
		"imperial pint":               imperialGallonL / 8,
		"imperial fluid ounce":        imperialGallonL / 160,
		"imperial fl oz":              imperialGallonL / 160,
		"UK beer barrel":              36 * imperialGallonL,
		"metric teaspoon":             5e-3,
		"metric tablespoon":           15e-3,
		"cubic inch":                  inchMM * inchMM * inchMM * 1e-6,
		"US beer barrel (31 US gal)":  31 * usGallonL,
		"UK beer barrel (36 imp gal)": 36 * imperialGallonL,
	}[name]
	return unit{kind: "volume", factor: factor}, factor != 0
}

// massUnit knows the units of mass, in grams: parts of the avoirdupois pound.
func massUnit(name string) (unit, bool) {
	factor := map[string]float64{
		"g": 1, "kg": 1000, "mg": 1e-3,
		"oz": poundG / 16, "avoirdupois ounce": poundG / 16, "ounce": poundG / 16,
		"lb": poundG, "avoirdupois pound": poundG, "pound": poundG,
		"grain": poundG / 7000,
	}[name]
	return unit{kind: "mass", factor: factor}, factor != 0
}

// strengthUnit knows the units of mass per volume, in g/L. A volume of CO2 is
// one, 44.0095/22.2605 g/L (0 C, 1 atm, real gas).
func strengthUnit(name string) (unit, bool) {
	factor := map[string]float64{
		"g/L": 1, "mg/L": 1e-3, "g/hL": 1e-2, "kg/hL": 10, "g/mL": 1000,
		"oz per US gallon":       poundG / 16 / usGallonL,
		"oz/US gal":              poundG / 16 / usGallonL,
		"oz per imperial gallon": poundG / 16 / imperialGallonL,
		"oz/imp gal":             poundG / 16 / imperialGallonL,
		"lb per US gallon":       poundG / usGallonL,
		"lb/US gal":              poundG / usGallonL,
		"lb per imperial gallon": poundG / imperialGallonL,
		"lb/US bbl":              poundG / (31 * usGallonL),
		"CO2 volume":             co2GramsPerVolume,
		"vol":                    co2GramsPerVolume,
	}[name]
	return unit{kind: "mass per volume", factor: factor}, factor != 0
}

// otherUnit knows length (mm), pressure (kPa), temperature (C) and colour
// (SRM).
func otherUnit(name string) (unit, bool) {
	u, ok := map[string]unit{
		"mm":          {"length", 1, 0},
		"cm":          {"length", 10, 0},
		"inch":        {"length", inchMM, 0},
		"kPa":         {"pressure", 1, 0},
		"bar":         {"pressure", 100, 0},
		"atm":         {"pressure", 101.325, 0},
		"psi":         {"pressure", psiKPa, 0},
		"C":           {"temperature", 1, 0},
		"degC":        {"temperature", 1, 0},
		"F":           {"temperature", 1 / 1.8, 32},
		"degF":        {"temperature", 1 / 1.8, 32},
		"degF offset": {"temperature", 1 / 1.8, 32},
		"K":           {"temperature", 1, kelvinAtZeroC},
		"SRM":         {"colour", EBCPerSRM, 0},
		"EBC per SRM": {"colour", EBCPerSRM, 0},
		"EBC":         {"colour", 1, 0},
	}[name]
	return u, ok
}

// psiKPa is one pound-force per square inch: 0.45359237 kg times 9.80665 m/s2
// on 0.0254 m squared, in kPa [12].
const psiKPa = 0.45359237 * 9.80665 / (0.0254 * 0.0254) / 1000

// EBCPerSRM is the ratio of the two colour scales by definition, 25/12.7 [14].
const EBCPerSRM = 25 / 12.7

// Conversion is a figure with the names of two units.
type Conversion struct {
	Value    float64
	From, To string // "US gallon", "L", "oz per US gallon", "F", "psi", ...
}

// Convert returns the value in the unit To, by exact factors [12]. Bare gallon,
// pint, fluid ounce and spoon names are refused, as are units of different
// kinds.
func Convert(c Conversion) (float64, error) {
	from, ok := unitOf(c.From)
	if !ok {
		return 0, unknownUnit(c.From)
	}
	to, ok := unitOf(c.To)
	if !ok {
		return 0, unknownUnit(c.To)
	}
	if from.kind != to.kind {
		return 0, fmt.Errorf("%q is a unit of %s and %q of %s; they do not convert", c.From, from.kind, c.To, to.kind)
	}
	return (c.Value-from.offset)*from.factor/to.factor + to.offset, nil
}

// unknownUnit is the error for a name that is not a unit.
func unknownUnit(name string) error {
	return fmt.Errorf("unit %q is not known; say which gallon, pint or spoon it is, for example \"US gallon\" or \"imperial pint\"", name)
}
