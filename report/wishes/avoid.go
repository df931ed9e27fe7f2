package wishes

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

// A Keeping is what one taste to avoid allows.
type Keeping struct {
	evidence.Avoid
	Limit   float64  // largest relative ln dose that is as likely as not within it
	Kept    bool     // some dose keeps it
	Undosed *float64 // mean intensity in the beers without a dose; nil where none was scored
	fit     avoidFit
}

// Keepings works out what every taste to avoid allows. Doses are ln doses relative to
// the origin; sd is that of the prior of the right dose.
func Keepings(s evidence.Study, origin, sd float64) []Keeping {
	list := make([]Keeping, len(s.Avoid))
	for i, a := range s.Avoid {
		k := Keeping{Avoid: a, Undosed: undosed(s, a), fit: fitAvoid(s, origin, a)}
		k.Limit, k.Kept = k.limitWithin(avoidReach * sd)
		list[i] = k
	}
	return list
}

// PastUndosed reports whether the beers without a dose are past the limit already.
func (k Keeping) PastUndosed() bool { return k.Undosed != nil && *k.Undosed > k.AtMost }

// Within returns the chance that the panel's mean at the relative ln dose x is at most
// the limit.
func (k Keeping) Within(x float64) float64 { return k.fit.within(x, k.AtMost) }

// limitWithin returns the limit that the taste sets, looked for so far to either side;
// ok is false when no dose that is looked at keeps it, or the undosed beers are past it
// already.
func (k Keeping) limitWithin(reach float64) (limit float64, ok bool) {
	if k.PastUndosed() {
		return 0, false
	}
	// from the top down: the chance need not fall evenly with the dose, and the largest safe dose is asked for
	const steps = 200
	for j := range steps + 1 {
		x := reach - 2*reach*float64(j)/steps
		if k.Within(x) >= avoidSure {
			return x, true
		}
	}
	return 0, false
}

// undosed returns the mean intensity of a taste in the beers without a dose; nil
// where none was scored.
func undosed(s evidence.Study, a evidence.Avoid) *float64 {
	var mean float64
	n := 0
	for _, sc := range a.Scores {
		if trialNamed(s, sc.Trial).DoseGPerL == 0 {
			mean, n = mean+sc.Intensity, n+1
		}
	}
	if n == 0 {
		return nil
	}
	mean /= float64(n)
	return &mean
}

// trialNamed returns a trial of the study by its id, which is known to be there.
func trialNamed(s evidence.Study, id string) evidence.Trial {
	return s.Trials[slices.IndexFunc(s.Trials, func(t evidence.Trial) bool { return t.ID == id })]
}

// An avoidFit is the Gaussian posterior of level, slope and tasters.
type avoidFit struct {
	mean, factor []float64
}

// fitAvoid fits the straight line to the scores of an unwanted taste in
// dosed trials.
func fitAvoid(s evidence.Study, origin float64, a evidence.Avoid) avoidFit {
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
		// an undosed beer has no place on a log axis
		if dose := trialNamed(s, sc.Trial).DoseGPerL; dose > 0 {
			fit.add(math.Log(dose)-origin, 2+place(&tasters, sc.Taster), sc.Intensity)
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
