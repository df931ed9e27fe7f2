package panel

import (
	"encoding/json"
	"fmt"
)

func evalCochran(name string, inputs json.RawMessage, open opener) (float64, bool, error) {
	var in struct{ CSV string }
	if err := decode(inputs, &in); err != nil {
		return 0, true, err
	}
	t, err := readTable(open, in.CSV)
	if err != nil {
		return 0, true, err
	}
	answers, err := t.truths()
	if err != nil {
		return 0, true, err
	}
	r, err := CochranQ(answers)
	if err != nil {
		return 0, true, err
	}
	return named(name, map[string]float64{"q": r.Q, "p": r.P})
}

func evalPenalty(name string, inputs json.RawMessage, open opener) (float64, bool, error) {
	var in struct{ CSV, Vote, Liking string }
	if err := decode(inputs, &in); err != nil {
		return 0, true, err
	}
	t, err := readTable(open, in.CSV)
	if err != nil {
		return 0, true, err
	}
	votes, err := t.integers(in.Vote)
	if err != nil {
		return 0, true, err
	}
	likings, err := t.numbers(in.Liking)
	if err != nil {
		return 0, true, err
	}
	answers := make([]Liking, len(votes))
	for i, v := range votes {
		answers[i] = Liking{Vote: v, Value: likings[i]}
	}
	p, err := Penalty(answers)
	if err != nil {
		return 0, true, err
	}
	values := make(map[string]float64)
	add := func(side string, d MeanDrop) {
		if d.OK {
			values["drop_"+side], values["weighted_penalty_"+side] = d.Drop, d.Weighted
		}
	}
	add("low", p.TooLittle)
	add("high", p.TooMuch)
	return named(name, values)
}

func evalThreshold(name string, inputs json.RawMessage, open opener) (float64, bool, error) {
	var in struct {
		CSV            string
		Concentrations []float64
	}
	if err := decode(inputs, &in); err != nil {
		return 0, true, err
	}
	t, err := readTable(open, in.CSV)
	if err != nil {
		return 0, true, err
	}
	correct, err := t.truths()
	if err != nil {
		return 0, true, err
	}
	r, err := AscendingThreshold(in.Concentrations, correct)
	if err != nil {
		return 0, true, err
	}
	return named(name, map[string]float64{"group": r.Group, "sd_log10": r.SDLog10})
}

func evalBinomial(name string, inputs json.RawMessage, _ opener) (float64, bool, error) {
	var in struct {
		Correct, N int
		P0         float64
	}
	if err := decode(inputs, &in); err != nil {
		return 0, true, err
	}
	s, err := Binomial(in.Correct, in.N, in.P0, checkedLevel)
	if err != nil {
		return 0, true, err
	}
	return named(name, map[string]float64{"p_one_sided": s.OneSidedP, "p_two_sided": s.TwoSidedP, "low": s.Low, "high": s.High})
}

func evalDifference(name string, inputs json.RawMessage, _ opener) (float64, bool, error) {
	var in struct {
		Test          DifferenceTest
		N             int
		Alpha, DPrime float64
	}
	if err := decode(inputs, &in); err != nil {
		return 0, true, err
	}
	switch name {
	case "min_correct":
		k, ok, err := in.Test.MinCorrect(in.N, in.Alpha)
		if err == nil && !ok {
			err = fmt.Errorf("%d answers cannot reach alpha %g", in.N, in.Alpha)
		}
		return float64(k), true, err
	case "proportion_correct":
		p, err := in.Test.ShareCorrect(in.DPrime)
		return p, true, err
	}
	return 0, false, nil
}
