package dilution

// stateFigure finds a figure of a state by the names the check rows use. The
// rows call the same figure by short and long names in different families
// ("abv", "abv_pct"); both are taken everywhere.
func stateFigure(name string) (func(State) float64, bool) {
	figure, ok := map[string]func(State) float64{
		"volume_L":         State.VolumeL,
		"sg":               State.SG,
		"abv_pct":          State.ABVPct,
		"abv":              State.ABVPct,
		"abw_pct":          State.ABWPct,
		"real_extract_pct": State.RealExtractPct,
		"re":               State.RealExtractPct,
		"equiv_og":         State.OriginalSG,
		"og":               State.OriginalSG,
		"ibu":              func(s State) float64 { v, _ := s.IBU(); return v },
		"srm":              func(s State) float64 { v, _ := s.SRM(); return v },
		"ebc":              func(s State) float64 { v, _ := s.SRM(); return v * EBCPerSRM },
	}[name]
	return figure, ok
}

// mixCheck is a figure of V_L litres of finished beer after water, tea or
// tincture went in: one of stateFigure, or the dilution factor V/V'.
func mixCheck(family, name string) (evaluator, bool) {
	figure, ok := stateFigure(name)
	if !ok && name != "dilution_factor" && name != "factor" {
		return nil, false
	}
	return func(a *checkArgs) (float64, error) {
		before, err := FromGravities(a.gravities(), a.num("V_L"))
		if err != nil {
			return 0, err
		}
		added, err := addedPortion(family, a)
		if err != nil {
			return 0, err
		}
		before = before.WithIBU(a.numOr("ibu", 0)).WithSRM(a.colour())
		after := before.Plus(added)
		if figure == nil {
			return before.VolumeL() / after.VolumeL(), nil
		}
		return figure(after), nil
	}, true
}

// colour reads a colour as srm or ebc; none is zero.
func (a *checkArgs) colour() float64 {
	return a.numOr("srm", a.numOr("ebc", 0)/EBCPerSRM)
}

// addedPortion reads what a mix row adds. The added volume is as measured at its
// own temperature; tea solids are g per litre of tea as measured.
func addedPortion(family string, a *checkArgs) (State, error) {
	switch family {
	case "dilute_water":
		return Tea{VolumeL: a.num("water_L"), TempC: a.numOr("water_t_C", 20)}.Portion()
	case "add_tea":
		return Tea{
			VolumeL:     a.num("tea_L"),
			TempC:       a.numOr("tea_t_C", 20),
			SolidsGPerL: a.numOr("solids_gL", 0),
		}.Portion()
	}
	return Spirit{
		VolumeL:     a.num("tincture_L"),
		TempC:       a.numOr("tincture_t_C", 20),
		ABVPct:      a.num("tincture_abv_pct"),
		SolidsGPerL: a.numOr("solids_gL", 0),
	}.Portion()
}

// sugarBeforeCheck is a figure of V_L litres of wort with sugar or syrup stirred
// in, given as the extract and water in kg that it brings.
func sugarBeforeCheck(name string) (evaluator, bool) {
	figure, ok := stateFigure(name)
	return func(a *checkArgs) (float64, error) {
		w, err := Wort(a.num("og"), a.num("V_L"))
		if err != nil {
			return 0, err
		}
		sugar, err := a.masses()
		return figure(w.Plus(sugar)), err
	}, ok
}

// sugarAfterCheck is a figure of a finished beer with sugar added: mixed, or at
// the end when all of it has fermented.
func sugarAfterCheck(name string) (evaluator, bool) {
	figure, ok := map[string]func(base, mixed, end State) float64{
		"volume_L_mix":   func(_, m, _ State) float64 { return m.VolumeL() },
		"volume_L_mixed": func(_, m, _ State) float64 { return m.VolumeL() },
		"sg_mixed":       func(_, m, _ State) float64 { return m.SG() },
		"sg_mix":         func(_, m, _ State) float64 { return m.SG() },
		"volume_L_end":   func(_, _, e State) float64 { return e.VolumeL() },
		"fg_end":         func(_, _, e State) float64 { return e.SG() },
		"sg_end":         func(_, _, e State) float64 { return e.SG() },
		"abv_end":        func(_, _, e State) float64 { return e.ABVPct() },
		"og_equiv_end":   func(_, _, e State) float64 { return e.OriginalSG() },
		"equiv_og_end":   func(_, _, e State) float64 { return e.OriginalSG() },
	}[name]
	if !ok {
		return sugarGasCheck(name)
	}
	return func(a *checkArgs) (float64, error) {
		base, mixed, err := a.sugared()
		if err != nil {
			return 0, err
		}
		end, _ := mixed.Finish()
		return figure(base, mixed, end), nil
	}, true
}

// sugared reads a finished beer and the same with sugar in it. What extract the
// base beer has left does not ferment; all of fermentable_kg does.
func (a *checkArgs) sugared() (base, mixed State, err error) {
	base, err = FromGravities(a.gravities(), a.num("V_L"))
	if err != nil {
		return State{}, State{}, err
	}
	nonferm := a.numOr("nonfermentable_kg", 0)
	added := State{
		WaterKg:         a.numOr("water_kg", 0),
		ExtractKg:       a.num("fermentable_kg") + nonferm,
		UnfermentableKg: nonferm,
	}
	return base, base.Plus(added), nil
}

// sugarGasCheck is the CO2 from the added sugar, per litre of the
// finished beer.
func sugarGasCheck(name string) (evaluator, bool) {
	figure, ok := map[string]func(CO2ToCome) float64{
		"co2_gL_balling":             func(c CO2ToCome) float64 { return c.ExpectedGPerL },
		"co2_vol_balling":            func(c CO2ToCome) float64 { return c.ExpectedVolumes },
		"co2_gL_upper_disaccharide":  func(c CO2ToCome) float64 { return c.UpperGPerL },
		"co2_vol_upper_disaccharide": func(c CO2ToCome) float64 { return c.UpperVolumes },
		"co2_gL_upper_hexose": func(c CO2ToCome) float64 {
			return c.UpperGPerL * CO2PerHexose / CO2PerDisaccharide
		},
		"co2_vol_upper_hexose": func(c CO2ToCome) float64 {
			return c.UpperVolumes * CO2PerHexose / CO2PerDisaccharide
		},
	}[name]
	return func(a *checkArgs) (float64, error) {
		_, mixed, err := a.sugared()
		if err != nil {
			return 0, err
		}
		gas, _ := mixed.CO2ToCome()
		return figure(gas), nil
	}, ok
}
