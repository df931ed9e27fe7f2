package doseresponse

import (
	"cmp"
	"math"
	"slices"

	"hedgerow/report/field"
)

// ignored returns the chance that the votes follow no dose at all: that every
// beer would have got the same.
func (p *Posterior) ignored() float64 {
	var chance float64
	for i, at := range p.draws.Point {
		if p.points[at].Node.Ignores {
			chance += p.draws.Weight[i]
		}
	}
	return chance
}

// spreadOfRight returns the limits and the SD of the right ln dose that the interval, the
// jars and the glasses rest on. Where the beers are to be tasted again the votes so far
// tell nothing: they are those of the draws in which the votes ignore the dose.
func (p *Posterior) spreadOfRight() (q band, sd float64) {
	if p.verdict() != Retaste {
		return p.right90, p.psiSD
	}
	advice := *p.draws
	advice.Weight = slices.Clone(p.draws.Weight)
	for i, at := range advice.Point {
		if !p.points[at].Node.Ignores {
			advice.Weight[i] = 0
		}
	}
	field.Rescale(advice.Weight)
	_, sd = advice.Moments(advice.Psi)
	return bandOf(&advice, advice.Psi, advice.Order), sd
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

	suspectNodes = 4    // best nodes that doubts are weighed at
	beyondDoubt  = 0.05 // chance at the best one up to which nobody is weighed at the others
	doubtRounds  = 3    // fits after doubts
	doubtSettled = 0.02 // change of the chances up to which another fit would tell the same
)

// randomNoises are the variances of such intensities about their level, as likely
// as each other.
func randomNoises() [2]float64 { return [...]float64{1.44, 4.84} }

// doubt finds out who scores at random and fits again without them. Two who do so speak
// for each other at first; once one is trusted less the other is seen by those who are
// left, so that it takes some rounds.
func (p *Posterior) doubt(f *field.Field, b beliefs, again func()) {
	for range doubtRounds {
		chances := b.suspected(f, bestNodes(p.points))
		settled := true
		for i, chance := range chances {
			settled = settled && math.Abs(chance-p.strays[i]) < doubtSettled
		}
		if settled {
			return
		}
		p.strays = chances
		if !distrust(p.prob, chances) {
			return
		}
		f.Whole = false
		again()
	}
}

// suspect returns the chance that each taster scores at random, given what the others
// say as far as they are trusted by now, at the nodes where that was fitted, the best one
// first:
//
//	odds = 0.1/0.9 p(answers | random)/p(answers | the others' answers)
//
// The lower factor is the evidence of all answers over that of the others alone, each
// summed over the nodes: with one node alone, the best while all are trusted, a taste as
// blunt as a random panel's would be taken for given. A single taster has no others.
func suspect(f *field.Field, at []field.Point) []float64 {
	chances := make([]float64, len(f.Tasters))
	if len(at) == 0 || len(f.Tasters) < 2 {
		return chances
	}
	// as a rule everybody is beyond doubt, which one node shows at a quarter of the price
	if f.Whole {
		doubtful := false
		for i := range chances {
			chances[i] = chanceOf(f, at[:1], i)
			doubtful = doubtful || chances[i] > beyondDoubt
		}
		if !doubtful {
			return chances
		}
	}
	for i := range chances {
		chances[i] = chanceOf(f, at, i)
	}
	return chances
}

// bestNodes returns the best few nodes where answers follow the dose, the best one first.
func bestNodes(points []field.Point) []field.Point {
	list := slices.DeleteFunc(slices.Clone(points), func(p field.Point) bool { return p.Node.Ignores })
	slices.SortStableFunc(list, func(a, b field.Point) int { return cmp.Compare(b.LnW, a.LnW) })
	return list[:min(len(list), suspectNodes)]
}

// chanceOf returns the chance that one taster scores at random.
func chanceOf(f *field.Field, at []field.Point, taster int) float64 {
	lnRandom, answers, inside := lnRandom(f, taster)
	if answers < randomAnswers {
		return 0
	}
	trust, whole := f.Trust[taster], f.Whole
	var with, without []float64
	for _, p := range at {
		f.At(p.Node)
		// who is trusted whole is in the evidence of the fit as it is
		ln := p.LnW
		if trust < 1 {
			f.Trust[taster] = 1
			copy(f.Mode, p.Mode)
			ln = f.FindMode() + p.Node.LnW
		}
		with = append(with, ln)
		f.Trust[taster], f.Whole = 0, false
		copy(f.Mode, p.Mode)
		without = append(without, f.FindMode()+p.Node.LnW)
	}
	f.Trust[taster], f.Whole = trust, whole
	lnOwn := lnMean(with) - lnMean(without) - float64(inside)*field.HalfLn2Pi
	odds := randomPrior / (1 - randomPrior) * math.Exp(min(field.MaxExponent, lnRandom-lnOwn))
	return odds / (1 + odds)
}

// lnRandom returns the ln probability of what a taster said if it was said at
// random, the number of answers, and how many are intensities inside the scale. The n
// intensities about a level A ~ N(5, 1.5^2) with the variance v have the density
//
//	prod N(y; 5, v) * sqrt(v/(v + n 1.5^2)) exp(s^2 1.5^2/(2 v (v + n 1.5^2))),  s = sum (y - 5)
func lnRandom(f *field.Field, taster int) (lnP float64, answers, inside int) {
	for _, o := range f.Votes {
		if o.Taster == taster {
			lnP -= math.Log(3)
			answers++
		}
	}
	var n, s, squares float64
	for _, o := range f.Marks {
		if o.Taster != taster {
			continue
		}
		answers++
		if _, _, end := field.Censored(o.Y); !end {
			inside++
		}
		d := o.Y - randomLevel
		n, s, squares = n+1, s+d, squares+d*d
	}
	if n == 0 {
		return lnP, answers, 0
	}
	var densities []float64
	const a = randomLevelSD * randomLevelSD
	for _, v := range randomNoises() {
		l := -0.5*squares/v - n*(0.5*math.Log(v)+field.HalfLn2Pi)
		l += 0.5*math.Log(v/(v+n*a)) + s*s*a/(2*v*(v+n*a))
		densities = append(densities, l)
	}
	return lnP + lnMean(densities), answers, inside
}

// distrust sets the trust in every taster, 1 less the chance of being random, and
// leaves those out of the panel who almost surely are; it reports whether the answers
// are to be fitted again. It is one step towards the mixture over who is random that
// keeps the field what it is.
func distrust(p *field.Problem, chances []float64) bool {
	var panel []int
	for i, chance := range chances {
		if chance < leftOut {
			panel = append(panel, i)
		}
	}
	if slices.Max(chances) <= trustedWhole && slices.Min(p.Trust) == 1 {
		return false
	}
	for i, chance := range chances {
		p.Trust[i], p.NoteTrust[i] = 1-chance, 1-chance
	}
	if len(panel) >= fewestLeft {
		p.Panel = panel
	}
	return true
}
