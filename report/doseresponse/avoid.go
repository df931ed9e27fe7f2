package doseresponse

import (
	"math"
	"slices"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// Priors of an unwanted taste, all judgement: its intensity is
//
//	y = level + slope x + taster_i + noise
//
// with x the relative ln dose; points on the 0-10 scale.
const (
	avoidLevel   = 2.5 // at the prior mean of the right dose
	avoidLevelSD = 2.0
	avoidSlope   = 2.5 // per unit of ln dose, as that of any taste
	avoidSlopeSD = 2.0
	avoidTaster  = 1.0
	avoidNoise   = 1.4
)

// avoidSure is how likely the panel's mean must be within the limit. More would
// leave a beer with too little of what it is brewed for.
const avoidSure = 0.5

// avoidReach is how far from the prior mean of the right dose, in its SDs,
// the limit is looked for.
const avoidReach = 4.0

// A keeping is what one taste to avoid allows.
type keeping struct {
	evidence.Avoid
	fit   avoidFit
	limit float64 // largest relative ln dose that is as likely as not within it
	kept  bool    // some dose keeps it
}

// weighAvoid works out what every taste to avoid allows.
func (p *Posterior) weighAvoid() []keeping {
	list := make([]keeping, len(p.study.Avoid))
	for i, a := range p.study.Avoid {
		list[i] = keeping{Avoid: a, fit: p.fitAvoid(a)}
		list[i].limit, list[i].kept = p.limitOf(&list[i])
	}
	return list
}

// avoidLimit returns the largest relative ln dose at which every taste to avoid
// that some dose keeps is as likely as not within its limit; ok is false when there
// is none.
func (p *Posterior) avoidLimit() (limit float64, ok bool) {
	limit = math.Inf(1)
	for _, k := range p.avoidOnce() {
		if k.kept {
			limit, ok = min(limit, k.limit), true
		}
	}
	return limit, ok
}

// limitOf returns the limit that one taste sets; ok is false when no dose that is
// looked at keeps it, or the undosed beers are past it already.
func (p *Posterior) limitOf(k *keeping) (limit float64, ok bool) {
	if mean, n := p.undosed(k.Avoid); n > 0 && mean > k.AtMost {
		return 0, false
	}
	reach := avoidReach * p.prior.Sd
	// from the top down: the chance need not fall evenly with the dose, and the largest safe dose is asked for
	const steps = 200
	for j := range steps + 1 {
		x := reach - 2*reach*float64(j)/steps
		if k.fit.within(x, k.AtMost) >= avoidSure {
			return x, true
		}
	}
	return 0, false
}

// undosed returns the mean intensity of a taste in the beers without a dose, and
// of how many scores it is.
func (p *Posterior) undosed(a evidence.Avoid) (mean float64, n int) {
	for _, sc := range a.Scores {
		if p.trialNamed(sc.Trial).DoseGPerL == 0 {
			mean, n = mean+sc.Intensity, n+1
		}
	}
	return mean / float64(max(n, 1)), n
}

// trialNamed returns a trial of the study by its id, which is known to be there.
func (p *Posterior) trialNamed(id string) evidence.Trial {
	return p.study.Trials[slices.IndexFunc(p.study.Trials, func(t evidence.Trial) bool { return t.ID == id })]
}

// An avoidFit is the Gaussian posterior of level, slope and tasters.
type avoidFit struct {
	mean, factor []float64
}

// fitAvoid fits the straight line to the scores of an unwanted taste in
// dosed trials.
func (p *Posterior) fitAvoid(a evidence.Avoid) avoidFit {
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
		k := slices.IndexFunc(p.study.Trials, func(t evidence.Trial) bool { return t.ID == sc.Trial })
		// an undosed beer has no place on a log axis
		if dose := p.study.Trials[k].DoseGPerL; dose > 0 {
			fit.add(math.Log(dose)-p.prob.Origin, 2+place(&tasters, sc.Taster), sc.Intensity)
		}
	}
	field.Cholesky(fit.factor, dim)
	field.SolveLower(fit.factor, dim, fit.mean)
	field.SolveUpper(fit.factor, dim, fit.mean)
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
	field.SolveLower(f.factor, dim, c)
	for _, s := range c {
		v += s * s
	}
	return normal((limit - mean) / math.Sqrt(v))
}
