package panel

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// dunnettSurvival returns P(max |T_i| > t) for a multivariate t with df degrees
// of freedom and correlations b_i b_j between T_i and T_j [4]:
//
//	E int phi(z) {1 - prod_i [Phi(x_i+) - Phi(x_i-)]} dz
//	x_i± = (± t S - b_i z) / sqrt(1 - b_i^2),  df S^2 ~ chi-squared(df)
//
// Against one control with n_0 scores b_i = sqrt(n_i / (n_i + n_0)), one half
// squared when all numbers are equal. Absolute error under 1e-8.
//
// Errors: no b, a b not within -1 to 1 (both excluded), df not above 0.
func dunnettSurvival(t float64, b []float64, df float64) (float64, error) {
	if len(b) == 0 {
		return 0, fmt.Errorf("nothing to compare with the control: give at least one other trial")
	}
	for _, v := range b {
		if !(math.Abs(v) < 1) {
			return 0, fmt.Errorf("correlation factor %v: give a value above -1 and below 1", v)
		}
	}
	if !(df > 0) {
		return 0, fmt.Errorf("%v degrees of freedom: more than 0 are needed", df)
	}
	if math.IsNaN(t) {
		return 0, fmt.Errorf("the statistic %v is not a number", t)
	}
	if t <= 0 {
		return 1, nil
	}
	step := 0.25
	groups := sameFactors(b)
	for _, g := range groups {
		if g.b != 0 {
			// a factor near 1 turns the tails into steps along z, which a coarse sum would jump over
			step = math.Min(step, 0.3*g.spread/math.Abs(g.b))
		}
	}
	// a bound on the time: factors so near 1 come of a control with hardly a score
	step = math.Max(step, 1e-3)
	return min(1, chiMean(df, func(s float64) float64 { return maxTail(t*s, step, groups) })), nil
}

// factorGroup is how many correlation factors have one value b; spread is
// sqrt(1 - b^2).
type factorGroup struct{ b, spread, count float64 }

// sameFactors gathers equal factors. Trials that the same tasters scored have the
// same one, so that most of them need one pair of tails between them. Where more
// than a few differ, for want of complete scores, those within 0.01 share their
// mean: that moves a joint chance by less than productForm may.
func sameFactors(b []float64) []factorGroup {
	const (
		rounding = 1e-9 // of productForm
		few      = 12
		near     = 0.01
	)
	groups := factorsWithin(rounding, b)
	if len(groups) > few {
		groups = factorsWithin(near, b)
	}
	return groups
}

// factorsWithin groups factors no further apart than width.
func factorsWithin(width float64, b []float64) []factorGroup {
	var groups []factorGroup
	var first float64
	for _, v := range slices.Sorted(slices.Values(b)) {
		last := len(groups) - 1
		if last < 0 || v-first > width {
			first = v
			groups = append(groups, factorGroup{})
			last++
		}
		g := &groups[last]
		g.b = (g.b*g.count + v) / (g.count + 1)
		g.count++
		g.spread = math.Sqrt(1 - g.b*g.b)
	}
	return groups
}

// Given the shared part z of the values, those are independent, so the joint
// chance is a product; the integral over z then costs the same for any number
// of trials that share a factor. The complement is built up from logarithms of
// one less the tails, so that tiny chances keep their digits.

// maxTail is the chance that one of the correlated normal values is beyond ±x.
func maxTail(x, step float64, groups []factorGroup) float64 {
	// Past 38 a normal tail is zero in double precision.
	reach := edge + math.Min(x, 30)
	// the tails on both sides make it the same for z and -z
	return 2 * trapezoid(0, reach, step, func(z float64) float64 {
		var logInside float64
		for _, g := range groups {
			tails := normalCDF((-x-g.b*z)/g.spread) + normalCDF((g.b*z-x)/g.spread)
			logInside += g.count * math.Log1p(-min(tails, 1))
		}
		return normalPDF(z) * -math.Expm1(logInside)
	})
}

