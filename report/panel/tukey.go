package panel

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/interp"
)

// rangeSurvival returns P(Q > q) for the studentised range Q of k independent
// normal values divided by an estimate of their standard deviation with df
// degrees of freedom [3]:
//
//	P(Q > q) = E[1 - W(q S)],  df S^2 ~ chi-squared(df)
//	1 - W(w) = k int phi(z) {Phi(z)^(k-1) - (Phi(z) - Phi(z-w))^(k-1)} dz
//
// The upper tail is integrated as such, so small values keep their digits;
// absolute error under 1e-10. An infinite df means a known standard deviation.
//
// Errors: fewer than 2 values, df not above 0, q not a number.
func rangeSurvival(q float64, k int, df float64) (float64, error) {
	if k < 2 {
		return 0, fmt.Errorf("range of %d values: at least 2 are needed", k)
	}
	if !(df > 0) {
		return 0, fmt.Errorf("%v degrees of freedom: more than 0 are needed", df)
	}
	if math.IsNaN(q) {
		return 0, fmt.Errorf("the range %v is not a number", q)
	}
	if q <= 0 {
		return 1, nil
	}
	t := rangeTable{others: float64(k - 1)}
	return min(1, chiMean(df, func(s float64) float64 { return t.tail(q * s) })), nil
}

// rangeTable holds what the integrals over the ranges of as many normal values have
// in common: Phi(z) and phi(z) Phi(z)^others at the points of a grid.
type rangeTable struct {
	others        float64 // values beside the highest
	below, weight []float64
}

// rangeStep is the step of the grid; the integrand is smooth and dies out at both ends,
// see trapezoid.
const rangeStep = 0.25

// tail is 1 - W(w), the chance that the values span more than w.
func (t *rangeTable) tail(w float64) float64 {
	var sum float64
	for i := range int(math.Ceil((2*edge + w/2) / rangeStep)) {
		z := -edge + float64(i)*rangeStep
		if i == len(t.below) {
			below := normalCDF(z)
			t.below = append(t.below, below)
			t.weight = append(t.weight, normalPDF(z)*math.Pow(below, t.others))
		}
		// far out, where Phi^others has no digits left
		if t.weight[i] == 0 {
			continue
		}
		ratio := normalCDF(z-w) / t.below[i]
		// Phi^m - (Phi - Phi')^m without cancellation.
		sum -= t.weight[i] * math.Expm1(t.others*math.Log1p(-min(ratio, 1)))
	}
	return min(1, (t.others+1)*sum*rangeStep)
}

// rangeQuantile returns the q with P(Q > q) = p for the studentised range.
//
// Errors: as rangeSurvival; p outside 0 to 1.
func rangeQuantile(p float64, k int, df float64) (float64, error) {
	if !(p > 0 && p < 1) {
		return 0, fmt.Errorf("chance %v: give a share above 0 and below 1", p)
	}
	if _, err := rangeSurvival(1, k, df); err != nil {
		return 0, err
	}
	return upperPoint(p, func(q float64) float64 {
		s, _ := rangeSurvival(q, k, df)
		return s
	}), nil
}

// Tukey compares every pair of trials, with p-values and intervals that hold
// for all pairs at once: the chance that any true zero difference is called
// different is at most 1 - Level. With q = |difference| sqrt(2) / SE the p is
// that of the studentised range [3]; exact for equal numbers, cautious
// (Tukey-Kramer) for unequal ones.
//
// Minimum: two trials. With 3 or 4 tasters its power is tiny: read the
// intervals, not the p.
//
// Errors: more than 100 trials, 4950 pairs.
func (m *Means) Tukey() ([]Comparison, error) {
	const most = 100
	k := len(m.Names)
	if k > most {
		return nil, fmt.Errorf("%d trials: all pairs are compared for at most %d; choose fewer", k, most)
	}
	q, err := rangeQuantile(1-m.Level, k, m.DF)
	if err != nil {
		return nil, err
	}
	var list []Comparison
	largest := 0.0
	for i := range m.Names {
		for j := i + 1; j < k; j++ {
			c := m.difference(i, j)
			half := q * c.SE / math.Sqrt2
			c.Low, c.High = c.Value-half, c.Value+half
			list = append(list, c)
			largest = max(largest, c.studentised())
		}
	}
	survival := survivals(len(list), largest, func(q float64) float64 {
		p, _ := rangeSurvival(q, k, m.DF)
		return p
	})
	for i := range list {
		list[i].P = survival(list[i].studentised())
	}
	return list, nil
}

// studentised is the difference as a studentised range.
func (c Comparison) studentised() float64 { return math.Abs(c.Value) * math.Sqrt2 / c.SE }

// survivalNodes is how many points a table of an upper tail has; fewer values are
// worked out one by one.
const survivalNodes = 56

// survivals returns an upper tail for count values from 0 to largest. One value
// takes a millisecond and more, and fifty trials have 1225 pairs: many values are
// read off a cubic spline of its logarithm, within 1e-4 of each.
func survivals(count int, largest float64, exact func(x float64) float64) func(x float64) float64 {
	if count <= survivalNodes || largest == 0 {
		return exact
	}
	at, ln := make([]float64, survivalNodes), make([]float64, survivalNodes)
	for i := range at {
		at[i] = largest * float64(i) / (survivalNodes - 1)
		// on the log scale, where a tail is smooth: a spline of the chances themselves would swing below 0
		ln[i] = math.Log(exact(at[i]))
	}
	var spline interp.NotAKnotCubic
	if err := spline.Fit(at, ln); err != nil {
		return exact // a chance too small to have a logarithm
	}
	return func(x float64) float64 { return min(1, math.Exp(spline.Predict(x))) }
}
