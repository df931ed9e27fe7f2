package ways

import (
	"math"

	"hedgerow/extraction"
	"hedgerow/trials/figure"
)

// formChangedSDLn is the prior sd of ln R when the form differs as well as the
// method; a judgement.
const formChangedSDLn = 0.4

// PotencyPrior returns what is known about the relative potency of a method
// before any trial: R = 1 about the predicted effective dose, with an sd of ln R
// of 0.25 for what dissolves in water and the method alone, 0.4 if the form changed,
// 0.6 for aroma, 1.0 for resin. Judgements.
func PotencyPrior(class extraction.Class, formChanged bool) extraction.LnNormal {
	sd := 0.25
	switch class {
	case extraction.Aroma:
		sd = 0.6
	case extraction.Resin:
		sd = 1.0
	}
	if formChanged {
		sd = max(sd, formChangedSDLn)
	}
	return extraction.LnNormal{Ln: 0, SDLn: sd}
}

// TrialEvidence is a fit of scores by two methods for one material, on the
// model s = a_j + b log10(ED).
type TrialEvidence struct {
	// Lines are the intercepts of both methods and their common slope.
	Lines ParallelLines
	// DifferenceSD is the sd of a_test - a_ref.
	DifferenceSD float64
	// SlopeSD is the sd of b.
	SlopeSD float64
	// Covariance is that of the difference and the slope.
	Covariance float64
	// T is the t quantile of Level and the residual degrees of freedom.
	T float64
	// Level is that of the interval, such as 0.95.
	Level float64
	// ReferenceDoses counts the different doses of the reference method.
	ReferenceDoses int
}

// PotencyUpdate is a relative potency with both of its sources.
type PotencyUpdate struct {
	// Prior is ln R before the trials, Trials by them alone, Combined by both.
	Prior, Trials, Combined extraction.LnNormal
	// TrialShare is the share of the precision that comes from the trials.
	TrialShare float64
	// ByTrials is R from the trials alone, with Fieller's limits.
	ByTrials figure.Estimate
	// Relative is R combined, at the same level.
	Relative figure.Estimate
}

// Potency combines the trials of a method with its prior by precision:
// ln R = (prior/s^2 + est/se^2)/(1/s^2 + 1/se^2). The standard error of the
// trials' ln R is that of the ratio, ln(10)/|b| sqrt(s_d^2 - 2 R c + R^2 s_b^2)
// with R = d/b and c the covariance; the interval of R from the trials is
// Fieller's. It errs with fewer than two doses of the reference method, and where
// fieller does (g >= 1): the scores do not fix the slope. The result belongs in
// Steep.OwnTrials of that material and
// method, and nowhere else.
func (e TrialEvidence) Potency(prior extraction.LnNormal) (PotencyUpdate, error) {
	if e.ReferenceDoses < 2 {
		return PotencyUpdate{}, extraction.Refuse("score a second dose by the reference method",
			"%d dose of the reference method does not fix a slope", e.ReferenceDoses)
	}
	if !(e.Level > 0 && e.Level < 1) {
		return PotencyUpdate{}, extraction.Refuse("give a level such as 0.95", "level %.6g is outside 0 to 1", e.Level)
	}
	d := e.Lines.ATest - e.Lines.ARef
	low, high, err := ratio{
		D:   d,
		SDD: e.DifferenceSD,
		B:   e.Lines.B,
		SDB: e.SlopeSD,
		Cov: e.Covariance,
		T:   e.T,
	}.fieller()
	if err != nil {
		return PotencyUpdate{}, err
	}
	// scores run straight in log10 of the dose, so that the distance between parallel lines is log10
	// of the potency
	ratio := d / e.Lines.B
	variance := e.DifferenceSD*e.DifferenceSD - 2*ratio*e.Covariance + ratio*ratio*e.SlopeSD*e.SlopeSD
	// both errors may cancel to a rounding below zero
	se := math.Ln10 / math.Abs(e.Lines.B) * math.Sqrt(max(variance, 0))
	u := PotencyUpdate{Prior: prior, Trials: extraction.LnNormal{Ln: ratio * math.Ln10, SDLn: se}}
	if u.Combined, err = combine(prior, u.Trials); err != nil {
		return PotencyUpdate{}, err
	}
	u.TrialShare = prior.SDLn * prior.SDLn / (prior.SDLn*prior.SDLn + se*se)
	u.ByTrials = figure.Between(math.Pow(10, ratio), math.Pow(10, low), math.Pow(10, high), e.Level)
	// the prior is of ln R, so that limits are factors: symmetric in ln, never negative
	z := normalQuantile(0.5 + e.Level/2)
	u.Relative = figure.Between(math.Exp(u.Combined.Ln), math.Exp(u.Combined.Ln-z*u.Combined.SDLn),
		math.Exp(u.Combined.Ln+z*u.Combined.SDLn), e.Level)
	return u, nil
}

