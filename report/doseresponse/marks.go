package doseresponse

import "math"

// The ends of the intensity scale hold everything beyond them: a 0 says that
// the taster would have gone below 0.5, a 10 above 9.5 ([1] section 2).
const (
	markFloor = 0.5
	markTop   = 9.5
)

// censored reports whether y stands at an end of the scale, the side (-1 or
// +1), and the limit that was passed.
func censored(y float64) (side, limit float64, ok bool) {
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
	side, limit, ok := censored(y)
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
const halfLn2Pi = 0.91893853320467274178

// lnNormal returns ln Phi(a), the ln of the normal distribution function, and
// its derivative phi(a)/Phi(a). Below -20 it uses the asymptotic series
// Phi(a) = phi(a)/|a| (1 - 1/a^2 + 3/a^4), whose error there is below 1e-6.
func lnNormal(a float64) (lnPhi, hazard float64) {
	if a < -20 {
		a2 := a * a
		series := 1 - 1/a2 + 3/(a2*a2)
		return -0.5*a2 - halfLn2Pi - math.Log(-a) + math.Log(series), -a / series
	}
	phi := 0.5 * math.Erfc(-a/math.Sqrt2)
	return math.Log(phi), math.Exp(-0.5*a*a-halfLn2Pi) / phi
}
