package doseresponse

import (
	"math"

	"hedgerow/report/field"
)

// Spacing of the jars of a split: every step is twice spreadShare of the SD
// of the right ln dose, and at least twice minSpread ([1] section 1).
const (
	spreadShare = 0.30
	minSpread   = 0.10
)

// Around two camps the jars stand campJars to either side of each right dose, the
// glasses reach campGlasses beyond both (judgement: an eighth can just be told).
const (
	campJars    = 1.13
	campGlasses = 1.2
)

// proposed returns the relative ln dose to brew by itself: the best one, kept clear
// of what was refused and then within the limits on other tastes, which win.
func (p *Posterior) proposed() float64 {
	x := p.relative(p.refused().keep(p.dose(p.best)))
	if both, ok := p.bestBoth(); ok {
		limit, _ := p.avoidLimit()
		x = min(x, p.relative(both.DoseGPerL), limit)
	}
	return x
}

// Spread returns n doses, g/L, for the jars of one split brew, ascending. They
// come from the same posterior as the next dose d:
//
//	d_j = d * exp(s (2j - n + 1)),  s = max(0.10, 0.30 SD),  j = 0..n-1
//
// with SD that of the panel's right ln dose. Four jars are what [1] tried. Two
// camps get jars at both of their doses, advice that lies far apart at both ends.
// While every vote lies on one side the whole ladder stands clear of what was
// refused; and it is slid below the limit of a taste to avoid. It returns nil for n
// below 1.
func (p *Posterior) Spread(n int) []float64 {
	if n < 1 {
		return nil
	}
	doses := p.jars(n)
	p.withinBounds(doses)
	return doses
}

// jars returns the doses of Spread before they are slid.
func (p *Posterior) jars(n int) []float64 {
	half := (n + 1) / 2
	if c := field.ClaimClusters(p.study.ClaimsGPerL); p.verdict() == Bench && len(c) > 1 && n > 1 {
		return append(inRange(c[0], half), inRange(c[len(c)-1], n-half)...)
	}
	if s := p.servedCamps(); s.Likely && n > 1 {
		d1, d2 := s.Camps[0].Dose.Value, s.Camps[1].Dose.Value
		if s.Found && d2 > d1*campJars*campJars {
			return append(evenly(d1/campJars, d1*campJars, half), evenly(d2/campJars, d2*campJars, n-half)...)
		}
		return evenly(d1, d2, n)
	}
	_, sd := p.spreadOfRight()
	s := max(minSpread, spreadShare*sd)
	d, reach := p.NextDose().DoseGPerL, math.Exp(s*float64(n-1))
	return evenly(d/reach, d*reach, n)
}

// servedCamps returns the camps that jars and glasses serve: none with a target
// intensity, which all share.
func (p *Posterior) servedCamps() campSplit {
	if p.study.TargetIntensity != nil {
		return campSplit{}
	}
	return p.twoCamps()
}

// evenly returns n doses in equal factors from lo to hi; one stands in the middle.
func evenly(lo, hi float64, n int) []float64 {
	doses := make([]float64, n)
	for j := range doses {
		share := 0.5
		if n > 1 {
			share = float64(j) / float64(n-1)
		}
		doses[j] = lo * math.Pow(hi/lo, share)
	}
	return doses
}

// inRange returns n doses inside the range of some claims, each in the middle of
// its part; a range of one dose is widened to what can be told apart.
func inRange(claims [][2]float64, n int) []float64 {
	lo, hi := claimRange(claims)
	if hi < lo*campJars*campJars {
		mid := math.Sqrt(lo * hi)
		lo, hi = mid/campJars, mid*campJars
	}
	doses := make([]float64, n)
	for j := range doses {
		doses[j] = lo * math.Pow(hi/lo, (float64(j)+0.5)/float64(n))
	}
	return doses
}

// withinBounds slides a ladder clear of what was refused while every vote lies on
// one side, and then below the limits on other tastes.
func (p *Posterior) withinBounds(doses []float64) {
	if p.side() != 0 {
		p.refused().slide(doses)
	}
	if limit, ok := p.avoidLimit(); ok {
		refusedDoses{0, p.dose(limit) * refusedStep}.slide(doses)
	}
}

// Glasses returns the doses of a bench series, g/L, in ascending order: 0 as
// an anchor, and five glasses at the 10, 30, 50, 70 and 90 % points of the
// range of the claims on the log axis, or of the posterior when there are
// scores, no claims, or claims of about one dose, which would fill all alike; over both doses of
// two camps. They keep the bounds of the jars. All glasses get the same amount of liquid.
func (p *Posterior) Glasses() []float64 {
	dosed := p.glasses()
	p.withinBounds(dosed)
	return append([]float64{0}, dosed...)
}

// dosedGlasses is how many glasses of a bench series have a dose.
const dosedGlasses = 5

// glasses returns the doses of Glasses before they are slid.
func (p *Posterior) glasses() []float64 {
	shares := []float64{0.1, 0.3, 0.5, 0.7, 0.9}
	claims := p.study.ClaimsGPerL
	if lo, hi := claimRange(claims); !p.scored() && !p.hears() && hi > lo*campJars*campJars {
		doses := make([]float64, len(shares))
		for i, share := range shares {
			doses[i] = lo * math.Pow(hi/lo, share)
		}
		return doses
	}
	if s := p.servedCamps(); s.Likely {
		d1, d2 := s.Camps[0].Dose.Value, s.Camps[1].Dose.Value
		if s.Found {
			d1, d2 = d1/campGlasses, d2*campGlasses
		}
		return evenly(d1, d2, dosedGlasses)
	}
	if p.verdict() == Retaste {
		q, _ := p.spreadOfRight()
		return evenly(p.dose(q.low), p.dose(q.high), dosedGlasses)
	}
	doses := p.draws.Points(p.draws.Psi, p.draws.Order, shares...)
	for i, x := range doses {
		doses[i] = p.dose(x)
	}
	return doses
}

// claimRange returns the lowest and the highest dose of all claims, 0 of none.
func claimRange(claims [][2]float64) (lo, hi float64) {
	if len(claims) == 0 {
		return 0, 0
	}
	lo, hi = claims[0][0], claims[0][1]
	for _, c := range claims {
		lo, hi = min(lo, c[0]), max(hi, c[1])
	}
	return lo, hi
}
