package extraction

import "math"

// ParallelLines are two methods in the score model s = a_j + b log10(ED).
type ParallelLines struct {
	// ATest and ARef are the intercepts of the tested and the reference method,
	// score points.
	ATest, ARef float64
	// B is the slope, score points per tenfold dose.
	B float64
}

// LnNormal is a normal distribution of a logarithm.
type LnNormal struct{ Ln, SDLn float64 }

// Combine returns the precision-weighted mean of both, and its sd:
// (p/s^2 + e/se^2)/(1/s^2 + 1/se^2). It errs for an sd that is not above zero.
func (p LnNormal) Combine(e LnNormal) (LnNormal, error) {
	if err := firstError(checkPositive("prior sd", p.SDLn, ""), checkPositive("standard error", e.SDLn, "")); err != nil {
		return LnNormal{}, err
	}
	wp, we := 1/(p.SDLn*p.SDLn), 1/(e.SDLn*e.SDLn)
	return LnNormal{(p.Ln*wp + e.Ln*we) / (wp + we), 1 / math.Sqrt(wp+we)}, nil
}

// Ratio is d/b of two normal estimates with a t quantile.
type Ratio struct {
	// D and SDD are the numerator and its sd, B and SDB the denominator.
	D, SDD, B, SDB float64
	// Cov is their covariance, 0 when they are independent.
	Cov float64
	// T is the t quantile.
	T float64
}

// Fieller returns the limits of R = d/b [18], with g = t^2 s_b^2/b^2 and c the
// covariance:
//
//	(R - g c/s_b^2 -+ (t/b) sqrt(s_d^2 - 2 R c + R^2 s_b^2 - g (s_d^2 - c^2/s_b^2)))/(1-g)
//
// Without a covariance that is R/(1-g) -+ (t/b)/(1-g) sqrt(s_d^2 (1-g) + R^2 s_b^2).
// It errs when g >= 1, where the limits enclose everything: the slope is not
// different from zero.
func (r Ratio) Fieller() (low, high float64, err error) {
	err = firstError(checkNotNegative("sd of the difference", r.SDD, ""), checkNotNegative("sd of the slope", r.SDB, ""),
		checkPositive("t quantile", r.T, ""))
	if err != nil {
		return 0, 0, err
	}
	if math.Abs(r.Cov) > r.SDD*r.SDB*(1+1e-9) {
		return 0, 0, refuse("check the fit", "the covariance %s is beyond what the sds %s and %s allow", number(r.Cov), number(r.SDD), number(r.SDB))
	}
	g := r.T * r.T * r.SDB * r.SDB / (r.B * r.B)
	if !(g < 1) {
		return 0, 0, refuse("score more servings, or doses further apart",
			"the slope %s is not told from zero (g = %s)", number(r.B), number(g))
	}
	ratio := r.D / r.B
	centre, spread := ratio, r.SDD*r.SDD*(1-g)+ratio*ratio*r.SDB*r.SDB
	if r.Cov != 0 {
		slope := r.Cov / (r.SDB * r.SDB)
		centre -= g * slope
		spread += -2*ratio*r.Cov + g*slope*r.Cov
	}
	half := math.Abs(r.T/r.B) / (1 - g) * math.Sqrt(max(spread, 0))
	return centre/(1-g) - half, centre/(1-g) + half, nil
}
