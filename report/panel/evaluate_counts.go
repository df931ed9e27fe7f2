package panel

import "fmt"

func checkCochran(_ checkInputs, t *table) (map[string]float64, error) {
	r, err := CochranQ(t.truths())
	if err != nil {
		return nil, err
	}
	return map[string]float64{"q": r.Q, "p": r.P}, nil
}

func checkPenalty(in checkInputs, t *table) (map[string]float64, error) {
	votes, likings := t.integers(in.Vote), t.numbers(in.Liking)
	if t.err != nil {
		return nil, t.err
	}
	answers := make([]Liking, len(votes))
	for i, v := range votes {
		answers[i] = Liking{Vote: v, Value: likings[i]}
	}
	p, err := Penalty(answers)
	if err != nil {
		return nil, err
	}
	values := make(map[string]float64)
	if d := p.TooLittle; d.OK {
		values["drop_low"], values["weighted_penalty_low"] = d.Drop, d.Weighted
	}
	if d := p.TooMuch; d.OK {
		values["drop_high"], values["weighted_penalty_high"] = d.Drop, d.Weighted
	}
	return values, nil
}

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
