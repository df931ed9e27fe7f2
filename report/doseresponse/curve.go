package doseresponse

import (
	"math"
	"slices"
)

// A CurvePoint is what to expect of a fresh brew at one dose: the shares of
// the votes, and bands for the share of "just right" of this panel.
type CurvePoint struct {
	DoseGPerL  float64 // as asked for
	PTooLittle float64 // expected share of the panel's votes
	PRight     float64
	PTooMuch   float64

	Low50, High50 float64 // half of the draws have PRight between these
	Low90, High90 float64 // nine tenths of them
}

// Curve returns the predicted votes at the given doses, g/L, in the reference
// method, averaged over the potency of a fresh brew. The shares are posterior
// means; the bands say how far the share of this panel is known, not how
// single votes scatter. A dose that is not from 1e-6 to 1000 gives a zero point.
func (p *Posterior) Curve(doses []float64) []CurvePoint {
	out := make([]CurvePoint, len(doses))
	shares := make([]float64, len(p.kept.point))
	look := p.newScan()
	for k, d := range doses {
		if !(d >= minDoseGPerL && d <= maxDoseGPerL) {
			continue
		}
		x := math.Log(d) - p.prob.origin
		c := CurvePoint{DoseGPerL: d}
		c.PTooLittle, c.PRight, c.PTooMuch = p.votesAt(x)
		look.at(x)
		for i := range shares {
			shares[i] = look.panel(i)
		}
		slices.Sort(shares)
		c.Low90, c.Low50, c.High50, c.High90 =
			sortedPoint(shares, lowShare), sortedPoint(shares, 0.25), sortedPoint(shares, 0.75), sortedPoint(shares, highShare)
		out[k] = c
	}
	return out
}

// sortedPoint returns the value below which the given share of ascending
// values lies.
func sortedPoint(values []float64, share float64) float64 {
	return values[min(len(values)-1, int(share*float64(len(values))))]
}