// normalQuantile returns the standard normal quantile of p.
func normalQuantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }

// ParallelLines are two methods in the score model s = a_j + b log10(ED).
type ParallelLines struct {
	// ATest and ARef are the intercepts of the tested and the reference method,
	// score points.
	ATest, ARef float64
	// B is the slope, score points per tenfold dose.
	B float64
}

// combine returns the precision-weighted mean of both, and its sd:
// (p/s^2 + e/se^2)/(1/s^2 + 1/se^2). It errs for an sd that is not above zero.
func combine(p, e extraction.LnNormal) (extraction.LnNormal, error) {
	if !(p.SDLn > 0 && e.SDLn > 0) {
		return extraction.LnNormal{}, extraction.Refuse("score more servings",
			"of prior sd %.6g and standard error %.6g one is not above zero", p.SDLn, e.SDLn)
	}
	wp, we := 1/(p.SDLn*p.SDLn), 1/(e.SDLn*e.SDLn)
	return extraction.LnNormal{Ln: (p.Ln*wp + e.Ln*we) / (wp + we), SDLn: 1 / math.Sqrt(wp+we)}, nil
}

// ratio is d/b of two normal estimates with a t quantile.
type ratio struct {
	// D and SDD are the numerator and its sd, B and SDB the denominator.
	D, SDD, B, SDB float64
	// Cov is their covariance, 0 when they are independent.
	Cov float64
	// T is the t quantile.
	T float64
}

// fieller returns the limits of R = d/b (J. R. Stat. Soc. B 16, 1954, 175), with g = t^2 s_b^2/b^2 and c the
// covariance:
//
//	(R - g c/s_b^2 -+ (t/b) sqrt(s_d^2 - 2 R c + R^2 s_b^2 - g (s_d^2 - c^2/s_b^2)))/(1-g)
//
// Without a covariance that is R/(1-g) -+ (t/b)/(1-g) sqrt(s_d^2 (1-g) + R^2 s_b^2).
// It errs when g >= 1, where the limits enclose everything: the slope is not
// different from zero.
func (r ratio) fieller() (low, high float64, err error) {
	if !(r.SDD >= 0 && r.SDB >= 0 && r.T > 0) {
		return 0, 0, extraction.Refuse("check the fit",
			"sds %.6g and %.6g must not be negative and the t quantile %.6g must be above zero", r.SDD, r.SDB, r.T)
	}
	// a covariance that comes from the same sds reaches the limit by rounding
	if math.Abs(r.Cov) > r.SDD*r.SDB*(1+1e-9) {
		return 0, 0, extraction.Refuse(
			"check the fit",
			"the covariance %.6g is beyond what the sds %.6g and %.6g allow",
			r.Cov,
			r.SDD,
			r.SDB,
		)
	}
	g := r.T * r.T * r.SDB * r.SDB / (r.B * r.B)
	// written this way round so that a slope of nothing without an sd, which is not a number, is
	// refused too
	if !(g < 1) {
		return 0, 0, extraction.Refuse("score more servings, or doses further apart",
			"the slope %.6g is not told from zero (g = %.6g)", r.B, g)
	}
	ratio := r.D / r.B
	centre, spread := ratio, r.SDD*r.SDD*(1-g)+ratio*ratio*r.SDB*r.SDB
	// only then, for a slope known exactly has no sd to divide by
	if r.Cov != 0 {
		slope := r.Cov / (r.SDB * r.SDB)
		centre -= g * slope
		spread += -2*ratio*r.Cov + g*slope*r.Cov
	}
	half := math.Abs(r.T/r.B) / (1 - g) * math.Sqrt(max(spread, 0))
	return centre/(1-g) - half, centre/(1-g) + half, nil
}
