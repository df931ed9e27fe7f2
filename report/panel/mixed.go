package panel

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// maxMixedTrials bounds the trials of the mixed model: its covariance matrix
// is dense. Adjusted has no such limit.
const maxMixedTrials = 500

// mixed is a fitted mixed model.
type mixed struct {
	Means
	profile  profile
	ratio    float64 // variance between tasters' levels over that of a score
	variance float64 // of a score around trial + taster, score units squared
}

// MixedModel returns the means of the trials from the model
//
//	score = trial + taster + error,  taster ~ N(0, s_t^2),  error ~ N(0, s^2)
//
// by restricted maximum likelihood [2]. Unlike Adjusted, whose intervals hold
// for just these tasters, it treats them as drawn from many, so the means have
// wider intervals; differences between trials are about as sharp. Missing
// cells and repeats are allowed and lose nothing.
//
// The likelihood is profiled over one number, the ratio s_t^2 / s^2:
// one pass over the scores, then a search that costs the same for any number of
// scores. Comparisons use DF, the degrees of freedom left after trials and
// tasters.
//
// Two warnings about use. The model believes that tasters' levels scatter like
// a normal distribution and that their noise is alike; scores stuck at the ends
// of a 0-10 scale break both. And a taster who finds one beer good where the
// others find it bad is, with single tastings, part of the noise: only repeats
// could tell it apart.
//
// Minimum: two tasters, two trials, and more scores than trials plus tasters
// less one. Trials that no chain of tasters links are compared on trust; a
// warning says so.
//
// Errors: as Adjusted; too few scores; scores that fit trial + taster exactly;
// more than 500 trials.
func MixedModel(scores []Score, level float64) (*Means, error) {
	m, err := fitMixed(scores, level)
	if err != nil {
		return nil, err
	}
	return &m.Means, nil
}

// fitMixed is MixedModel with the two variances.
func fitMixed(scores []Score, level float64) (*mixed, error) {
	if err := checkLevel(level); err != nil {
		return nil, err
	}
	set, err := newScoreSet(scores)
	if err != nil {
		return nil, err
	}
	fit, err := checkMixed(set)
	if err != nil {
		return nil, err
	}
	// Sums of squares lose fewer digits around the mean.
	centre := stat.Mean(set.y, nil)
	for i := range set.y {
		set.y[i] -= centre
	}
	m := &mixed{profile: newProfile(set.tasters, set.trials, set.y)}
	m.Names, m.Level = set.trials.names, level
	m.solve(centre)
	// Containment: the degrees of freedom left after both factors.
	m.DF = float64(fit.df)
	m.N = make([]int, len(m.Names))
	for _, t := range set.trials.of {
		m.N[t]++
	}
	if fit.pieces > 1 {
		m.Warnings = append(m.Warnings, fmt.Sprintf("%d groups of trials share no taster: comparing across them trusts "+
			"that the tasters of each were drawn alike", fit.pieces))
	}
	return m, nil
}

// checkMixed refuses data from which the two variances cannot be told apart
// and returns the fit with fixed tasters.
func checkMixed(set scoreSet) (*additive, error) {
	trials, tasters := set.trials, set.tasters
	if trials.levels() > maxMixedTrials {
		return nil, fmt.Errorf("%d trials: the mixed model takes at most %d; compare fewer, or use the two-way means",
			trials.levels(), maxMixedTrials)
	}
	if tasters.levels() < 2 {
		return nil, fmt.Errorf("one taster: the mixed model needs at least two; use the plain means")
	}
	if trials.levels() < 2 {
		return nil, fmt.Errorf("one trial: the mixed model needs at least two to compare")
	}
	fit, err := set.fitTwoWay()
	if err != nil {
		return nil, err
	}
	if fit.df <= 0 {
		return nil, fmt.Errorf("%d scores of %d trials by %d tasters leave nothing to measure the noise with: taste "+
			"again, or have more people taste", len(set.y), trials.levels(), tasters.levels())
	}
	if fit.exact(set.y) {
		return nil, fmt.Errorf("the scores fit trial + taster exactly, so the mixed model has no noise to estimate; use " +
			"the plain means")
	}
	return fit, nil
}

// profile is the restricted likelihood as a function of the variance ratio
// r = s_t^2 / s^2 alone.
type profile interface {
	// terms returns log det(V) + log det(X'V^-1 X) and the generalised
	// residual sum of squares, both for s = 1.
	terms(r float64) (logDet, rss float64)
	// slopes returns the derivatives of both in r.
	slopes(r float64) (logDet, rss float64)
	// solution returns the means of the trials and their covariance for s = 1.
	solution(r float64) (mean []float64, cov *mat.SymDense)
	// freedom is the number of scores less the number of trials.
	freedom() float64
}

// newProfile chooses the form whose dense part is the smaller factor.
func newProfile(tasters, trials factor, y []float64) profile {
	if tasters.levels() <= trials.levels() {
		return newFewTasters(tasters, trials, y)
	}
	return newManyTasters(tasters, trials, y)
}

// deviance is -2 log restricted likelihood, s profiled out:
//
//	log det + f (1 + log(2 pi rss / f)),  f = scores - trials
func deviance(p profile, r float64) float64 {
	logDet, rss := p.terms(r)
	f := p.freedom()
	return logDet + f*(1+math.Log(2*math.Pi*rss/f))
}

// devianceSlope is the derivative of the deviance in ln r.
func devianceSlope(p profile, r float64) float64 {
	_, rss := p.terms(r)
	dLogDet, dRSS := p.slopes(r)
	return r * (dLogDet + p.freedom()*dRSS/rss)
}

// bestRatio minimises the deviance over the ratio, zero included: a scan on
// ln r, then the zero of the derivative beside the lowest point.
func bestRatio(p profile) float64 {
	// e^-14 to e^14 spans taster levels from 1/1000 to 1000 times the noise.
	const reach = 14
	// a scan first: the likelihood of few scores can have two dips, and a slope alone finds the nearer one
	at, step := lowest(-reach, reach, 2*reach, func(logRatio float64) float64 { return deviance(p, math.Exp(logRatio)) })
	r := math.Exp(rootOf(at-step, at+step, func(logRatio float64) float64 { return devianceSlope(p, math.Exp(logRatio)) }))
	// the scan is on a log scale and cannot reach 0, which is the answer when tasters do not differ
	if deviance(p, 0) <= deviance(p, r) {
		return 0
	}
	return r
}

// solve fills in the estimates at the best ratio; centre goes back onto the means.
func (m *mixed) solve(centre float64) {
	m.ratio = bestRatio(m.profile)
	_, rss := m.profile.terms(m.ratio)
	m.variance = rss / m.profile.freedom()
	mean, cov := m.profile.solution(m.ratio)
	for i := range mean {
		mean[i] += centre
	}
	cov.ScaleSym(m.variance, cov)
	m.Mean, m.cov = mean, cov
}
