package panel

import (
	"encoding/json"
	"fmt"
	"slices"
)

// reference level of the check values' intervals.
const checkedLevel = 0.95

// meansInputs name the columns of a scores file and what to pick of the result.
type meansInputs struct {
	CSV       string
	Response  string
	Treatment string
	Block     string
	Level     string
	Control   string
	A, B      string
}

// scores reads the file. Without a block column all scores count as of
// different people.
func (in meansInputs) scores(open opener) ([]Score, error) {
	t, err := readTable(open, in.CSV)
	if err != nil {
		return nil, err
	}
	return t.scores(in.Response, in.Treatment, in.Block)
}

// scores turns three columns into scores; an empty block column is allowed.
func (t table) scores(response, treatment, block string) ([]Score, error) {
	values, err := t.numbers(response)
	if err != nil {
		return nil, err
	}
	trials, err := t.texts(treatment)
	if err != nil {
		return nil, err
	}
	tasters := make([]string, len(values))
	if block != "" {
		if tasters, err = t.texts(block); err != nil {
			return nil, err
		}
	}
	list := make([]Score, len(values))
	for i, v := range values {
		list[i] = Score{Taster: tasters[i], Trial: trials[i], Value: v}
	}
	return list, nil
}

// means fits the mixed model, or the one-way layout when no block is named.
func (in meansInputs) means(open opener) (*Means, error) {
	scores, err := in.scores(open)
	if err != nil {
		return nil, err
	}
	if in.Block == "" {
		return OneWay(scores, checkedLevel)
	}
	m, err := MixedModel(scores, checkedLevel)
	if err != nil {
		return nil, err
	}
	return &m.Means, nil
}

func evalBlocks(name string, inputs json.RawMessage, open opener) (float64, bool, error) {
	var in meansInputs
	if err := decode(inputs, &in); err != nil {
		return 0, true, err
	}
	scores, err := in.scores(open)
	if err != nil {
		return 0, true, err
	}
	f, err := TrialsDiffer(scores)
	if err != nil {
		return 0, true, err
	}
	return named(name, map[string]float64{"f": f.F, "p": f.P})
}

func evalMixed(name string, inputs json.RawMessage, open opener) (float64, bool, error) {
	var in meansInputs
	if err := decode(inputs, &in); err != nil {
		return 0, true, err
	}
	scores, err := in.scores(open)
	if err != nil {
		return 0, true, err
	}
	m, err := MixedModel(scores, checkedLevel)
	if err != nil {
		return 0, true, err
	}
	values := map[string]float64{"sd_block": m.SDTaster, "sigma": m.Sigma, "reml": m.REML}
	if name == "mean" || name == "mean_se" {
		k := slices.Index(m.Names, in.Level)
		if k < 0 {
			return 0, true, fmt.Errorf("%s has no level %q of %q", in.CSV, in.Level, in.Treatment)
		}
		e := m.Estimates()[k]
		values["mean"], values["mean_se"] = e.Mean, e.SE
	}
	return named(name, values)
}

func evalTukey(name string, inputs json.RawMessage, open opener) (float64, bool, error) {
	var in meansInputs
	if err := decode(inputs, &in); err != nil {
		return 0, true, err
	}
	m, err := in.means(open)
	if err != nil {
		return 0, true, err
	}
	list, err := m.Tukey()
	if err != nil {
		return 0, true, err
	}
	return in.pickP(name, list, in.A, in.B)
}

func evalDunnett(name string, inputs json.RawMessage, open opener) (float64, bool, error) {
	var in meansInputs
	if err := decode(inputs, &in); err != nil {
		return 0, true, err
	}
	m, err := in.means(open)
	if err != nil {
		return 0, true, err
	}
	list, _, err := m.Dunnett(in.Control)
	if err != nil {
		return 0, true, err
	}
	return in.pickP(name, list, in.Level, in.Control)
}

// pickP finds the p of one pair, in either direction.
func (in meansInputs) pickP(name string, list []Comparison, a, b string) (float64, bool, error) {
	for _, c := range list {
		if c.A == a && c.B == b || c.A == b && c.B == a {
			return named(name, map[string]float64{"p": c.P})
		}
	}
	return 0, true, fmt.Errorf("%s has no pair %q and %q of %q", in.CSV, a, b, in.Treatment)
}

func evalRanks(name string, inputs json.RawMessage, open opener) (float64, bool, error) {
	var in meansInputs
	if err := decode(inputs, &in); err != nil {
		return 0, true, err
	}
	scores, err := in.scores(open)
	if err != nil {
		return 0, true, err
	}
	r, err := Friedman(scores)
	if err != nil {
		return 0, true, err
	}
	return named(name, map[string]float64{"chi2": r.Chi2, "p": r.P, "w": r.W})
}

func evalICC(name string, inputs json.RawMessage, open opener) (float64, bool, error) {
	var in struct{ CSV, Response, Subject, Rater, Type string }
	if err := decode(inputs, &in); err != nil {
		return 0, true, err
	}
	t, err := readTable(open, in.CSV)
	if err != nil {
		return 0, true, err
	}
	scores, err := t.scores(in.Response, in.Subject, in.Rater)
	if err != nil {
		return 0, true, err
	}
	a, err := IntraclassCorrelations(scores, checkedLevel)
	if err != nil {
		return 0, true, err
	}
	if name != "" {
		return 0, false, nil
	}
	v, ok, _ := named(in.Type, map[string]float64{
		"ICC1": a.ICC1.Value, "ICC2": a.ICC2.Value, "ICC3": a.ICC3.Value,
		"ICC1k": a.ICC1k.Value, "ICC2k": a.ICC2k.Value, "ICC3k": a.ICC3k.Value,
	})
	if !ok {
		return 0, true, fmt.Errorf("type %q: use ICC1, ICC2, ICC3, ICC1k, ICC2k or ICC3k", in.Type)
	}
	return v, true, nil
}
