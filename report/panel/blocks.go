package panel

import (
	"fmt"

	"gonum.org/v1/gonum/mathext"
)

// FTest is an F test: the ratio of two mean squares with its chance under the
// null hypothesis.
type FTest struct {
	F         float64 // ratio of the mean squares, 1 expected without an effect
	DFTop     int     // degrees of freedom of the effect
	DFBottom  int     // of the residual
	P         float64 // chance of so large an F without an effect
	SumSquare float64 // sum of squares of the effect
	Residual  float64 // residual sum of squares
}

// newFTest compares an effect with the residual. Callers see to it that both
// have degrees of freedom and that the residual is not zero.
func newFTest(ss float64, df int, residual float64, residualDF int) FTest {
	if ss < 0 {
		ss = 0 // a difference of two sums of squares, short by rounding
	}
	f := ss / float64(df) / (residual / float64(residualDF))
	return FTest{F: f, DFTop: df, DFBottom: residualDF, P: fTail(f, float64(df), float64(residualDF)), SumSquare: ss, Residual: residual}
}

// fTail is the chance that F with d1 and d2 degrees of freedom exceeds f, from
// the incomplete beta function [22]:
//
//	Q(f) = I_x(d2/2, d1/2),  x = d2 / (d2 + d1 f)
//
// One less the distribution function would lose everything below 1e-16.
func fTail(f, d1, d2 float64) float64 {
	return mathext.RegIncBeta(d2/2, d1/2, d2/(d2+d1*f))
}

// TrialsDiffer is the F test that no trial differs from another, allowing for
// the level of the tasters: the sum of squares of the trials after the
// tasters, over the residual of the additive fit of Adjusted [1]. Missing
// cells and repeats are allowed. "No difference shown" is not "no difference":
// read it with Adjustment.SmallestSeen.
//
// Minimum: two tasters with two trials each.
//
// Errors: as Adjusted; no residual degrees of freedom; no trial that shares a
// taster with another; scores without noise.
func TrialsDiffer(scores []Score) (FTest, error) {
	set, err := newScoreSet(scores)
	if err != nil {
		return FTest{}, err
	}
	fit, err := set.fitTwoWay()
	if err != nil {
		return FTest{}, err
	}
	df := set.trials.levels() - fit.pieces
	if df < 1 {
		return FTest{}, fmt.Errorf("no two trials share a taster: have one person score several trials")
	}
	if fit.df < 1 {
		return FTest{}, fmt.Errorf("%d scores leave nothing to measure the noise with: taste again, or have more people taste", len(scores))
	}
	if fit.exact(set.y) {
		return FTest{}, fmt.Errorf("the scores fit trial + taster exactly: there is no noise to test against")
	}
	without := set.aroundTasters()
	return newFTest(without-fit.rss, df, fit.rss, fit.df), nil
}

// aroundTasters is the sum of squares of the scores around each taster's mean.
func (s scoreSet) aroundTasters() float64 {
	n, sum := make([]float64, s.tasters.levels()), make([]float64, s.tasters.levels())
	for i, v := range s.y {
		n[s.tasters.of[i]]++
		sum[s.tasters.of[i]] += v
	}
	var ss float64
	for i, v := range s.y {
		d := v - sum[s.tasters.of[i]]/n[s.tasters.of[i]]
		ss += d * d
	}
	return ss
}
