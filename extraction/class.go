package extraction

// Class is a group of solutes that leave the material and survive the brew
// house alike.
type Class int

// The solute classes. Colour is the part of Water that fades when hot: it has
// the rate and the ceiling of Water and a half-life of its own.
const (
	Water  Class = iota // acid, colour, tannin, sugar
	Aroma               // oxygenated volatiles
	Resin               // bitter and pungent resins, hydrocarbon oils
	Colour              // anthocyanins, counted as Water until heated
)

// ClassCount is the length of a ByClass.
const ClassCount = 4

// ByClass holds one figure for each class, indexed by Class.
type ByClass [ClassCount]float64

// Classes returns the three classes of an effective dose; Colour is a part of
// Water and is not counted again.
func Classes() []Class { return []Class{Water, Aroma, Resin} }

// String returns the name of the class, as ParseClass reads it.
func (c Class) String() string {
	switch c {
	case Water:
		return "water"
	case Aroma:
		return "aroma"
	case Resin:
		return "resin"
	case Colour:
		return "colour"
	}
	return "unknown"
}

// classRow is what the model needs to know about a class.
type classRow struct {
	// RateFactor is k of the class over k of Water.
	RateFactor float64
	// UWater is the ceiling in water, wort and beer.
	UWater float64
	// USpirit is the ceiling in spirit of 40 % vol.
	USpirit float64
	// USDLn is the sd of ln u.
	USDLn float64
	// FreshSDLn is the sd of ln of "fresh and dried are equal by dry matter".
	FreshSDLn float64
	// PriorSDLn is the sd of the ln relative potency of a method before any trial.
	PriorSDLn float64
}

// classRows are the class defaults, indexed by Class. Ceilings: tea gives up
// 0.86-0.98 of its water solubles, hop polyphenols 0.5-0.7 [9]; linalool 0.8
// dry and 0.6 hot [10]; alpha acids 0.04-0.05, hydrocarbons 0.02-0.03 [9]. The
// spirit figures, the rate factors and the spreads are judgements.
var classRows = [ClassCount]classRow{
	Water:  {RateFactor: 1, UWater: 0.95, USpirit: 0.95, USDLn: 0.07, FreshSDLn: 0.1, PriorSDLn: 0.25},
	Aroma:  {RateFactor: 0.7, UWater: 0.75, USpirit: 0.95, USDLn: 0.30, FreshSDLn: 0.4, PriorSDLn: 0.6},
	Resin:  {RateFactor: 0.3, UWater: 0.05, USpirit: 0.60, USDLn: 0.80, FreshSDLn: 0.4, PriorSDLn: 1.0},
	Colour: {RateFactor: 1, UWater: 0.95, USpirit: 0.95, USDLn: 0.07, FreshSDLn: 0.1, PriorSDLn: 0.25},
}

// The strengths between which the ceiling moves from its water value to its
// spirit value, % vol: beer strength changes nothing, 40 % is the anchor. The
// straight line between is a judgement.
const (
	beerABVPct   = 10.0
	spiritABVPct = 40.0
)

// Ceiling returns u, the share of class c that a solvent of abvPct (% vol) can
// ever carry into beer: the water value up to 10 %, the spirit value from 40 %,
// linear between.
func (c Class) Ceiling(abvPct float64) float64 {
	row := &classRows[c]
	if abvPct <= beerABVPct {
		return row.UWater
	}
	share := min(1, (abvPct-beerABVPct)/(spiritABVPct-beerABVPct))
	return row.UWater + share*(row.USpirit-row.UWater)
}

// viscosityRow is one strength of the table behind SolventRateFactor.
type viscosityRow struct{ ABVPct, Factor float64 }

// viscosityRows: viscosity of water over that of the mixture at 20 C [13].
var viscosityRows = [...]viscosityRow{{0, 1}, {5, 0.83}, {8, 0.75}, {20, 0.51}, {40, 0.36}}

// SolventRateFactor returns s_solv, by how much ethanol slows the release:
// linear between the tabulated strengths, 0.36 above 40 % vol, where the table
// ends (the mixture is thickest near 45 % and thinner again beyond).
func SolventRateFactor(abvPct float64) float64 {
	for i := 1; i < len(viscosityRows); i++ {
		a, b := viscosityRows[i-1], viscosityRows[i]
		if abvPct <= b.ABVPct {
			return a.Factor + (max(abvPct, 0)-a.ABVPct)/(b.ABVPct-a.ABVPct)*(b.Factor-a.Factor)
		}
	}
	return viscosityRows[len(viscosityRows)-1].Factor
}
