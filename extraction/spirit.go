package extraction

import "math"

// spiritABVPct are the strengths of the table of spirit, % vol: flat outside, linear
// between.
var spiritABVPct = [...]float64{10, 20, 40, 60, 80, 95}

// spiritRow is what the strength of a liquid does to the ceiling of a class.
type spiritRow struct {
	// At is a factor on the ceiling in water, or the ceiling itself if IsCeiling.
	At        [len(spiritABVPct)]float64
	IsCeiling bool
	// SDLn adds to the doubt of the ceiling in water, or takes its place if
	// IsCeiling.
	SDLn  float64
	Grade string
}

// spiritRows: citrus leaf gave 1, 1.33, 1.15, 1.03, 1.15 and 0.18 of the solids of
// water at 0 to 100 % vol; hibiscus colour 1.08 and 1.30 at 10 and 20 %; sage and
// ginger are best at 55 to 75 %, grape-skin tannin at 50 %; oils dissolve in a few
// parts of strong spirit and hardly in weak [23]. Sizes beyond that are judged.
var spiritRows = [classCount]spiritRow{
	Water:  {At: [...]float64{1, 1.15, 1.08, 0.95, 0.80, 0.30}, SDLn: 0.25, Grade: "B"},
	Acid:   {At: [...]float64{1, 1, 1, 0.90, 0.60, 0.20}, SDLn: 0.30, Grade: "C"},
	Colour: {At: [...]float64{1, 1.15, 1.15, 1.10, 0.90, 0.35}, SDLn: 0.25, Grade: "C"},
	small:  {At: [...]float64{1, 1.05, 1.10, 1.10, 1.00, 0.60}, SDLn: 0.25, Grade: "C"},
	Tannin: {At: [...]float64{1, 1.20, 1.40, 1.50, 1.10, 0.30}, SDLn: 0.35, Grade: "C"},
	Aroma:  {At: [...]float64{0.75, 0.82, 0.95, 1, 1, 1}, IsCeiling: true, SDLn: 0.15, Grade: "C"},
	Resin:  {At: [...]float64{0.05, 0.25, 0.60, 0.90, 1, 1}, IsCeiling: true, SDLn: 0.5, Grade: "C"},
}

// Ceiling returns u, the share of class c that a solvent of abvPct (% vol) can ever
// carry into beer, at most 1. Strength acts from 10 % on.
func (c Class) Ceiling(abvPct float64) float64 {
	at := between(spiritABVPct[:], spiritRows[c].At[:], abvPct)
	if spiritRows[c].IsCeiling {
		return at
	}
	return min(1, classRows[c].UWater*at)
}

// ceilingSDLn returns the sd of the logarithm of Ceiling.
func (c Class) ceilingSDLn(abvPct float64) float64 {
	switch row := &spiritRows[c]; {
	case abvPct <= spiritABVPct[0]:
		return classRows[c].USDLn
	case row.IsCeiling:
		return row.SDLn
	default:
		// the ceiling is a product of two doubtful factors: logarithms add, and so do their variances
		return math.Hypot(classRows[c].USDLn, row.SDLn)
	}
}

// viscosity is by how much ethanol slows the release: the viscosity of water over
// that of the mixture at 20 C, read up to 40 % vol [13], from memory above, where
// the mixture is thickest near 45 % and thinner again beyond.
var viscosity = struct{ ABVPct, Factor []float64 }{
	[]float64{0, 5, 8, 20, 40, 60, 80, 95},
	[]float64{1, 0.83, 0.75, 0.51, 0.36, 0.36, 0.45, 0.7},
}

// solventRateFactor returns s_solv, by how much ethanol slows the release.
func solventRateFactor(abvPct float64) float64 {
	return between(viscosity.ABVPct, viscosity.Factor, abvPct)
}

// between returns y at x on the line through points of rising x: straight between
// them, flat outside.
func between(xs, ys []float64, x float64) float64 {
	if x <= xs[0] {
		return ys[0]
	}
	for i := 1; i < len(xs); i++ {
		if x <= xs[i] {
			return ys[i-1] + (x-xs[i-1])/(xs[i]-xs[i-1])*(ys[i]-ys[i-1])
		}
	}
	return ys[len(ys)-1]
}
