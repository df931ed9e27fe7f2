package extraction

import "math"

// Half-lives of dissolved solute, min. Aroma: order of magnitude only, no
// half-life of a terpene in the boil was found; linalool survives a short hot
// stay with about 0.75 [10]. Colour: 3.0 h at 100 C and pH 2 [11], Ea 56-96 [12].
const (
	aromaBoilHalfLifeMin  = 20.0  // at a rolling boil; 5 to 60
	aromaHotHalfLifeMin   = 120.0 // in a hot stand; 40 to 400
	colourBoilHalfLifeMin = 180.0 // at 100 C
	colourLossEaKJ        = 65.0

	// hotStandC is where aroma begins to leave a hot stand; nil below. A rule
	// of thumb, no source.
	hotStandC = 60.0

	// Spreads of ln half-life: a quarter of the ln range read as a 95 % band.
	aromaBoilSDLn = 0.62
	aromaHotSDLn  = 0.58
	colourSDLn    = 0.30 // half-lives of 3.0 h and 1.96 h at about one temperature [11]
)

// LossRate returns kv, the first-order rate (1/min) at which dissolved solute of
// class c is lost at tempC. Aroma: ln2/20 at a rolling boil, ln2/120 from 60 C
// up, nil below. Colour: ln2/180 at 100 C, 65 kJ/mol elsewhere. Water and resin
// do not decay (hydrocarbon oils in the resin class leave a boil within minutes,
// and are not modelled apart).
func (c Class) LossRate(tempC float64, rollingBoil bool) float64 {
	switch {
	case c == Colour:
		x := 1/(tempC+zeroC) - 1/(boilingC+zeroC)
		return math.Ln2 / colourBoilHalfLifeMin * math.Exp(-colourLossEaKJ*1000/gasConstant*x)
	case c == Aroma && rollingBoil:
		return math.Ln2 / aromaBoilHalfLifeMin
	case c == Aroma && tempC >= hotStandC:
		return math.Ln2 / aromaHotHalfLifeMin
	}
	return 0
}
