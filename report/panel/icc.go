package panel

import (
	"fmt"
	"math"

	"hedgerow/trials/figure"

	"gonum.org/v1/gonum/stat/distuv"
)

// ICC is an intraclass correlation: the share of the variance of a score that
// comes from the trials. It can be below zero when tasters agree less than
// chance would have it.
type ICC struct {
	Value float64 // at most 1
	Low   float64 // ends of the interval, valid if OK
	High  float64 // valid if OK
	OK    bool    // there is noise to build limits from
}

// Agreement holds the six intraclass correlations of Shrout and Fleiss.
type Agreement struct {
	ICC1     ICC      // one taster, each trial scored by different people
	ICC2     ICC      // one taster drawn from many; level differences count against agreement
	ICC3     ICC      // one of just these tasters; level differences do not count
	ICC1k    ICC      // the same for the mean of all tasters
	ICC2k    ICC      // mean of k tasters drawn from many
	ICC3k    ICC      // mean of just these k tasters
	Tasters  int      // k in the formulas
	Trials   int      // n in the formulas
	Warnings []string // what the numbers cannot say, in words
}

// meanSquares of a complete table of n trials by k tasters.
type meanSquares struct {
	n, k                           float64
	between, within, tasters, rest float64 // trials; within trials; tasters; residual
}

// IntraclassCorrelations returns the six coefficients of Shrout and Fleiss [7]
// with intervals at the given level. BMS, WMS, JMS, EMS are the mean squares
// between trials, within trials, between tasters and of the residual:
//
//	ICC1 = (BMS-WMS)/(BMS+(k-1)WMS)                     ICC1k = (BMS-WMS)/BMS
//	ICC2 = (BMS-EMS)/(BMS+(k-1)EMS+k(JMS-EMS)/n)        ICC2k = (BMS-EMS)/(BMS+(JMS-EMS)/n)
//	ICC3 = (BMS-EMS)/(BMS+(k-1)EMS)                     ICC3k = (BMS-EMS)/BMS
//
// ICC3 and ICC3k spot a taster who scores at random; ICC2 matters when one
// taster may stand in for another. Repeats are averaged first.
//
// Minimum: two tasters and two trials, complete. With 3 or fewer trials the
// intervals are nearly empty of meaning; a warning says so.
//
// Errors: as Friedman; scores that are all alike.
func IntraclassCorrelations(scores []Score, level float64) (*Agreement, error) {
	if err := checkLevel(level); err != nil {
		return nil, err
	}
	set, err := newScoreSet(scores)
	if err != nil {
		return nil, err
	}
	table, err := set.cells()
	if err != nil {
		return nil, err
	}
	a := &Agreement{Tasters: set.tasters.levels(), Trials: set.trials.levels()}
	if a.Trials < 2 || a.Tasters < 2 {
		return nil, fmt.Errorf("%d trials by %d tasters: agreement needs two or more of each", a.Trials, a.Tasters)
	}
	m := newMeanSquares(table)
	if m.between+m.within <= 0 {
		return nil, fmt.Errorf("all scores are alike: there is nothing to agree about")
	}
	if !a.fill(m, 1-level) {
		return nil, fmt.Errorf("the trials do not differ in mean: agreement is not defined")
	}
	if a.Trials <= 3 {
		a.Warnings = append(a.Warnings, fmt.Sprintf("%s: agreement can hardly be told from so few", plural(a.Trials, "trial")))
	}
	return a, nil
}

