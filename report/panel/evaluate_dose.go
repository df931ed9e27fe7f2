package panel

import (
	"fmt"
	"math"
)

func checkCLM(in checkInputs, t *table) (map[string]float64, error) {
	return in.ordinal(t, ProportionalOdds)
}

func checkCLMM(in checkInputs, t *table) (map[string]float64, error) {
	return in.ordinal(t, ProportionalOddsMixed)
}

// ordinal fits a regression on labels and picks the cut or the coefficient
// that the inputs name.
func (in checkInputs) ordinal(t *table, run func(OrdinalData, float64) (*OrdinalFit, error)) (map[string]float64, error) {
	d := OrdinalData{Response: t.numbers(in.Response), Taster: t.texts(in.Block)}
	for _, term := range in.Terms {
		d.Columns = append(d.Columns, Dummies(term, t.texts(term))...)
	}
	f, err := run(d, checkedLevel)
	if err != nil {
		return nil, err
	}
	values := map[string]float64{"loglik": f.LogLik, "sd_block": f.SDTaster}
	for _, c := range f.Cuts {
		if fmt.Sprintf("%g|%g", c.Below, c.Above) == in.Cut {
			values["threshold"], values["se"] = c.Value, c.SE
		}
	}
	for _, c := range f.Coefs {
		if in.Term != "" && c.Term == in.Term && c.Level == in.Level {
			values["coef"], values["se"] = c.Value, c.SE
		}
	}
	if _, found := values["se"]; !found && in.Cut+in.Term != "" {
		return nil, fmt.Errorf("no cut %q and no term %q with level %q", in.Cut, in.Term, in.Level)
	}
	return values, nil
}

func checkParallel(in checkInputs, t *table) (map[string]float64, error) {
	p, err := RelativePotency(t.assayPoints(in.Transform, in.Blocks), in.Standard, checkedLevel)
	if err != nil {
		return nil, err
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
	return values, nil
}

func checkLogistic3(in checkInputs, t *table) (map[string]float64, error) {
	return in.sigmoid(t, Logistic3)
}

func checkLogistic4(in checkInputs, t *table) (map[string]float64, error) {
	return in.sigmoid(t, Logistic4)
}

func (in checkInputs) sigmoid(t *table, fit func(x, y []float64, level float64) (*Sigmoid, error)) (map[string]float64, error) {
	t.where(in.Where)
	x, y := t.numbers(in.X), t.numbers(in.Y)
	if in.LogX {
		for i, v := range x {
			x[i] = math.Log(v)
		}
	}
	s, err := fit(x, y, checkedLevel)
	if err != nil {
		return nil, err
	}
	return map[string]float64{"lower": s.Lower, "upper": s.Upper, "mid": s.Mid, "scale": s.Scale, "sigma": s.Sigma}, nil
}

func checkLogit(in checkInputs, t *table) (map[string]float64, error) {
	doses, yes, all, groups := t.numbers(in.Dose), t.integers(in.Successes), t.integers(in.Total), t.texts(in.Group)
	if t.err != nil {
		return nil, t.err
	}
	var counts []DoseCount
	for i, d := range doses {
		counts = append(counts, DoseCount{Group: groups[i], Dose: d, Successes: yes[i], Total: all[i]})
	}
	fit, err := FitLogit(counts)
	if err != nil {
		return nil, err
	}
	d, err := fit.DoseAt(in.Level, in.P, checkedLevel)
	return map[string]float64{"dose": d.Dose, "dose_se": d.SE}, err
}
