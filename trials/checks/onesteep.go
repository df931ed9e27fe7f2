package checks

import (
	"errors"
	"fmt"
	"math"

	"hedgerow/extraction"
	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// oneSteepQuantities are the quantities of the steep model that are told by their
// numbers alone. Each becomes a steep that has these numbers, Steep.Run works it
// out, and the figure is read off the result.
func oneSteepQuantities() map[string]evaluator {
	return map[string]evaluator{
		"arrhenius_factor":             arrheniusFactor,
		"equivalent_time":              equivalentTime,
		"reduced_time_newton":          reducedTimeNewton,
		"reduced_time_log":             reducedTimeLog,
		"wash_first_order":             washFirstOrder,
		"bath_fraction":                bathFraction,
		"wash_first_order_finite_bath": washFiniteBath,
		"steep_fraction_cooling":       steepFractionCooling,
		"pass_out_n":                   passOut,
		"pass_yield_total":             passYieldTotal,
		"pass_liquid_total":            passLiquidTotal,
		"survival_half_life":           survivalHalfLife,
		"as_dried_equivalent":          asDriedEquivalent,
		"fresh_to_dry_mass_ratio":      freshToDry,
		"effective_dose":               effectiveDose,
		"potency_posterior":            potencyPosterior,
		"potency_posterior_sdlog":      potencyPosteriorSD,
		"relative_potency":             relativePotency,
		"fieller_limit":                fiellerLimit,
	}
}

// aTea is a tea of 100 g of bone-dry cut material; a row changes what it is about.
func aTea(passes ...extraction.Pass) extraction.Steep {
	return extraction.Steep{Method: extraction.Tea, Form: extraction.Cut, MassG: 100, Moisture: new(0.0),
		Soluble: &extraction.SolubleFigure{}, Passes: passes}
}

// classWithEa is the solute class of an activation energy; no command takes another.
func classWithEa(eaKJ float64) (int, error) {
	for c, word := range trials.ClassNames {
		// equal to the last digit, or the row is about another program than this one
		if d, _ := extraction.DefaultFor("class." + word + ".ea"); d.Value == eaKJ {
			return c, nil
		}
	}
	return 0, fmt.Errorf("Ea_kJ of %v is that of no solute class", eaKJ)
}

// reducedMinutes runs one pass and returns its minutes at 80 C, by the activation
// energy of a solute class.
func reducedMinutes(in *inputs, p extraction.Pass) (float64, error) {
	class, err := classWithEa(in.num("Ea_kJ"))
	if err != nil {
		return 0, err
	}
	// stirred, so that no factor of agitation comes in
	p.VolumeML, p.Agitation = 1000, extraction.Stirred
	s := aTea(p)
	r, err := s.Run()
	if err != nil {
		return 0, err
	}
	return r.Passes[0].ReducedMinutes[class], nil
}

// arrheniusFactor is a minute at a temperature, in minutes at 80 C.
func arrheniusFactor(in *inputs) (float64, error) {
	return reducedMinutes(in, extraction.Pass{StartC: new(in.num("T_C")), Minutes: 1})
}

// equivalentTime is how long a steep at the second temperature takes for what one
// at the first gives: both have the same minutes at 80 C.
func equivalentTime(in *inputs) (float64, error) {
	first, err1 := reducedMinutes(in, extraction.Pass{StartC: new(in.num("T1_C")), Minutes: in.num("t1_min")})
	perMinute, err2 := reducedMinutes(in, extraction.Pass{StartC: new(in.num("T2_C")), Minutes: 1})
	return first / perMinute, errors.Join(err1, err2)
}

// reducedTimeNewton is a pass that cools at a known rate.
func reducedTimeNewton(in *inputs) (float64, error) {
	return reducedMinutes(in, extraction.Pass{StartC: new(in.num("T0_C")), AmbientC: new(in.num("Ta_C")),
		CoolingPerMin: new(in.num("h_per_min")), Minutes: in.num("t_min")})
}

// reducedTimeLog is a pass with a logged curve.
func reducedTimeLog(in *inputs) (float64, error) {
	temps, times := in.list("T_C"), in.list("t_min")
	if len(temps) != len(times) {
		return 0, fmt.Errorf("%d temperatures for %d times", len(temps), len(times))
	}
	var p extraction.Pass
	for i := range temps {
		p.Curve = append(p.Curve, figure.CurvePoint{Minutes: times[i], TempC: temps[i]})
	}
	return reducedMinutes(in, p)
}

// formWashing finds the form that gives up a share at once, with its rate at
// 80 C, in the list of defaults that the program prints.
func formWashing(washed float64) (extraction.Form, float64, error) {
	for _, f := range extraction.Forms() {
		w, _ := extraction.DefaultFor("form." + f.String() + ".washed")
		if w.Value == washed {
			k, _ := extraction.DefaultFor("form." + f.String() + ".k80")
			return f, k.Value, nil
		}
	}
	return 0, 0, fmt.Errorf("no form washes off a share of %v", washed)
}

// stirredPass is a pass at 80 C whose rate times time is k: stirred, so that the
// rate is that of the form.
func stirredPass(k, formRate float64) extraction.Pass {
	// a form without a rate gives all at once: the time does not matter, but there has to be one
	minutes := 1.0
	if formRate > 0 {
		minutes = k / formRate
	}
	return extraction.Pass{VolumeML: 1000, StartC: new(80.0), Minutes: minutes, Agitation: extraction.Stirred}
}

// dissolved runs a steep and returns the share of the water class that left the
// solids.
func dissolved(s extraction.Steep) (float64, error) {
	r, err := s.Run()
	return 1 - r.Left.Undissolved[extraction.Water], err
}

// washFirstOrder is what a stirred steep at 80 C dissolves.
func washFirstOrder(in *inputs) (float64, error) {
	form, rate, err := formWashing(in.num("w"))
	k := in.num("k_per_min") * in.num("tau_min")
	if err != nil {
		return 0, err
	}
	s := aTea(stirredPass(k, rate))
	s.Form = form
	return dissolved(s)
}

// readBath reads a bath of limited volume with sorption into a steep.
func readBath(in *inputs, s *extraction.Steep) {
	s.MassG, s.KappaMLPerG = in.num("m_g"), in.num("kappa_mL_per_g")
	s.Passes[0].VolumeML = in.num("V_mL")
}

// bathFraction is what is dissolved at equilibrium.
func bathFraction(in *inputs) (float64, error) {
	s := aTea(extraction.Pass{Efficiency: new(1.0)})
	readBath(in, &s)
	return dissolved(s)
}

// washFiniteBath is washFirstOrder in a bath of limited volume.
func washFiniteBath(in *inputs) (float64, error) {
	form, rate, err := formWashing(in.num("w"))
	if err != nil {
		return 0, err
	}
	s := aTea(stirredPass(in.num("k_per_min")*in.num("tau_min"), rate))
	s.Form = form
	readBath(in, &s)
	return dissolved(s)
}

// steepFractionCooling is what a cooling steep dissolves. The rate of the row is
// that of a form in some state of agitation.
func steepFractionCooling(in *inputs) (float64, error) {
	if err := in.only("Ea_kJ", extraction.EaKJ); err != nil {
		return 0, err
	}
	form, rate, err := formWashing(in.num("w"))
	if err != nil {
		return 0, err
	}
	agitations := map[string]extraction.Agitation{
		"agitation.stirred":      extraction.Stirred,
		"agitation.now-and-then": extraction.NowAndThen,
		"agitation.still-hot":    extraction.Still,
	}
	for key, agitation := range agitations {
		// the rate of the row is a product that was rounded
		if d, _ := extraction.DefaultFor(key); math.Abs(d.Value*rate-in.num("k80_per_min")) < 1e-12 {
			s := aTea(extraction.Pass{VolumeML: 1000, StartC: new(in.num("T0_C")), EndC: new(in.num("T1_C")),
				AmbientC: new(in.num("Ta_C")), Minutes: in.num("t_min"), Agitation: agitation})
			s.Form = form
			return dissolved(s)
		}
	}
	return 0, fmt.Errorf("no agitation gives a rate of %v", in.num("k80_per_min"))
}

// readPasses reads a series of passes and runs them. Held liquid that is the
// program's own default is left to the program.
func readPasses(in *inputs) (extraction.Result, error) {
	var passes []struct {
		VolumeML float64  `json:"V_mL"`
		HeldPerG float64  `json:"r_mL_per_g"`
		E        *float64 `json:"e"`
		KTau     *float64 `json:"ktau"`
	}
	in.must("passes", &passes)
	// Passes told by an efficiency begin with nothing dissolved, whatever the form
	// washes off: the share matters only beside a rate.
	form, rate, washed := extraction.Cut, 0.0, in.numOr("w", 0)
	if len(passes) > 0 && passes[0].KTau != nil {
		var err error
		if form, rate, err = formWashing(washed); err != nil {
			return extraction.Result{}, err
		}
	}
	s := extraction.Steep{Method: extraction.Tea, Form: form, MassG: in.num("m_dm_g"), Moisture: new(0.0),
		Kind: extraction.LeafFlower, Soluble: &extraction.SolubleFigure{},
		KappaMLPerG: in.numOr("kappa_mL_per_g", 0)}
	// liquid that is there before the first pass is to the program the water of the plant
	if own := in.numOr("H0_mL", 0) * waterKgPerL; own > 0 {
		s.MassG += own
		s.Moisture = new(own / s.MassG)
	}
	for _, p := range passes {
		pass := extraction.Pass{VolumeML: p.VolumeML, Efficiency: p.E}
		switch {
		case p.KTau != nil:
			pass = stirredPass(*p.KTau, rate)
			pass.VolumeML = p.VolumeML
		case p.E == nil:
			// told neither by rate nor by efficiency, a pass goes to equilibrium
			pass.Efficiency = new(1.0)
		}
		var err error
		if pass.Separation, err = separationHolding(p.HeldPerG, &s.Remembered); err != nil {
			return extraction.Result{}, err
		}
		s.Passes = append(s.Passes, pass)
	}
	return s.Run()
}

// separationHolding returns the separation whose published default is r mL per
// gram of dry matter, and leaves the figure to the program; any other figure is
// remembered as that of one separation.
func separationHolding(r float64, h *extraction.HeldFigures) (extraction.Separation, error) {
	switch {
	case r == extraction.LeafFlower.HeldMLPerG(extraction.Drained):
		return extraction.Drained, nil
	case r == extraction.LeafFlower.HeldMLPerG(extraction.Squeezed):
		return extraction.Squeezed, nil
	case h.ScrewPressed == nil || *h.ScrewPressed == r:
		h.ScrewPressed = &r
		return extraction.ScrewPressed, nil
	}
	return 0, fmt.Errorf("held liquid of %v mL/g is one figure too many", r)
}

// passOut is the yield of one pass.
func passOut(in *inputs) (float64, error) {
	n := int(in.num("n"))
	r, err := readPasses(in)
	if err != nil {
		return 0, err
	}
	if n < 1 || n > len(r.Passes) {
		return 0, fmt.Errorf("pass %d is not one of %d", n, len(r.Passes))
	}
	return r.Passes[n-1].Yield[extraction.Water], nil
}

// passYieldTotal is the yield of all passes.
func passYieldTotal(in *inputs) (float64, error) {
	r, err := readPasses(in)
	return r.Yield[extraction.Water], err
}

// passLiquidTotal is the liquid of all passes.
func passLiquidTotal(in *inputs) (float64, error) {
	r, err := readPasses(in)
	return r.ExtractML, err
}

// survivalHalfLife is what heat leaves of juice, in which all is dissolved from
// the start: aroma at a boil or in a hot stand, or colour at 100 C.
func survivalHalfLife(in *inputs) (float64, error) {
	half, minutes := in.num("half_life_min"), in.num("t_min")
	for _, way := range []struct {
		key    string
		method extraction.Method
		tempC  float64
		class  extraction.Class
	}{
		{"loss.aroma-boil", extraction.Boil, 100, extraction.Aroma},
		{"loss.aroma-hot", extraction.FlameOut, 90, extraction.Aroma},
		{"loss.colour-boil", extraction.Boil, 100, extraction.Colour},
	} {
		if d, _ := extraction.DefaultFor(way.key); d.Value != half {
			continue
		}
		s := extraction.Steep{Method: way.method, Form: extraction.Juice, MassG: 100, Moisture: new(0.9),
			Passes: []extraction.Pass{{StartC: &way.tempC, Minutes: minutes, Separation: extraction.LeftIn}}}
		r, err := s.Run()
		return r.Survival[way.class], err
	}
	return 0, fmt.Errorf("no class has a half-life of %v min", half)
}

// asDried is the mass at the reference moisture of a wet one.
func asDried(massG, moisture float64) (float64, error) {
	s := aTea(extraction.Pass{VolumeML: 1000, Efficiency: new(1.0)})
	s.MassG, s.Moisture = massG, &moisture
	r, err := s.Run()
	return r.AsDriedG, err
}

// asDriedEquivalent is a mass as dried.
func asDriedEquivalent(in *inputs) (float64, error) {
	if err := in.only("Mref", extraction.RefMoisture); err != nil {
		return 0, err
	}
	return asDried(in.num("mass_g"), in.num("M"))
}

// freshToDry is how much fresh material is a gram as dried.
func freshToDry(in *inputs) (float64, error) {
	if err := in.only("M_dry", extraction.RefMoisture); err != nil {
		return 0, err
	}
	dried, err := asDried(1, in.num("M_fresh"))
	return 1 / dried, err
}

// effectiveDose is the dose of an extract that is poured in part and diluted
// later. Yield and survival come in as what one equilibrium pass leaves behind,
// and a ceiling other than the program's as the potency of own trials.
func effectiveDose(in *inputs) (float64, error) {
	if err := in.only("Mref", extraction.RefMoisture); err != nil {
		return 0, err
	}
	const pouredML = 1000.0
	kept, massG, moisture := in.num("Y")*in.num("S"), in.num("m_g"), in.num("M")
	liquidML := pouredML + massG*moisture/waterKgPerL
	// of a pass at equilibrium just the share is lost that is held back
	s := aTea(extraction.Pass{VolumeML: pouredML, Efficiency: new(1.0), HeldML: new(liquidML * (1 - kept))})
	s.MassG, s.Moisture = massG, &moisture
	own := extraction.Water.Ceiling(0)
	// only the best value is read: the spread may be any
	s.OwnTrials[extraction.Water] = &extraction.LnNormal{Ln: math.Log(in.num("u") / own), SDLn: 1}
	r, err := s.Run()
	if err != nil {
		return 0, err
	}
	added := r.ExtractML * in.num("f_added")
	mixL := in.num("V_mix_L")
	m := extraction.Mix{IntoL: mixL - added/1000, AddedML: &added}
	if after := in.numOr("V_after_L", mixL); after != mixL {
		m.Later = []extraction.VolumeChange{{BeforeL: mixL, AfterL: after}}
	}
	d, err := r.Dose(m)
	return d.EffectiveGPerL[extraction.Water], err
}
