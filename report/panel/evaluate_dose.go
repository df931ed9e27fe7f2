package panel

import (
	"encoding/json"
	"fmt"
	"math"
)

func evalParallel(name string, inputs json.RawMessage, open opener) (float64, bool, error) {
	var in struct{ CSV, Transform, Blocks, Standard, Test string }
	if err := decode(inputs, &in); err != nil {
		return 0, true, err
	}
	t, err := readTable(open, in.CSV)
	if err != nil {
		return 0, true, err
	}
	points, err := t.assayPoints(in.Transform, in.Blocks)
	if err != nil {
		return 0, true, err
	}
	p, err := RelativePotency(points, in.Standard, checkedLevel)
	if err != nil {
		return 0, true, err
	}
	values := map[string]float64{"slope_ln": p.SlopePerLn}
	if p.NonParallelOK {
		values["nonparallel_p"] = p.NonParallel.P
	}
	if p.NonLinearOK {
		values["nonlinear_p"] = p.NonLinear.P
	}
	for _, q := range p.Potencies {
		if q.Sample == in.Test {
			values["potency"] = q.Value
			if q.OK {
				values["low"], values["high"] = q.Low, q.High
			}
		}
	}
	return named(name, values)
}

// assayPoints reads the columns sample, dose, y, block and col.
func (t table) assayPoints(transform, blocks string) ([]AssayPoint, error) {
	samples, err := t.texts("sample")
	if err != nil {
		return nil, err
	}
	doses, err := t.numbers("dose")
	if err != nil {
		return nil, err
	}
	y, err := t.numbers("y")
	if err != nil {
		return nil, err
	}
	block, column := make([]string, len(y)), make([]string, len(y))
	if blocks == "block" || blocks == "latin" {
		if block, err = t.texts("block"); err != nil {
			return nil, err
		}
	}
	switch blocks {
	case "none", "block":
	case "latin":
		if column, err = t.texts("col"); err != nil {
			return nil, err
		}
	default:
		return nil, fmt.Errorf("blocks %q: use none, block or latin", blocks)
	}
	points := make([]AssayPoint, len(y))
	for i, v := range y {
		if v, err = transformed(v, transform); err != nil {
			return nil, err
		}
		points[i] = AssayPoint{Sample: samples[i], Dose: doses[i], Y: v, Block: block[i], Column: column[i]}
	}
	return points, nil
}

// transformed applies the named transform of a response.
func transformed(v float64, transform string) (float64, error) {
	switch transform {
	case "none":
		return v, nil
	case "square":
		return v * v, nil
	case "ln":
		if !(v > 0) {
			return 0, fmt.Errorf("response %v has no logarithm", v)
		}
		return math.Log(v), nil
	}
	return 0, fmt.Errorf("transform %q: use none, ln or square", transform)
}

func evalLogistic3(name string, inputs json.RawMessage, open opener) (float64, bool, error) {
	return evalSigmoid(name, inputs, open, Logistic3)
}

func evalLogistic4(name string, inputs json.RawMessage, open opener) (float64, bool, error) {
	return evalSigmoid(name, inputs, open, Logistic4)
}

func evalSigmoid(name string, inputs json.RawMessage, open opener, fit func(x, y []float64, level float64) (*Sigmoid, error)) (float64, bool, error) {
	var in struct {
		CSV, X, Y string
		LogX      bool `json:"log_x"`
		Where     map[string]string
	}
	if err := decode(inputs, &in); err != nil {
		return 0, true, err
	}
	t, err := readTable(open, in.CSV)
	if err == nil {
		t, err = t.where(in.Where)
	}
	if err != nil {
		return 0, true, err
	}
	x, err := t.numbers(in.X)
	if err != nil {
		return 0, true, err
	}
	y, err := t.numbers(in.Y)
	if err != nil {
		return 0, true, err
	}
	for i, v := range x {
		if in.LogX {
			x[i] = math.Log(v)
		}
	}
	s, err := fit(x, y, checkedLevel)
	if err != nil {
		return 0, true, err
	}
	return named(name, map[string]float64{"lower": s.Lower, "upper": s.Upper, "mid": s.Mid, "scale": s.Scale, "sigma": s.Sigma})
}

func evalLogit(name string, inputs json.RawMessage, open opener) (float64, bool, error) {
	var in struct {
		CSV, Dose, Successes, Total, Group, Level string
		P                                         float64
	}
	if err := decode(inputs, &in); err != nil {
		return 0, true, err
	}
	t, err := readTable(open, in.CSV)
	if err != nil {
		return 0, true, err
	}
	counts, err := t.doseCounts(in.Dose, in.Successes, in.Total, in.Group)
	if err != nil {
		return 0, true, err
	}
	fit, err := FitLogit(counts)
	if err != nil {
		return 0, true, err
	}
	d, err := fit.DoseAt(in.Level, in.P, checkedLevel)
	if err != nil {
		return 0, true, err
	}
	return named(name, map[string]float64{"dose": d.Dose, "dose_se": d.SE})
}

// doseCounts reads the four columns; an empty group column is allowed.
func (t table) doseCounts(dose, successes, total, group string) ([]DoseCount, error) {
	doses, err := t.numbers(dose)
	if err != nil {
		return nil, err
	}
	yes, err := t.integers(successes)
	if err != nil {
		return nil, err
	}
	all, err := t.integers(total)
	if err != nil {
		return nil, err
	}
	groups := make([]string, len(doses))
	if group != "" {
		if groups, err = t.texts(group); err != nil {
			return nil, err
		}
	}
	counts := make([]DoseCount, len(doses))
	for i := range counts {
		counts[i] = DoseCount{Group: groups[i], Dose: doses[i], Successes: yes[i], Total: all[i]}
	}
	return counts, nil
}
