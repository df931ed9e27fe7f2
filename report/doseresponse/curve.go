package doseresponse

import (
	"math"
	"slices"
)

// A CurvePoint is what the panel would say of a fresh brew at one dose.
type CurvePoint struct {
	DoseGPerL float64 // in the reference method
	TooLittle float64 // expected share of the votes; the three sum to 1
	Right     float64
	TooMuch   float64
	Half      [2]float64 // half of the chance for the share of just right lies between
	Most      [2]float64 // nine tenths of it
}

// Curve returns the votes to expect at doses from low to high, n of them, equal factors
// apart. At the next dose they are those of NextDose.
func (p *Posterior) Curve(low, high float64, n int) []CurvePoint {
	list := make([]CurvePoint, n)
	look := p.newScan()
	shares := make([]float64, len(p.kept.Point))
	for k := range list {
		dose := low * math.Pow(high/low, float64(k)/float64(max(n-1, 1)))
		x := p.relative(dose)
		c := CurvePoint{DoseGPerL: dose}
		c.TooLittle, c.Right, c.TooMuch = p.votesAt(x)
		look.at(x)
		for i := range shares {
			shares[i] = look.panel(i)
		}
		slices.Sort(shares)
		at := func(q float64) float64 { return shares[int(math.Round(q*float64(len(shares)-1)))] }
		c.Half, c.Most = [2]float64{at(0.25), at(0.75)}, [2]float64{at(0.05), at(0.95)}
		list[k] = c
	}
	return list
}