// dunnettQuantile returns the t with P(max |T_i| > t) = p.
//
// Errors: as dunnettSurvival; p outside 0 to 1.
func dunnettQuantile(p float64, b []float64, df float64) (float64, error) {
	if !(p > 0 && p < 1) {
		return 0, fmt.Errorf("chance %v: give a share above 0 and below 1", p)
	}
	if _, err := dunnettSurvival(1, b, df); err != nil {
		return 0, err
	}
	return upperPoint(p, func(t float64) float64 {
		s, _ := dunnettSurvival(t, b, df)
		return s
	}), nil
}

// Dunnett compares every trial with one control, with p-values and intervals
// that hold for all of them at once; sharper than Tukey because fewer
// comparisons are made. Exact when the correlations of the differences have
// the product form b_i b_j: always for complete scores. For
// others the nearest product form is used, and a warning is returned when a
// correlation is missed by more than 0.02.
//
// Minimum: two trials, one of them the control.
//
// Errors: an unknown control; more than 100 trials.
func (m *Means) Dunnett(control string) ([]Comparison, []string, error) {
	const most = 100
	c := -1
	for i, name := range m.Names {
		if name == control {
			c = i
		}
	}
	if c < 0 {
		return nil, nil, fmt.Errorf("control %q has no scores: name one of %s",
			control, strings.Join(m.Names[:min(len(m.Names), 12)], ", "))
	}
	if len(m.Names) > most {
		return nil, nil, fmt.Errorf("%d trials: at most %d are compared with a control; choose fewer", len(m.Names), most)
	}
	var list []Comparison
	for i := range m.Names {
		if i != c {
			list = append(list, m.difference(i, c))
		}
	}
	b, miss := productForm(m.correlations(c))
	var warnings []string
	if miss > 0.02 {
		warnings = append(warnings, fmt.Sprintf("the scores are so incomplete that the joint p-values are approximate "+
			"(a correlation is missed by %.2f)", miss))
	}
	t, err := dunnettQuantile(1-m.Level, b, m.DF)
	if err != nil {
		return nil, nil, err
	}
	largest := 0.0
	for i := range list {
		d := &list[i]
		d.Low, d.High = d.Value-t*d.SE, d.Value+t*d.SE
		largest = max(largest, math.Abs(d.Value)/d.SE)
	}
	survival := survivals(len(list), largest, func(x float64) float64 {
		p, _ := dunnettSurvival(x, b, m.DF)
		return p
	})
	for i := range list {
		list[i].P = survival(math.Abs(list[i].Value) / list[i].SE)
	}
	return list, warnings, nil
}

// correlations of the differences from trial c, in the order of the others.
func (m *Means) correlations(c int) [][]float64 {
	var others []int
	for i := range m.Names {
		if i != c {
			others = append(others, i)
		}
	}
	cov := func(i, j int) float64 {
		return m.cov.At(i, j) - m.cov.At(i, c) - m.cov.At(j, c) + m.cov.At(c, c)
	}
	r := make([][]float64, len(others))
	for x, i := range others {
		r[x] = make([]float64, len(others))
		for y, j := range others {
			r[x][y] = cov(i, j) / math.Sqrt(cov(i, i)*cov(j, j))
		}
	}
	return r
}

// productForm finds b with b_i b_j nearest to r_ij (i != j) by least squares,
// one b at a time, and returns the largest miss. Any product form is found
// exactly; a single pair always has one.
func productForm(r [][]float64) (b []float64, miss float64) {
	const below = 0.9999 // the integral needs |b| < 1
	b = make([]float64, len(r))
	// one comparison correlates with none: any b gives the same chance, and 0 the quickest integral
	if len(r) == 1 {
		return b, 0
	}
	for i := range b {
		// where equal numbers of scores would put it; from 0 the iteration could not leave
		b[i] = math.Sqrt(0.5)
	}
	for range 500 {
		var change float64
		for i := range b {
			var top, bottom float64
			for j := range b {
				if j != i {
					top += r[i][j] * b[j]
					bottom += b[j] * b[j]
				}
			}
			var next float64
			if bottom > 0 {
				next = math.Max(-below, math.Min(below, top/bottom))
			}
			change = math.Max(change, math.Abs(next-b[i]))
			b[i] = next
		}
		if change < 1e-13 {
			break
		}
	}
	for i := range b {
		for j := range i {
			miss = math.Max(miss, math.Abs(r[i][j]-b[i]*b[j]))
		}
	}
	return b, miss
}
