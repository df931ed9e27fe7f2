package dilution

// plainChecks are the quantities whose name has no dot: densities, strengths and
// gravities, masses and volumes, readings of instruments, gas and units. Each
// reads its inputs by the names that the check rows use and calls the exported
// function of this package; nothing is computed here.
func plainChecks() map[string]evaluator {
	return map[string]evaluator{
		"water_density": func(a *checkArgs) (float64, error) { return WaterDensity(a.num("t_C")) },
		"ethanol_water_density": func(a *checkArgs) (float64, error) {
			return EthanolWaterDensity(a.num("mass_frac"), a.num("t_C"))
		},
		"mass_frac_from_abv":      func(a *checkArgs) (float64, error) { return MassFractionFromABV(a.num("abv_pct")) },
		"abv_from_mass_frac":      func(a *checkArgs) (float64, error) { return ABVFromMassFraction(a.num("mass_frac")) },
		"density_at_20C_from_abv": densityOfABV,
		"sucrose_density": func(a *checkArgs) (float64, error) {
			return SucroseDensity(a.num("plato"), a.num("t_C"))
		},
		"sg_from_plato":       func(a *checkArgs) (float64, error) { return SGFromPlato(a.num("plato")) },
		"plato_from_sg":       func(a *checkArgs) (float64, error) { return PlatoFromSG(a.num("sg")) },
		"mix_volume_L":        mixVolume,
		"mix_sg20":            mixSG,
		"beer_abv":            func(a *checkArgs) (float64, error) { return a.beerFigure(State.ABVPct) },
		"beer_abw":            func(a *checkArgs) (float64, error) { return a.beerFigure(State.ABWPct) },
		"beer_real_extract":   func(a *checkArgs) (float64, error) { return a.beerFigure(State.RealExtractPct) },
		"nernst_slope":        func(a *checkArgs) (float64, error) { return NernstSlope(a.num("t_C")) },
		"phthalate_buffer_ph": func(a *checkArgs) (float64, error) { return PhthalatePH(a.num("t_C")) },
		"ph_two_point":        twoPoint,
		"co2_residual_volumes": func(a *checkArgs) (float64, error) {
			return ResidualCO2Volumes(Gas{TempC: a.num("t_C"), PressureBar: a.num("p_bar"), BeerFactor: a.num("beer_factor")})
		},
		"co2_equilibrium_pressure_abs": func(a *checkArgs) (float64, error) {
			return EquilibriumPressureBar(a.num("volumes"), Gas{TempC: a.num("t_C"), BeerFactor: a.num("beer_factor")})
		},
		"hydrometer_wort_sg20": func(a *checkArgs) (float64, error) { return a.hydrometer().WortSG() },
		"hydrometer_beer_sg20": beerReading,
		"unit_conversion": func(a *checkArgs) (float64, error) {
			return Convert(Conversion{Value: a.num("value"), From: a.text("frm"), To: a.text("to")})
		},
	}
}

// densityOfABV is the density in kg/m3 at 20 C of a spirit of abv_pct % vol, as
// the printed alcohol tables list it.
func densityOfABV(a *checkArgs) (float64, error) {
	p, err := MassFractionFromABV(a.num("abv_pct"))
	if err != nil {
		return 0, err
	}
	return EthanolWaterDensity(p, 20)
}

// masses reads a state given as component masses; ethanol and extract that are
// not named are none.
func (a *checkArgs) masses() (State, error) {
	s := State{
		WaterKg:   a.num("water_kg"),
		EthanolKg: a.numOr("ethanol_kg", 0),
		ExtractKg: a.numOr("extract_kg", 0),
	}
	return s, s.Check()
}

// mixVolume is the volume of component masses at a temperature.
func mixVolume(a *checkArgs) (float64, error) {
	s, err := a.masses()
	if err != nil {
		return 0, err
	}
	return s.VolumeAtL(a.num("t_C"))
}

// mixSG is the gravity 20/20 of component masses.
func mixSG(a *checkArgs) (float64, error) {
	s, err := a.masses()
	return s.SG(), err
}

// beerFigure is one figure of the beer between the gravities og and fg; being a
// concentration, it does not hang on the volume.
func (a *checkArgs) beerFigure(figure func(State) float64) (float64, error) {
	s, err := FromGravities(a.gravities(), 1)
	if err != nil {
		return 0, err
	}
	return figure(s), nil
}

// gravities reads og and fg.
func (a *checkArgs) gravities() Gravities {
	return Gravities{OG: a.num("og"), FG: a.num("fg")}
}

// twoPoint is the pH for a reading of a meter calibrated in two buffers.
func twoPoint(a *checkArgs) (float64, error) {
	c := PHCalibration{
		Buffer1: a.num("buffer1"),
		Read1:   a.num("read1"),
		Buffer2: a.num("buffer2"),
		Read2:   a.num("read2"),
	}
	return c.Correct(a.num("reading"))
}

// hydrometer reads a hydrometer reading.
func (a *checkArgs) hydrometer() Hydrometer {
	return Hydrometer{
		Reading:     a.num("reading"),
		ZeroError:   a.numOr("zero_error", 0),
		SampleTempC: a.num("sample_t_C"),
		CalTempC:    a.num("cal_t_C"),
	}
}

// beerReading is a hydrometer reading of a beer of known original gravity.
func beerReading(a *checkArgs) (float64, error) {
	s, err := Wort(a.num("og"), 1)
	if err != nil {
		return 0, err
	}
	return a.hydrometer().BeerSG(s)
}

// massCheck is one component mass in kg of V_L litres of beer between the
// gravities og and fg.
func massCheck(name string) (evaluator, bool) {
	pick, ok := map[string]func(State) float64{
		"water_kg":   func(s State) float64 { return s.WaterKg },
		"ethanol_kg": func(s State) float64 { return s.EthanolKg },
		"extract_kg": func(s State) float64 { return s.ExtractKg },
	}[name]
	return func(a *checkArgs) (float64, error) {
		s, err := FromGravities(a.gravities(), a.num("V_L"))
		if err != nil {
			return 0, err
		}
		return pick(s), nil
	}, ok
}