// newMeanSquares splits the table in deviations of the trial means (b), of the
// taster means (t) and what is left (e); within trials, t and e stay together.
func newMeanSquares(table [][]float64) meanSquares {
	k, n := len(table), len(table[0])
	m := meanSquares{n: float64(n), k: float64(k)}
	var grand float64
	tasterMean, trialMean := make([]float64, k), make([]float64, n)
	for i, row := range table {
		for j, v := range row {
			tasterMean[i] += v / m.n
			trialMean[j] += v / m.k
			grand += v / (m.n * m.k)
		}
	}
	for i, row := range table {
		for j, v := range row {
			b, t := trialMean[j]-grand, tasterMean[i]-grand
			e := v - grand - b - t
			m.between += b * b / (m.n - 1)
			m.tasters += t * t / (m.k - 1)
			m.rest += e * e / ((m.n - 1) * (m.k - 1))
			m.within += (t + e) * (t + e) / (m.n * (m.k - 1))
		}
	}
	return m
}

// fill works out the coefficients; false when a denominator is zero.
func (a *Agreement) fill(m meanSquares, alpha float64) bool {
	two := m.between + (m.k-1)*m.rest + m.k*(m.tasters-m.rest)/m.n
	twoMean := m.between + (m.tasters-m.rest)/m.n
	if m.between <= 0 || two <= 0 || twoMean == 0 {
		return false
	}
	a.ICC1.Value = (m.between - m.within) / (m.between + (m.k-1)*m.within)
	a.ICC1k.Value = (m.between - m.within) / m.between
	a.ICC2.Value = (m.between - m.rest) / two
	a.ICC2k.Value = (m.between - m.rest) / twoMean
	a.ICC3.Value = (m.between - m.rest) / (m.between + (m.k-1)*m.rest)
	a.ICC3k.Value = (m.between - m.rest) / m.between
	if m.rest <= 0 || m.within <= 0 {
		return true
	}
	fInterval(&a.ICC1, &a.ICC1k, m.between/m.within, m.k, m.n-1, m.n*(m.k-1), alpha)
	fInterval(&a.ICC3, &a.ICC3k, m.between/m.rest, m.k, m.n-1, (m.n-1)*(m.k-1), alpha)
	a.secondInterval(m, alpha)
	return true
}

// fInterval turns the exact limits of an F ratio into those of a coefficient
// and of its mean of k: (F' - 1)/(F' + k - 1) and 1 - 1/F'.
func fInterval(one, mean *ICC, f, k, df1, df2, alpha float64) {
	low := f / distuv.F{D1: df1, D2: df2}.Quantile(1-alpha/2)
	high := f * distuv.F{D1: df2, D2: df1}.Quantile(1-alpha/2)
	one.Low, one.High, one.OK = (low-1)/(low+k-1), (high-1)/(high+k-1), true
	mean.Low, mean.High, mean.OK = 1-1/low, 1-1/high, true
}

// secondInterval is the approximate interval of ICC2 after Shrout and Fleiss,
// with Satterthwaite degrees of freedom v; ICC2k follows by Spearman-Brown.
func (a *Agreement) secondInterval(m meanSquares, alpha float64) {
	r, n, k := a.ICC2.Value, m.n, m.k
	f := m.tasters / m.rest
	top := k*r*f + n*(1+(k-1)*r) - k*r
	bottom := (n-1)*k*k*r*r*f*f + math.Pow(n*(1+(k-1)*r)-k*r, 2)
	v := (k - 1) * (n - 1) * top * top / bottom
	if !(v > 0) || !figure.Finite(v) {
		return
	}
	up := distuv.F{D1: n - 1, D2: v}.Quantile(1 - alpha/2)
	down := distuv.F{D1: v, D2: n - 1}.Quantile(1 - alpha/2)
	rest := k*m.tasters + (k*n-k-n)*m.rest
	a.ICC2.Low = n * (m.between - up*m.rest) / (up*rest + n*m.between)
	a.ICC2.High = n * (down*m.between - m.rest) / (rest + n*down*m.between)
	a.ICC2.OK = figure.Finite(a.ICC2.Low) && figure.Finite(a.ICC2.High)
	mean := func(r float64) float64 { return k * r / (1 + (k-1)*r) }
	a.ICC2k.Low, a.ICC2k.High, a.ICC2k.OK = mean(a.ICC2.Low), mean(a.ICC2.High), a.ICC2.OK
}
