package doseresponse

import (
	"math"
	"slices"
)

// Priors of an unwanted taste, all judgement: its intensity is
//
//	y = level + slope x + taster_i + noise
//
// with x the relative ln dose; points on the 0-10 scale.
const (
	avoidLevel   = 2.5 // at the prior mean of the right dose
	avoidLevelSD = 2.0
	avoidSlope   = 1.5 // per unit of ln dose
	avoidSlopeSD = 1.0
	avoidTaster  = 1.0
	avoidNoise   = 1.4
)

// avoidSure is how likely the panel's mean must be within the limit.
const avoidSure = 0.8

// avoidReach is how far from the prior mean of the right dose, in its SDs,
// the limit is looked for.
const avoidReach = 4.0

// avoidLimit returns the largest relative ln dose at which every taste to
// avoid is likely (80 %) within its limit; ok is false when there is none to
// avoid.
func (p *Posterior) avoidLimit() (limit float64, ok bool) {
	limit = math.Inf(1)
	for _, a := range p.study.Avoid {
		limit = min(limit, p.limitOf(a))
	}
	return limit, len(p.study.Avoid) > 0
}

// limitOf returns the limit that one taste sets, at least the lower end of
// what is looked at.
func (p *Posterior) limitOf(a Avoid) float64 {
	fit := p.fitAvoid(a)
	reach := avoidReach * p.prior.sd
	// from the top down: the chance need not fall evenly with the dose, and the largest safe dose is asked for
	const steps = 200
	for k := range steps + 1 {
		x := reach - 2*reach*float64(k)/steps
		if fit.within(x, a.AtMost) >= avoidSure {
			return x
		}
	}
	// no dose is safe; a number all the same, so that the next dose is the smallest that is looked at
	return -reach
}

// An avoidFit is the Gaussian posterior of level, slope and tasters.
type avoidFit struct {
	mean, factor []float64
}

// fitAvoid fits the straight line to the scores of an unwanted taste in
// dosed trials.
func (p *Posterior) fitAvoid(a Avoid) avoidFit {
	var tasters []string
	for _, sc := range a.Scores {
		place(&tasters, sc.Taster)
	}
	dim := 2 + len(tasters)
	fit := avoidFit{make([]float64, dim), make([]float64, dim*dim)}
	for i := range dim {
		mean, sd := 0.0, avoidTaster
		switch i {
		case 0:
			mean, sd = avoidLevel, avoidLevelSD
		case 1:
			mean, sd = avoidSlope, avoidSlopeSD
		}
		fit.factor[i*dim+i] = 1 / (sd * sd)
		fit.mean[i] = mean / (sd * sd)
	}
	for _, sc := range a.Scores {
		k := slices.IndexFunc(p.study.Trials, func(t Trial) bool { return t.ID == sc.Trial })
		// an undosed beer has no place on a log axis
		if dose := p.study.Trials[k].DoseGPerL; dose > 0 {
			fit.add(math.Log(dose)-p.prob.origin, 2+place(&tasters, sc.Taster), sc.Intensity)
		}
	}
	cholesky(fit.factor, dim)
	solveLower(fit.factor, dim, fit.mean)
	solveUpper(fit.factor, dim, fit.mean)
	return fit
}

// add adds one score of the taster at the given index.
func (f *avoidFit) add(x float64, taster int, y float64) {
	dim := len(f.mean)
	at, c := [...]int{0, 1, taster}, [...]float64{1, x, 1}
	w := 1 / (avoidNoise * avoidNoise)
	for i, k := range at {
		f.mean[k] += w * c[i] * y
		for j, l := range at[:i+1] {
			f.factor[k*dim+l] += w * c[i] * c[j]
		}
	}
}

// within returns the chance that the panel's mean at x is at most the limit.
func (f *avoidFit) within(x, limit float64) float64 {
	dim := len(f.mean)
	c := make([]float64, dim)
	c[0], c[1] = 1, x
	// the limit is on the panel's mean, so that the scales of single tasters average out
	for i := 2; i < dim; i++ {
		c[i] = 1 / float64(dim-2)
	}
	var mean, v float64
	for i := range c {
		mean += c[i] * f.mean[i]
	}
	solveLower(f.factor, dim, c)
	for _, s := range c {
		v += s * s
	}
	return normal((limit - mean) / math.Sqrt(v))
}
