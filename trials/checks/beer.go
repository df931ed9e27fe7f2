package checks

import (
	"errors"

	"hedgerow/dilution"
)

// beerQuantities are the plain quantities of package dilution: densities, worts
// and beers, readings of instruments, gas and units.
func beerQuantities() map[string]evaluator {
	return map[string]evaluator{
		"water_density":                waterDensity,
		"ethanol_water_density":        spiritDensity,
		"density_at_20C_from_abv":      spiritDensityAt20C,
		"mass_frac_from_abv":           massFraction,
		"abv_from_mass_frac":           strengthOfFraction,
		"sucrose_density":              sugarDensity,
		"sg_from_plato":                func(in *inputs) (float64, error) { return dilution.SGFromPlato(in.num("plato")) },
		"plato_from_sg":                func(in *inputs) (float64, error) { return dilution.PlatoFromSG(in.num("sg")) },
		"mix_volume_L":                 mixVolume,
		"mix_sg20":                     func(in *inputs) (float64, error) { return masses(in).SG(), nil },
		"beer_abv":                     beerFigure(dilution.QABVInputs),
		"beer_real_extract":            beerFigure(dilution.QRealExtract),
		"beer_abw":                     beerStrengthByMass,
		"phthalate_buffer_ph":          func(in *inputs) (float64, error) { return dilution.PhthalatePH(in.num("t_C")) },
		"ph_two_point":                 twoPoint,
		"co2_residual_volumes":         residualCO2,
		"co2_equilibrium_pressure_abs": equilibriumPressure,
		"hydrometer_wort_sg20":         func(in *inputs) (float64, error) { return hydrometer(in).WortSG() },
		"hydrometer_beer_sg20":         beerReading,
		"unit_conversion":              unitConversion,
	}
}

// beerStrengthByMass is the ethanol of a finished beer in per cent by mass.
func beerStrengthByMass(in *inputs) (float64, error) {
	s, err := beerState(in, 1)
	return s.ABWPct(), err
}

// masses reads a state given as component masses.
func masses(in *inputs) dilution.State {
	return dilution.State{
		WaterKg:   in.num("water_kg"),
		EthanolKg: in.numOr("ethanol_kg", 0),
		ExtractKg: in.numOr("extract_kg", 0),
	}
}

// mixVolume is the volume of component masses at a temperature.
func mixVolume(in *inputs) (float64, error) { return masses(in).VolumeAtL(in.num("t_C")) }

// beerAccount reads a finished beer between two gravities.
func beerAccount(in *inputs, volumeL float64, steps ...dilution.Step) dilution.Account {
	og, fg := dilution.Exactly(in.num("og")), dilution.Exactly(in.num("fg"))
	start := dilution.Start{VolumeL: dilution.Exactly(volumeL), OG: &og, NowSG: &fg, Finished: true}
	return dilution.Account{Start: start, Steps: steps}
}

// beerFigure is a figure of a finished beer; being a concentration, it does not
// depend on the volume.
func beerFigure(q dilution.Quantity) evaluator {
	return func(in *inputs) (float64, error) { return at{0, q, false}.best(beerAccount(in, 1)) }
}

// beerState is the content of a finished beer.
func beerState(in *inputs, volumeL float64) (dilution.State, error) {
	snaps, err := beerAccount(in, volumeL).Run()
	if err != nil {
		return dilution.State{}, err
	}
	return snaps[0].State, nil
}

// massQuantity is one component mass in kg of a finished beer.
func massQuantity(name string) (evaluator, bool) {
	pick, ok := map[string]func(dilution.State) float64{
		"water_kg":   func(s dilution.State) float64 { return s.WaterKg },
		"ethanol_kg": func(s dilution.State) float64 { return s.EthanolKg },
		"extract_kg": func(s dilution.State) float64 { return s.ExtractKg },
	}[name]
	return func(in *inputs) (float64, error) {
		s, err := beerState(in, in.num("V_L"))
		if err != nil {
			return 0, err
		}
		return pick(s), nil
	}, ok
}

// sugarBefore is a figure of wort with sugar or syrup stirred in, given as the
// extract and water in kg that it brings.
func sugarBefore(name string) (evaluator, bool) {
	figure, ok := beerFigures[name]
	return func(in *inputs) (float64, error) {
		og := dilution.Exactly(in.num("og"))
		a := dilution.Account{Start: dilution.Start{VolumeL: dilution.Exactly(in.num("V_L")), OG: &og},
			Steps: []dilution.Step{dilution.Add{Liquid: syrup(in.num("extract_kg"), 0, in.numOr("water_kg", 0))}}}
		return at{1, figure, false}.best(a)
	}, ok
}

// syrup is a sugar or syrup by what it brings, in kg.
func syrup(fermentableKg, nonfermentableKg, waterKg float64) dilution.AddFruit {
	mass := fermentableKg + nonfermentableKg + waterKg
	return dilution.AddFruit{MassKg: dilution.Exactly(mass), Water: dilution.Exactly(waterKg / mass),
		Sugar: dilution.Exactly(fermentableKg / mass), Nonfermentable: dilution.Exactly(nonfermentableKg / mass)}
}

