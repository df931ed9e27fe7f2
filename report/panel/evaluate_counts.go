package panel

import (
	"fmt"
	"math"
)

func checkThreshold(in checkInputs, t *table) (map[string]float64, error) {
	r, err := AscendingThreshold(in.Concentrations, t.truths())
	if err != nil {
		return nil, err
	}
	return map[string]float64{"group": r.Group, "sd_log10": r.SDLog10}, nil
}

// checkBinomial gives the exact p and limits of a difference test in which
// guessing is right with the chance p0.
func checkBinomial(in checkInputs, _ *table) (map[string]float64, error) {
	const rounding = 1e-9 // of a third, as written
	one := Triangle
	switch {
	case math.Abs(in.P0-1.0/3) < rounding:
	case in.P0 == 0.5:
		one = Paired
	default:
		return nil, fmt.Errorf("chance %v: the difference tests have 1/2 and 1/3", in.P0)
	}
	r, err := one.Result(in.Correct, in.N, 1-checkedLevel)
	values := map[string]float64{"p_one_sided": r.P, "low": r.Low, "high": r.High}
	if one == Paired && err == nil {
		r, err = PairedTwoSided.Result(in.Correct, in.N, 1-checkedLevel)
		values["p_two_sided"] = r.P
	}
	return values, err
}

// checkDifference gives the number needed when n is among the inputs, else the
// share correct.
func checkDifference(in checkInputs, _ *table) (map[string]float64, error) {
	test := DifferenceTest(in.Test)
	if in.N == 0 {
		share, err := test.shareCorrect(in.DPrime)
		return map[string]float64{"proportion_correct": share}, err
	}
	k, ok, err := test.MinCorrect(in.N, in.Alpha)
	if err == nil && !ok {
		err = fmt.Errorf("%d answers cannot reach alpha %g", in.N, in.Alpha)
	}
	return map[string]float64{"min_correct": float64(k)}, err
}
