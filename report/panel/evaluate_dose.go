package panel

func checkParallel(in checkInputs, t *table) (map[string]float64, error) {
	p, err := RelativePotency(t.assayPoints(in.Transform, in.Blocks), in.Standard, checkedLevel)
	if err != nil {
		return nil, err
	}
	values := map[string]float64{"slope_ln": p.SlopePerLn}
	if f := p.nonParallel; f != nil {
		values["nonparallel_p"] = f.P
	}
	if f := p.nonLinear; f != nil {
		values["nonlinear_p"] = f.P
	}
	return values, nil
}
