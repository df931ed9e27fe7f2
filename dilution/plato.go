package dilution

import (
	"math"

	"hedgerow/trials/figure"
)

// SGFromPlato returns the specific gravity 20/20 of a wort of plato per cent
// by mass: rhoS(plato/100, 20)/rhoW(20) [3]. Valid -5..60; an *inputError
// otherwise.
func SGFromPlato(plato float64) (float64, error) {
	if err := within("extract in degrees Plato", plato, -5, 60, "give per cent by mass"); err != nil {
		return 0, err
	}
	return sgOfExtract(plato / 100), nil
}

// PlatoFromSG returns the extract in per cent by mass of a wort of specific
// gravity sg (20/20), the inverse of SGFromPlato. For a beer it is the apparent
// extract, and negative below SG 1. An *inputError is returned outside
// 0.97..1.20.
func PlatoFromSG(sg float64) (float64, error) {
	if err := checkSG("gravity", sg); err != nil {
		return 0, err
	}
	return 100 * extractOfSG(sg), nil
}

// checkSG returns an *inputError unless sg lies in 0.97..1.20. The name says
// which gravity it is, as the user knows it ("original gravity").
func checkSG(name string, sg float64) error {
	return within(name, sg, figure.SGMin, figure.SGMax, "type 48 gravity points as 1.048, or degrees Plato as 12P")
}

// checkSpirit returns an *inputError unless abvPct is a possible strength.
func checkSpirit(abvPct float64) error {
	return within("strength in % vol", abvPct, 0, 100, "give per cent by volume at 20 C; US proof is twice that")
}

// newtonStep ends a Newton search on a smooth, nearly straight function: after
// a step this short the next one would be about its square, below rounding.
const newtonStep = 1e-7

// sgOfExtract returns the SG 20/20 of a wort with mass fraction w of extract.
func sgOfExtract(w float64) float64 {
	return iso20.sucrose(w) / waterDensity20
}

// extractOfSG returns the mass fraction of extract in a wort of gravity sg.
func extractOfSG(sg float64) float64 {
	return iso20.extractOfDensity(sg * waterDensity20)
}

// extractOfDensity returns w with rhoS(w) = rho by Newton steps held in the
// bracket -0.05..0.6, to the last digits.
func (iso *isotherm) extractOfDensity(rho float64) float64 {
	w := (rho - iso.su[0]) / (iso.su[1] + 0.35*(rho-iso.su[0]))
	for range 30 {
		have, slope := iso.sucroseSlope(w)
		step := (rho - have) / slope
		// a step too far lands where the polynomial was never fitted and need not lead back
		w = max(-0.05, min(0.6, w+step))
		if math.Abs(step) < newtonStep {
			break
		}
	}
	return w
}

// massFraction returns p with p rho(p,20)/rho(1,20) = q, 0 <= q <= 1, by
// Newton steps; the function rises and is smooth on the whole range.
func massFraction(q float64) float64 {
	// as if volumes added up, which is within a few per cent of it
	p := q * ethanolDensity20 / (waterDensity20 + q*(ethanolDensity20-waterDensity20))
	for range 40 {
		rho, slope := iso20.ethanolWaterSlope(p)
		step := (q*ethanolDensity20 - p*rho) / (rho + p*slope)
		p = max(0, min(1, p+step))
		if math.Abs(step) < newtonStep {
			break
		}
	}
	return p
}
