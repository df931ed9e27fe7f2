package panel

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
