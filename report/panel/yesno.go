package panel

import (
	"fmt"

	"gonum.org/v1/gonum/stat/distuv"
)

// YesNo is the result of CochranQ.
type YesNo struct {
	Q        float64  // 0 when all trials get the same share
	DF       int      // trials less one
	P        float64  // from the chi-squared distribution
	Tasters  int      // rows of answers
	Mixed    int      // tasters who did not answer all trials alike; only these count
	Yes      []int    // yes answers per trial
	Warnings []string // what the p cannot say, in words
}

// CochranQ tests that all trials get the same share of yes ("would you drink a
// pint") from the same tasters [10]. answers[i][j] is taster i on trial j.
//
//	Q = (k-1) (k sum G_j^2 - T^2) / (k T - sum L_i^2)
//
// k trials, G_j yes answers of a trial, L_i of a taster, T of all. The
// chi-squared p with k-1 degrees of freedom is trusted from about 24 answers
// of tasters with mixed answers on; below that a warning says so.
//
// Minimum: two trials and one taster with mixed answers; for two trials McNemar
// is exact and better.
//
// Errors: nothing given, rows of different length, fewer than two trials,
// nobody with mixed answers.
func CochranQ(answers [][]bool) (*YesNo, error) {
	if len(answers) == 0 {
		return nil, fmt.Errorf("no answers: give one row of yes or no per taster")
	}
	k := len(answers[0])
	if k < 2 {
		return nil, fmt.Errorf("%d trials: yes and no are compared over two or more", k)
	}
	r := &YesNo{DF: k - 1, Tasters: len(answers), Yes: make([]int, k)}
	var total, squares float64
	for i, row := range answers {
		if len(row) != k {
			return nil, fmt.Errorf("taster %d has %d answers and the first %d: every taster must answer every trial", i+1, len(row), k)
		}
		var own int
		for j, yes := range row {
			if yes {
				own++
				r.Yes[j]++
			}
		}
		if own > 0 && own < k {
			r.Mixed++
		}
		total += float64(own)
		squares += float64(own * own)
	}
	if r.Mixed == 0 {
		return nil, fmt.Errorf("every taster gives all trials the same answer: nothing tells the trials apart")
	}
	var columns float64
	for _, g := range r.Yes {
		columns += float64(g) * float64(g)
	}
	kf := float64(k)
	r.Q = (kf - 1) * (kf*columns - total*total) / (kf*total - squares)
	r.P = distuv.ChiSquared{K: kf - 1}.Survival(r.Q)
	// Common practice (Tate and Brown 1970, from memory): 24 such answers.
	if r.Mixed*k < 24 {
		r.Warnings = append(r.Warnings, fmt.Sprintf("only %s with mixed answers: the p is rough", plural(r.Mixed, "taster")))
	}
	return r, nil
}

// McNemar returns the exact two-sided p that two trials get the same share of
// yes from the same tasters [11]: the binomial chance, at one half, of a split
// of the tasters who changed their answer at least as uneven as
// onlyFirst : onlySecond.
//
// Minimum: one changed answer; 6 of 6 are needed for p below 0.05.
//
// Errors: negative counts, nobody who changed.
func McNemar(onlyFirst, onlySecond int) (float64, error) {
	if onlyFirst < 0 || onlySecond < 0 {
		return 0, fmt.Errorf("counts %d and %d: give numbers of tasters, zero or more", onlyFirst, onlySecond)
	}
	n := onlyFirst + onlySecond
	if n == 0 {
		return 0, fmt.Errorf("nobody answered the two trials differently: nothing tells them apart")
	}
	b, err := Binomial(max(onlyFirst, onlySecond), n, 0.5, 0.95)
	return b.TwoSidedP, err
}
