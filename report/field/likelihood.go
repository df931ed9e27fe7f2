package field

import (
	"math"
)

// A Window is the chance of each vote against the distance of a dose from a
// taster's own right dose: with L the logistic function,
//
//	P(too little) = L(kappa (-c - z)),  P(too much) = L(kappa (z - c)),
//
// and P(just right) the rest. With E = exp(kappa z) and A = exp(kappa c) they
// are 1/(1+AE), E/(E+A) and E(A^2-1)/((1+AE)(E+A)): one exponential a vote.
type Window struct{ Kappa, A float64 }

// NewWindow returns the window of a grid node for a taster of the given
// sharpness.
func NewWindow(n *Node, sharp float64) Window {
	k := n.Kappa * sharp
	return Window{k, math.Exp(k * n.C)}
}

// Expo returns E.
func (w Window) Expo(z float64) float64 { return BoundedExp(w.Kappa * z) }

// maxExponent bounds what is exponentiated: the product of two such numbers is
// finite.
const MaxExponent = 300

// BoundedExp returns exp(x) with x kept within maxExponent.
func BoundedExp(x float64) float64 { return math.Exp(min(MaxExponent, max(-MaxExponent, x))) }

// Chances returns the probabilities of the three votes at distance z (ln
// dose), without lapses.
func (w Window) Chances(z float64) (little, right, much float64) {
	e := w.Expo(z)
	// the rest of the other two would be lost in rounding far from the right dose
	return 1 / (1 + w.A*e), w.RightAt(e), e / (e + w.A)
}

// RightAt returns the probability of "just right" for a given E, without
// lapses.
func (w Window) RightAt(e float64) float64 {
	return e * (w.A*w.A - 1) / ((1 + w.A*e) * (e + w.A))
}

// Lapsed returns the probability of a vote when some are given without
// regard to the beer.
func Lapsed(p float64) float64 { return lapseKeep*p + lapseFloor }

// ChanceAt returns the probability, with lapses, of the given vote for a given E.
func (w Window) ChanceAt(vote int, e float64) float64 {
	var q float64
	switch {
	case vote < 0:
		q = 1 / (1 + w.A*e)
	case vote > 0:
		q = e / (e + w.A)
	default:
		q = w.RightAt(e)
	}
	return Lapsed(q)
}

// derivatives returns, for a given E, the chance p of the vote and the first
// derivative d1 and negative second derivative w2 of ln p along z, the latter at least
// minCurvature: lapses make ln p slightly non-concave in the tails.
func (w Window) derivatives(vote int, e float64) (p, d1, w2 float64) {
	s1 := w.A * e / (1 + w.A*e) // 1 - P(too little)
	s2 := e / (e + w.A)
	g1, g2 := w.Kappa*s1*(1-s1), w.Kappa*s2*(1-s2)
	h1, h2 := w.Kappa*g1*(1-2*s1), w.Kappa*g2*(1-2*s2)
	var q, dq, ddq float64
	switch {
	case vote < 0:
		q, dq, ddq = 1-s1, -g1, -h1
	case vote > 0:
		q, dq, ddq = s2, g2, h2
	default:
		q, dq, ddq = s1-s2, g1-g2, h1-h2
	}
	p = Lapsed(q)
	d1 = lapseKeep * dq / p
	w2 = d1*d1 - lapseKeep*ddq/p
	return p, d1, max(w2, minCurvature)
}

// minCurvature is the least information that an answer is given in a Newton
// step ([1] section 2, numerics).
const minCurvature = 1e-9

// The ends of the intensity scale hold everything beyond them: a 0 says that
// the taster would have gone below 0.5, a 10 above 9.5 ([1] section 2).
const (
	markFloor = 0.5
	markTop   = 9.5
)

// Censored reports whether y stands at an end of the scale, the side (-1 or
// +1), and the limit that was passed.
func Censored(y float64) (side, limit float64, ok bool) {
	switch {
	case y <= 0:
		return -1, markFloor, true
	case y >= 10:
		return 1, markTop, true
	}
	return 0, 0, false
}

// lnMark returns ln p of an intensity y when m is expected, and its first
// derivative and negative second derivative along m:
//
//	inside the scale   -((y-m)/sy)^2/2 - ln sy
//	at an end          ln Phi(side (m - limit)/sy)
//
// Constants that are the same at every grid node are left out.
func lnMark(y, m, sy float64) (lp, d1, w2 float64) {
	side, limit, ok := Censored(y)
	if !ok {
		r := (y - m) / sy
		return -0.5*r*r - math.Log(sy), r / sy, 1 / (sy * sy)
	}
	a := side * (m - limit) / sy
	lnPhi, hazard := lnNormal(a)
	d := hazard / sy
	return lnPhi, side * d, max(d*(d+a/sy), minCurvature)
}

// halfLn2Pi is ln(2 pi)/2.
const HalfLn2Pi = 0.91893853320467274178

// lnNormal returns ln Phi(a), the ln of the normal distribution function, and
// its derivative phi(a)/Phi(a). Below -20 it uses the asymptotic series
// Phi(a) = phi(a)/|a| (1 - 1/a^2 + 3/a^4), whose error there is below 1e-6.
func lnNormal(a float64) (lnPhi, hazard float64) {
	// Erfc goes to 0 far out, and its logarithm with it
	if a < -20 {
		a2 := a * a
		series := 1 - 1/a2 + 3/(a2*a2)
		return -0.5*a2 - HalfLn2Pi - math.Log(-a) + math.Log(series), -a / series
	}
	phi := 0.5 * math.Erfc(-a/math.Sqrt2)
	return math.Log(phi), math.Exp(-0.5*a*a-HalfLn2Pi) / phi
}