// sugarAfter is a figure of a finished beer with sugar in it: mixed, at the end
// when all of it has fermented, or the gas that it makes if it is closed in.
func sugarAfter(name string) (evaluator, bool) {
	figure, ok := map[string]at{
		"volume_L_mix":   {1, dilution.QVolumeL, false},
		"volume_L_mixed": {1, dilution.QVolumeL, false},
		"sg_mixed":       {1, dilution.QSG, false},
		"sg_mix":         {1, dilution.QSG, false},
		"volume_L_end":   {2, dilution.QVolumeL, false},
		"fg_end":         {2, dilution.QSG, false},
		"sg_end":         {2, dilution.QSG, false},
		"abv_end":        {2, dilution.QABVInputs, false},
		"og_equiv_end":   {2, dilution.QOriginalSG, false},
		"equiv_og_end":   {2, dilution.QOriginalSG, false},
	}[name]
	if !ok {
		return sugarGas(name)
	}
	return func(in *inputs) (float64, error) { return figure.best(sugared(in)) }, true
}

// sugared reads a finished beer with sugar in it that ferments. What extract the
// base beer has left does not ferment.
func sugared(in *inputs) dilution.Account {
	s := syrup(in.num("fermentable_kg"), in.numOr("nonfermentable_kg", 0), in.numOr("water_kg", 0))
	return beerAccount(in, in.num("V_L"), dilution.Add{Liquid: s}, dilution.Finish{})
}

// sugarGas is the CO2 from the added sugar, per litre of the finished beer.
func sugarGas(name string) (evaluator, bool) {
	figure, ok := map[string]func(dilution.CO2ToCome) float64{
		"co2_gL_balling":             func(c dilution.CO2ToCome) float64 { return c.ExpectedGPerL },
		"co2_vol_balling":            func(c dilution.CO2ToCome) float64 { return c.ExpectedVolumes },
		"co2_gL_upper_disaccharide":  func(c dilution.CO2ToCome) float64 { return c.UpperGPerL },
		"co2_vol_upper_disaccharide": func(c dilution.CO2ToCome) float64 { return c.UpperVolumes },
	}[name]
	return func(in *inputs) (float64, error) {
		snaps, err := sugared(in).Run()
		if err != nil {
			return 0, err
		}
		// any temperatures, as the gas to come does not hang on them
		p, err := dilution.Pressure(dilution.Packaging{Beer: snaps[1].State, WarmestC: 20, StorageC: 20})
		if err != nil {
			return 0, err
		}
		return figure(p.ToCome), nil
	}, ok
}

// litreOfWort is a litre of unfermented wort; of gravity 1 it is water.
func litreOfWort(og float64) dilution.Start {
	return dilution.Start{VolumeL: dilution.Exactly(1), OG: new(dilution.Exactly(og))}
}

// residualCO2 is the CO2 of a beer that has fermented under a pressure.
func residualCO2(in *inputs) (float64, error) {
	pressure, factor := dilution.Exactly(in.num("p_bar")), dilution.Exactly(in.num("beer_factor"))
	gas := dilution.Saturate{TempC: dilution.Exactly(in.num("t_C")), PressureBar: &pressure, BeerFactor: &factor}
	return at{1, dilution.QCO2Volumes, false}.best(dilution.Account{Start: litreOfWort(1), Steps: []dilution.Step{gas}})
}

// equilibriumPressure is the pressure in a closed package whose sugar has
// fermented.
func equilibriumPressure(in *inputs) (float64, error) {
	if err := in.only("beer_factor", dilution.BeerCO2Factor); err != nil {
		return 0, err
	}
	// nothing in it can ferment, so that only what is dissolved presses
	beer := dilution.State{WaterKg: 1}.WithCO2Volumes(in.num("volumes"))
	p, err := dilution.Pressure(dilution.Packaging{Beer: beer, StorageC: in.num("t_C")})
	return p.ExpectedBar, err
}

// twoPoint is the pH for a reading of a meter calibrated in two buffers.
func twoPoint(in *inputs) (float64, error) {
	c := dilution.PHCalibration{
		Buffer1: in.num("buffer1"), Read1: in.num("read1"),
		Buffer2: in.num("buffer2"), Read2: in.num("read2"),
	}
	return c.Correct(in.num("reading"))
}

// hydrometer reads a hydrometer reading.
func hydrometer(in *inputs) dilution.Hydrometer {
	return dilution.Hydrometer{Reading: in.num("reading"), ZeroError: in.numOr("zero_error", 0),
		SampleTempC: in.num("sample_t_C"), CalTempC: in.num("cal_t_C")}
}

// beerReading is a hydrometer reading of a beer of known original gravity, by the
// ledger's step and by the correction that lists of readings show; they must
// agree.
func beerReading(in *inputs) (float64, error) {
	h := hydrometer(in)
	a := dilution.Account{Start: litreOfWort(in.num("og")), Steps: []dilution.Step{dilution.ReadGravity{
		SG: dilution.Exactly(h.Reading - h.ZeroError), TempC: new(dilution.Exactly(h.SampleTempC)), CalTempC: h.CalTempC}}}
	sg, err := at{1, dilution.QSG, false}.best(a)
	if err != nil {
		return 0, err
	}
	snaps, err := a.Run()
	if err != nil {
		return 0, err
	}
	listed, err := h.BeerSG(snaps[0].State)
	if d := listed - sg; d > 1e-9 || d < -1e-9 {
		err = errors.Join(err, errors.New("ledger and list correct the reading differently"))
	}
	return sg, err
}
