package dilution

import "math"

// YieldURel is the relative standard uncertainty of the strength that
// fermentation makes from a given amount of sugar. Yeasts need 16.5 to 17.2 g/L
// of sugar for 1 % vol [20]; +-0.35 about 16.85 as a rectangle is 1.20 %.
// Balling's figure is 16.31 g of extract, mostly maltose and sucrose, 5 % lighter
// than the hexose they give, and lies inside.
//
// It is one error for a whole batch: it does not average out, and it is common to
// the base beer, to fruit and to priming.
const YieldURel = 0.012

// Names of the parts of a budget that come from the model and from no input.
const (
	modelError = "model: strength from gravities"
	// YieldError is the part of the ethanol yield of the yeast.
	YieldError = "model: ethanol yield of the yeast"
)

// StrengthDoubt is what the doubt of a strength is made of.
type StrengthDoubt struct {
	ModelPct     float64 // standard uncertainty of the model, % vol; see ModelABVPct
	FermentedPct float64 // strength that moves with the yield, % vol
	YieldRel     float64 // relative standard uncertainty of the yield; see YieldURel
	InputsPct    float64 // standard uncertainty from the limits of the inputs, % vol
}

// U returns the standard uncertainty of the strength in % vol,
//
//	u^2 = model^2 + (yield fermented)^2 + inputs^2
//
// the three being independent of one another. Evaporation and sugar left
// unfermented unawares are not in it.
func (d StrengthDoubt) U() float64 {
	return math.Hypot(math.Hypot(d.ModelPct, d.YieldRel*d.FermentedPct), d.InputsPct)
}

// tied returns the state with the strength that moves with the yield set for a
// gravity that was read: with original extract and density given, a yeast that
// makes more ethanol of a gram of extract must have fermented less of it, so that
// the strength moves by d ln ABV/d ln yield = 0.77 to 0.69 of what the yield does
// (OG 1.045 to 1.125), not by all of it. The slope is the central difference over
// 1 % of the yield either way. Only the run on best values needs it.
func (s State) tied() State {
	brewed := s.EthanolKg - s.SpiritKg
	if brewed <= 0 || s.WaterKg <= 0 {
		s.yieldKg = 0
		return s
	}
	const step = 0.01
	rho := s.SG() * waterDensity20
	wort := s
	// back to the wort, for another yield would have fermented all of it differently, down to the same
	// density
	wort.EthanolKg, wort.ExtractKg = s.SpiritKg, s.ExtractKg+extractPerEthanol*brewed
	at := func(perExtract float64) float64 {
		f := wort.fermentedAtYield(&iso20, rho, perExtract)
		b := wort
		b.EthanolKg, b.ExtractKg = wort.EthanolKg+f*perExtract, wort.ExtractKg-f
		return b.ABVPct()
	}
	slope := (at(ethanolPerExtract*(1+step)) - at(ethanolPerExtract*(1-step))) / (2 * step)
	s.yieldKg = slope / 100 * ethanolDensity20 * s.VolumeL() / 1000
	return s
}

// yieldPct is the strength in % vol that moves with the yield of the yeast: what
// was fermented, as far as no gravity ties it; spirit is not in it.
func (s *State) yieldPct() float64 {
	if s.empty() {
		return 0
	}
	return 100 * 1000 * s.yieldKg / ethanolDensity20 / s.VolumeL()
}
