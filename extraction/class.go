package extraction

import "math"

// Class is a group of solutes that leave the material and survive the brew
// house alike.
type Class int

// The solute classes. The first three are those of a dose. The rest are families
// of the water class, each with a rate and a ceiling of its own; Colour is the one
// that fades when hot.
const (
	Water  Class = iota // acid, colour, small phenolics and tannin, undivided
	Aroma               // oxygenated volatiles
	Resin               // bitter and pungent resins, hydrocarbon oils
	Colour              // anthocyanins
	Acid                // acid, sugar, amino acids
	small               // caffeine-like, simple phenols, bitter glycosides
	Tannin              // gallated, astringent
)

// classCount is the length of a byClass.
const classCount = 7

// byClass holds one figure for each class, indexed by Class.
type byClass [classCount]float64

// String returns the name of the class, as ParseClass reads it.
func (c Class) String() string {
	if c < 0 || c >= classCount {
		return "unknown"
	}
	return classRows[c].Word
}

// ParseClass reads the word of a class. An unknown word is an inputError that
// lists the allowed ones.
func ParseClass(word string) (Class, error) {
	var allowed []string
	for c := range classRows {
		if classRows[c].Word == plain(word) {
			return Class(c), nil
		}
		allowed = append(allowed, classRows[c].Word)
	}
	return 0, unknownWord("solute class", word, allowed)
}

// classRow is what the model needs to know about a class.
type classRow struct {
	Word string
	// rateFactor is k of the class over k of Water at 80 C, EaKJ its activation
	// energy, kJ/mol.
	RateFactor, EaKJ float64
	// UWater is the ceiling in water, wort and beer, USDLn the sd of its logarithm.
	UWater, USDLn float64
	// FreshSDLn is the sd of ln of "fresh and dried are equal by dry matter".
	FreshSDLn float64
	// Grade says how sure the row is.
	Grade string
}

// classRows are the class defaults, indexed by Class [24]. Ceilings: tea gives up
// 0.86 to 0.98 of its water solubles, hop polyphenols 0.5 to 0.7, hibiscus colour
// 0.63 to 0.88; linalool 0.8 dry and 0.6 hot [10]; alpha acids 0.04 to 0.05,
// hydrocarbons 0.02 to 0.03 [9]. Rates: theanine is all out at 10 C within half an
// hour; anthocyanins have 17 to 37 kJ/mol, caffeine 40 to 77, flavanols 30 to 50,
// the gallated ones slower. Of aroma and resin no rate was found.
var classRows = [classCount]classRow{
	Water:  {"water", 1, EaKJ, 0.85, 0.18, 0.1, "B"},
	Aroma:  {"aroma", 0.7, 30, 0.75, 0.30, 0.4, "C, anchored on hop transfer A"},
	Resin:  {"resin", 0.3, 40, 0.05, 0.80, 0.4, "C, anchored on hop transfer A"},
	Colour: {"colour", 1, 25, 0.88, 0.12, 0.1, "B"},
	Acid:   {"acid", 1.5, 20, 0.95, 0.05, 0.1, "B"},
	small:  {"small", 1, 40, 0.90, 0.10, 0.1, "B"},
	Tannin: {"tannin", 0.5, 45, 0.60, 0.25, 0.1, "B"},
}

// RateAt returns the rate of a class over that of Water at 80 C: the factor of the
// class times exp(-(Ea/R)(1/T - 1/353.15)). Errors: a temperature outside -20 to
// 110 C.
func (c Class) RateAt(tempC float64) (float64, error) {
	if err := checkTemp("temperature", tempC); err != nil {
		return 0, err
	}
	return c.rateAt(tempC), nil
}

func (c Class) rateAt(tempC float64) float64 {
	row := &classRows[c]
	return row.RateFactor * math.Exp(-row.EaKJ*1000/gasConstant*coldness(tempC))
}
