package panel

import (
	"fmt"
	"math"

	"hedgerow/trials/figure"
)

// shareCorrect is the expected share correct when the two beers lie dPrime
// apart in units of the noise of one glass (Thurstone's d') [9], P the normal
// distribution function, phi its density:
//
//	paired    P(d/sqrt2)
//	3-AFC     int phi(z-d) P(z)^2 dz
//	duo-trio  1 - P(d/sqrt2) - P(d/sqrt6) + 2 P(d/sqrt2) P(d/sqrt6)
//	triangle  2 int_0^inf [P(-z sqrt3 + d sqrt(2/3)) + P(-z sqrt3 - d sqrt(2/3))] phi(z) dz
//	tetrad    1 - 2 int phi(z) [2 P(z) P(z-d) - P(z-d)^2] dz
//
// In words: every glass gives a momentary strength that scatters with standard
// deviation 1 around its beer's own; the taster picks by these strengths. d' 1
// is a difference as large as that scatter, hard to find in a triangle and
// plain in a 3-AFC, because the 3-AFC says what to look for.
//
// The two-sided paired test has the share of the paired one, the right
// direction. Numerical error is under 1e-10.
//
// Errors: an unknown test, dPrime below 0 or not finite.
func (t DifferenceTest) shareCorrect(dPrime float64) (float64, error) {
	if !(dPrime >= 0) || !figure.Finite(dPrime) {
		return 0, fmt.Errorf("d' %v: give a size of zero or more", dPrime)
	}
	d := dPrime
	switch t {
	case Paired, PairedTwoSided:
		return normalCDF(d / math.Sqrt2), nil
	case DuoTrio:
		a, b := normalCDF(d/math.Sqrt2), normalCDF(d/math.Sqrt(6))
		return 1 - a - b + 2*a*b, nil
	case ThreeAFC:
		return trapezoid(-edge, d+edge, 0.1, func(z float64) float64 {
			p := normalCDF(z)
			return normalPDF(z-d) * p * p
		}), nil
	case Triangle:
		return triangleShare(d), nil
	case Tetrad:
		return tetradShare(d), nil
	}
	_, err := t.Chance()
	return 0, err
}

// triangleShare integrates over the half line, whose near end does not die
// out, so by Simpson's rule.
func triangleShare(d float64) float64 {
	shift := d * math.Sqrt(2.0/3)
	return 2 * simpson(0, edge, 2000, func(z float64) float64 {
		x := z * math.Sqrt(3)
		return (normalCDF(shift-x) + normalCDF(-shift-x)) * normalPDF(z)
	})
}

// tetradShare is one less the chance of a wrong sorting.
func tetradShare(d float64) float64 {
	wrong := trapezoid(-edge, d+edge, 0.1, func(z float64) float64 {
		a, b := normalCDF(z), normalCDF(z-d)
		return normalPDF(z) * (2*a*b - b*b)
	})
	return 1 - 2*wrong
}
