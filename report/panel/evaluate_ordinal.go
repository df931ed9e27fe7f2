package panel

import (
	"encoding/json"
	"fmt"
)

// ordinalInputs name the columns and what to pick of the fit.
type ordinalInputs struct {
	CSV      string
	Response string
	Terms    []string
	Block    string
	Cut      string
	Term     string
	Level    string
}

// data reads the file; every term is a label.
func (in ordinalInputs) data(open opener) (OrdinalData, error) {
	t, err := readTable(open, in.CSV)
	if err != nil {
		return OrdinalData{}, err
	}
	var d OrdinalData
	if d.Response, err = t.numbers(in.Response); err != nil {
		return d, err
	}
	for _, term := range in.Terms {
		labels, err := t.texts(term)
		if err != nil {
			return d, err
		}
		d.Columns = append(d.Columns, Dummies(term, labels)...)
	}
	if in.Block != "" {
		d.Taster, err = t.texts(in.Block)
	}
	return d, err
}

func evalCLM(name string, inputs json.RawMessage, open opener) (float64, bool, error) {
	return evalOrdinal(name, inputs, open, ProportionalOdds)
}

func evalCLMM(name string, inputs json.RawMessage, open opener) (float64, bool, error) {
	return evalOrdinal(name, inputs, open, ProportionalOddsMixed)
}

func evalOrdinal(name string, inputs json.RawMessage, open opener, run func(OrdinalData, float64) (*OrdinalFit, error)) (float64, bool, error) {
	var in ordinalInputs
	if err := decode(inputs, &in); err != nil {
		return 0, true, err
	}
	d, err := in.data(open)
	if err != nil {
		return 0, true, err
	}
	f, err := run(d, checkedLevel)
	if err != nil {
		return 0, true, err
	}
	switch name {
	case "loglik":
		return f.LogLik, true, nil
	case "sd_block":
		return f.SDTaster, true, nil
	case "threshold", "coef", "se":
		return in.pick(name, f)
	}
	return 0, false, nil
}

// pick finds the cut or coefficient that the inputs name.
func (in ordinalInputs) pick(name string, f *OrdinalFit) (float64, bool, error) {
	for _, c := range f.Cuts {
		if in.Cut != "" && fmt.Sprintf("%g|%g", c.Below, c.Above) == in.Cut {
			return named(name, map[string]float64{"threshold": c.Value, "se": c.SE})
		}
	}
	for _, c := range f.Coefs {
		if in.Term != "" && c.Term == in.Term && c.Level == in.Level {
			return named(name, map[string]float64{"coef": c.Value, "se": c.SE})
		}
	}
	return 0, true, fmt.Errorf("%s: no cut %q and no term %q with level %q", in.CSV, in.Cut, in.Term, in.Level)
}
