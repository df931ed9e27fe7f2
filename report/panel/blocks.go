package panel

import "gonum.org/v1/gonum/mathext"

// fTest is an F test: the ratio of two mean squares with its chance under the
// null hypothesis.
type fTest struct {
	F        float64 // ratio of the mean squares, 1 expected without an effect
	DFTop    int     // degrees of freedom of the effect
	DFBottom int     // of the residual
	P        float64 // chance of so large an F without an effect
}

// newFTest compares an effect with the residual. Callers see to it that both
// have degrees of freedom and that the residual is not zero.
func newFTest(ss float64, df int, residual float64, residualDF int) fTest {
	if ss < 0 {
		ss = 0 // a difference of two sums of squares, short by rounding
	}
	f := ss / float64(df) / (residual / float64(residualDF))
	return fTest{F: f, DFTop: df, DFBottom: residualDF, P: fTail(f, float64(df), float64(residualDF))}
}

// fTail is the chance that F with d1 and d2 degrees of freedom exceeds f, from
// the incomplete beta function [15]:
//
//	Q(f) = I_x(d2/2, d1/2),  x = d2 / (d2 + d1 f)
//
// One less the distribution function would lose everything below 1e-16.
func fTail(f, d1, d2 float64) float64 {
	return mathext.RegIncBeta(d2/2, d1/2, d2/(d2+d1*f))
}
