package doseresponse

import "math"

// ignored returns the chance that the votes follow no dose at all: that every
// beer would have got the same.
func (p *Posterior) ignored() float64 {
	var chance float64
	for i, at := range p.draws.point {
		if p.points[at].node.ignores {
			chance += p.draws.weight[i]
		}
	}
	return chance
}

// What a taster who scores at random is taken for, judgement: one of ten, with a
// vote of each kind as likely as another, and intensities about a level of the
// taster's own that has nothing to do with the beer.
const (
	randomPrior   = 0.1
	randomAnswers = 3   // below so many answers nobody is suspected
	randomLevel   = 5.0 // mean of the intensities
	randomLevelSD = 1.5
	trustedWhole  = 0.2 // chance of being random up to which nothing is changed
	leftOut       = 0.8 // and from which on the taster is no longer of the panel
	fewestLeft    = 2   // tasters that a panel keeps
)

// randomNoises are the variances of such intensities about their level, as likely
// as each other.
func randomNoises() [2]float64 { return [...]float64{1.44, 4.84} }

// suspect returns the chance that each taster scores at random, given what the
// others say, at the best node where answers follow the dose:
//
//	odds = 0.1/0.9 p(answers | random)/p(answers | the others' answers)
//
// The lower factor is the evidence of all answers over that of the others alone.
// A single taster has no others.
func (f *field) suspect(points []point) []float64 {
	chances := make([]float64, len(f.tasters))
	best := -1
	for i, p := range points {
		if !p.node.ignores && (best < 0 || p.lnW > points[best].lnW) {
			best = i
		}
	}
	if best < 0 || len(f.tasters) < 2 {
		return chances
	}
	f.at(points[best].node)
	copy(f.mode, points[best].mode)
	all := f.findMode()
	for i := range chances {
		lnRandom, answers, inside := f.lnRandom(i)
		if answers < randomAnswers {
			continue
		}
		f.trust[i], f.whole = 0, false
		copy(f.mode, points[best].mode)
		lnOwn := all - f.findMode() - float64(inside)*halfLn2Pi
		f.trust[i], f.whole = 1, true
		odds := randomPrior / (1 - randomPrior) * math.Exp(min(maxExponent, lnRandom-lnOwn))
		chances[i] = odds / (1 + odds)
	}
	return chances
}

// lnRandom returns the ln probability of what a taster said if it was said at
// random, the number of answers, and how many are intensities inside the scale. The n
// intensities about a level A ~ N(5, 1.5^2) with the variance v have the density
//
//	prod N(y; 5, v) * sqrt(v/(v + n 1.5^2)) exp(s^2 1.5^2/(2 v (v + n 1.5^2))),  s = sum (y - 5)
func (f *field) lnRandom(taster int) (lnP float64, answers, inside int) {
	for _, o := range f.votes {
		if o.taster == taster {
			lnP -= math.Log(3)
			answers++
		}
	}
	var n, s, squares float64
	for _, o := range f.marks {
		if o.taster != taster {
			continue
		}
		answers++
		if _, _, end := censored(o.y); !end {
			inside++
		}
		d := o.y - randomLevel
		n, s, squares = n+1, s+d, squares+d*d
	}
	if n == 0 {
		return lnP, answers, 0
	}
	var densities []float64
	const a = randomLevelSD * randomLevelSD
	for _, v := range randomNoises() {
		l := -0.5*squares/v - n*(0.5*math.Log(v)+halfLn2Pi)
		l += 0.5*math.Log(v/(v+n*a)) + s*s*a/(2*v*(v+n*a))
		densities = append(densities, l)
	}
	return lnP + lnMean(densities), answers, inside
}

// distrust sets the trust in every taster, 1 less the chance of being random, and
// leaves those out of the panel who almost surely are; it reports whether anything
// changed. It is one step towards the mixture over who is random that keeps the
// field what it is.
func (p *problem) distrust(chances []float64) bool {
	changed := false
	var panel []int
	for i, chance := range chances {
		if chance > trustedWhole {
			changed = true
		}
		if chance < leftOut {
			panel = append(panel, i)
		}
	}
	if !changed {
		return false
	}
	for i, chance := range chances {
		p.trust[i] = 1 - chance
	}
	if len(panel) >= fewestLeft {
		p.panel = panel
	}
	return true
}
