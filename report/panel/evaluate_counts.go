package panel

import "fmt"

func checkThreshold(in checkInputs, t *table) (map[string]float64, error) {
	r, err := AscendingThreshold(in.Concentrations, t.truths())
	if err != nil {
		return nil, err
	}
	return map[string]float64{"group": r.Group, "sd_log10": r.SDLog10}, nil
}

func checkBinomial(in checkInputs, _ *table) (map[string]float64, error) {
	s, err := Binomial(in.Correct, in.N, in.P0, checkedLevel)
	return map[string]float64{"p_one_sided": s.OneSidedP, "p_two_sided": s.TwoSidedP, "low": s.Low, "high": s.High}, err
}

// checkDifference gives the number needed when n is among the inputs, else the
// share correct.
func checkDifference(in checkInputs, _ *table) (map[string]float64, error) {
	test := DifferenceTest(in.Test)
	if in.N == 0 {
		share, err := test.ShareCorrect(in.DPrime)
		return map[string]float64{"proportion_correct": share}, err
	}
	k, ok, err := test.MinCorrect(in.N, in.Alpha)
	if err == nil && !ok {
		err = fmt.Errorf("%d answers cannot reach alpha %g", in.N, in.Alpha)
	}
	return map[string]float64{"min_correct": float64(k)}, err
}
