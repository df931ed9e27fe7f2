package extraction

import (
	"encoding/json"
	"math"
)

// quantityRow ties the name in a check row to the function behind it.
type quantityRow struct {
	name    string
	compute func(*inputSet) (float64, error)
}

// quantities are all check quantities, in the order of the science.
var quantities = [...]quantityRow{
	{"arrhenius_factor", arrheniusFactor},
	{"rate_at_T", rateAtT},
	{"ea_from_two_rates", eaFromTwoRates},
	{"equivalent_time", equivalentTime},
	{"first_order_fraction", firstOrderFraction},
	{"half_time", halfTime},
	{"spiro_k_two_points", spiroK},
	{"spiro_a_two_points", spiroA},
	{"wash_from_spiro_a", washFromSpiro},
	{"size_scaled_rate", sizeScaledRate},
	{"wash_first_order", washFirstOrder},
	{"bath_fraction", bathFractionRow},
	{"wash_first_order_finite_bath", washFiniteBath},
	{"crank_slab", crankSlab},
	{"crank_cylinder", crankCylinder},
	{"crank_sphere", crankSphere},
	{"crank_limited_slab", limitedSlab},
	{"crank_limited_cylinder", limitedCylinder},
	{"crank_limited_sphere", limitedSphere},
	{"short_time_sqrt", shortTime},
	{"fo_for_fraction", foForFraction},
	{"fourier_number", fourierNumber},
	{"newton_h", newtonH},
	{"newton_T", newtonT},
	{"reduced_time_newton", reducedTimeNewton},
	{"reduced_time_log", reducedTimeLog},
	{"steep_fraction_cooling", steepFractionCooling},
	{"pass_out_n", passOut},
	{"pass_yield_total", passYieldTotal},
	{"pass_liquid_total", passLiquidTotal},
	{"pass_yield_closed", passYieldClosed},
	{"extract_with_loss", extractWithLoss},
	{"survival_half_life", survivalHalfLife},
	{"air_water_partition", airWater},
	{"relative_volatility_100C", relativeVolatility},
	{"rayleigh_survival", rayleighSurvival},
	{"as_dried_equivalent", asDriedEquivalent},
	{"fresh_to_dry_mass_ratio", freshToDry},
	{"cosolvent_factor", cosolventFactor},
	{"effective_dose", effectiveDoseRow},
	{"rate_sdlog", rateSDLog},
	{"fraction_quantile", fractionQuantile},
	{"potency_posterior", potencyPosterior},
	{"potency_posterior_sdlog", potencyPosteriorSD},
	{"relative_potency", relativePotency},
	{"fieller_limit", fiellerLimit},
}

// arrheniusFactor: theta = exp(-(Ea/R)(1/T - 1/353.15)).
func arrheniusFactor(in *inputSet) (float64, error) {
	return Arrhenius{in.num("Ea_kJ")}.Factor(in.num("T_C"))
}

// rateAtT: k(T) = k_ref theta(T).
func rateAtT(in *inputSet) (float64, error) {
	k := in.num("kref_per_min")
	f, err := Arrhenius{in.num("Ea_kJ")}.Factor(in.num("T_C"))
	return k * f, firstError(err, checkNotNegative("rate", k, "/min"))
}

// eaFromTwoRates: Ea = R ln(k2/k1)/(1/T1 - 1/T2).
func eaFromTwoRates(in *inputSet) (float64, error) {
	law, err := TwoRates{T1C: in.num("T1_C"), K1: in.num("k1"), T2C: in.num("T2_C"), K2: in.num("k2")}.Activation()
	return law.EaKJ, err
}

// equivalentTime: t2 = t1 theta(T1)/theta(T2).
func equivalentTime(in *inputSet) (float64, error) {
	law, t1 := Arrhenius{in.num("Ea_kJ")}, in.num("t1_min")
	from, err1 := law.Factor(in.num("T1_C"))
	to, err2 := law.Factor(in.num("T2_C"))
	return t1 * from / to, firstError(err1, err2, checkNotNegative("time", t1, "min"))
}

// firstOrderFraction: F = 1 - exp(-k t).
func firstOrderFraction(in *inputSet) (float64, error) {
	k, t := in.num("k_per_min"), in.num("t_min")
	return FirstOrder(k * t), firstError(checkNotNegative("rate", k, "/min"), checkNotNegative("time", t, "min"))
}

// halfTime: t_half = ln 2/k.
func halfTime(in *inputSet) (float64, error) {
	k := in.num("k_per_min")
	return math.Ln2 / k, checkPositive("rate", k, "/min")
}

// spiroLine reads the two points of a Spiro-Jago line.
func spiroLine(in *inputSet) (k, a float64, err error) {
	return SpiroPoints{F1: in.num("F1"), T1Min: in.num("t1_min"), F2: in.num("F2"), T2Min: in.num("t2_min")}.Line()
}

// spiroK: the slope of ln(1/(1-F)) over t.
func spiroK(in *inputSet) (float64, error) {
	k, _, err := spiroLine(in)
	return k, err
}

// spiroA: the intercept of ln(1/(1-F)) over t.
func spiroA(in *inputSet) (float64, error) {
	_, a, err := spiroLine(in)
	return a, err
}

// washFromSpiro: w = 1 - exp(-a), 0 for a start lag.
func washFromSpiro(in *inputSet) (float64, error) { return WashedFromIntercept(in.num("a")), nil }

// sizeScaledRate: k = k_ref (L_ref/L)^m.
func sizeScaledRate(in *inputSet) (float64, error) {
	law := SizeLaw{RefMM: in.num("Lref_mm"), Exponent: in.num("m")}
	return law.Rate(in.num("k_per_min"), in.num("L_mm"))
}

// rateTime reads a rate and a reduced time and returns their product K.
func rateTime(in *inputSet, rate string) (float64, error) {
	k, tau := in.num(rate), in.num("tau_min")
	return k * tau, firstError(checkNotNegative("rate", k, "/min"), checkNotNegative("reduced time", tau, "min"))
}

// washFirstOrder: X = w + (1-w)(1 - exp(-k tau)).
func washFirstOrder(in *inputSet) (float64, error) {
	k, err := rateTime(in, "k_per_min")
	x, err2 := Release{in.num("w")}.Share(k)
	return x, firstError(err, err2)
}

// readBath reads a finite bath.
func readBath(in *inputSet) Bath {
	return Bath{VolumeML: in.num("V_mL"), DryG: in.num("m_g"), KappaMLPerG: in.num("kappa_mL_per_g")}
}

// bathFractionRow: phi = V/(V + kappa m).
func bathFractionRow(in *inputSet) (float64, error) { return readBath(in).Fraction() }

// washFiniteBath: X = phi - (phi - w) exp(-k tau/phi).
func washFiniteBath(in *inputSet) (float64, error) {
	w := in.num("w")
	phi, err := readBath(in).Fraction()
	k, err2 := rateTime(in, "k_per_min")
	if err := firstError(err, err2, checkShare("washed share", w)); err != nil {
		return 0, err
	}
	return pot{1 - w, w}.release(k, 0, phi).dissolved, nil
}

// crankSlab: M_t/M_inf of a plane sheet.
func crankSlab(in *inputSet) (float64, error) { return Slab.Diffused(in.num("Fo")) }

// crankCylinder: M_t/M_inf of a cylinder.
func crankCylinder(in *inputSet) (float64, error) { return Cylinder.Diffused(in.num("Fo")) }

// crankSphere: M_t/M_inf of a sphere.
func crankSphere(in *inputSet) (float64, error) { return Sphere.Diffused(in.num("Fo")) }

// readLimited reads a bath of limited volume.
func readLimited(in *inputSet) LimitedBath {
	return LimitedBath{Fo: in.num("Fo"), Alpha: in.num("alpha")}
}

// limitedSlab: M_t/M_inf of a plane sheet in a limited bath.
func limitedSlab(in *inputSet) (float64, error) { return Slab.DiffusedLimited(readLimited(in)) }

// limitedCylinder: M_t/M_inf of a cylinder in a limited bath.
func limitedCylinder(in *inputSet) (float64, error) { return Cylinder.DiffusedLimited(readLimited(in)) }

// limitedSphere: M_t/M_inf of a sphere in a limited bath.
func limitedSphere(in *inputSet) (float64, error) { return Sphere.DiffusedLimited(readLimited(in)) }

// shortTime: 2, 4 or 6 sqrt(Fo/pi).
func shortTime(in *inputSet) (float64, error) {
	fo := in.num("Fo")
	shape, err := ParseShape(in.word("kind"))
	if err != nil {
		return 0, err
	}
	return shape.EarlyDiffused(fo)
}

// foForFraction: Fo at which a share F is out.
func foForFraction(in *inputSet) (float64, error) {
	f := in.num("F")
	shape, err := ParseShape(in.word("kind"))
	if err != nil {
		return 0, err
	}
	return shape.FourierFor(f)
}

// fourierNumber: Fo = D t/l^2.
func fourierNumber(in *inputSet) (float64, error) {
	return Diffusion{DM2PerS: in.num("D_m2_per_s"), LengthMM: in.num("l_mm"), Minutes: in.num("t_min")}.Fourier()
}

// readSpan reads a steep known by its end temperatures.
func readSpan(in *inputSet) CoolingSpan {
	return CoolingSpan{StartC: in.num("T0_C"), EndC: in.num("T1_C"), AmbientC: in.num("Ta_C"), Minutes: in.num("t_min")}
}

// newtonH: h = ln((T0-Ta)/(T1-Ta))/t.
func newtonH(in *inputSet) (float64, error) {
	c, err := readSpan(in).Cooling()
	return c.PerMin, err
}

// readCooling reads Newton's law with its constant given.
func readCooling(in *inputSet) Cooling {
	return Cooling{StartC: in.num("T0_C"), AmbientC: in.num("Ta_C"), PerMin: in.num("h_per_min")}
}

// newtonT: T = Ta + (T0-Ta) exp(-h t).
func newtonT(in *inputSet) (float64, error) {
	c, t := readCooling(in), in.num("t_min")
	return c.At(t), firstError(checkTemp("start temperature", c.StartC), checkTemp("ambient temperature", c.AmbientC),
		checkNotNegative("time", t, "min"))
}

// reducedTimeNewton: tau, the integral of theta over Newton's law.
func reducedTimeNewton(in *inputSet) (float64, error) {
	return Arrhenius{in.num("Ea_kJ")}.ReducedMinutes(readCooling(in), in.num("t_min"))
}

// reducedTimeLog: tau over a logged curve, straight between its readings.
func reducedTimeLog(in *inputSet) (float64, error) {
	law, temps, times := Arrhenius{in.num("Ea_kJ")}, in.list("T_C"), in.list("t_min")
	if len(temps) != len(times) {
		return 0, refuse("give one temperature for each time", "%d temperatures for %d times", len(temps), len(times))
	}
	curve := make([]CurvePoint, len(temps))
	for i := range curve {
		curve[i] = CurvePoint{Minutes: times[i], TempC: temps[i]}
	}
	return law.ReducedMinutesCurve(curve)
}

// steepFractionCooling: X = w + (1-w)(1 - exp(-k80 tau)) with tau over a steep that cools.
func steepFractionCooling(in *inputSet) (float64, error) {
	law, span := Arrhenius{in.num("Ea_kJ")}, readSpan(in)
	k, w := in.num("k80_per_min"), in.num("w")
	c, err := span.Cooling()
	if err := firstError(err, checkNotNegative("rate", k, "/min")); err != nil {
		return 0, err
	}
	tau, err := law.ReducedMinutes(c, span.Minutes)
	if err != nil {
		return 0, err
	}
	return Release{w}.Share(k * tau)
}

// readTrain reads a series of passes; liquidOnly needs no efficiency.
func readTrain(in *inputSet, liquidOnly bool) Train {
	t := Train{DryG: in.num("m_dm_g"), OwnWaterML: in.opt("H0_mL", 0),
		KappaMLPerG: in.opt("kappa_mL_per_g", 0), Washed: in.opt("w", 0)}
	var passes []json.RawMessage
	in.must("passes", in.read("passes", &passes))
	for _, raw := range passes {
		one := inputSet{used: map[string]bool{}}
		if err := json.Unmarshal(raw, &one.values); err != nil {
			in.errs = append(in.errs, refuse("write a pass as an object", "pass %s is not an object", string(raw)))
			continue
		}
		stage := Stage{VolumeML: one.num("V_mL"), HeldMLPerG: one.num("r_mL_per_g"),
			Efficiency: one.optional("e"), RateTime: one.optional("ktau")}
		if liquidOnly && stage.Efficiency == nil && stage.RateTime == nil {
			stage.Efficiency = new(float64)
		}
		t.Stages = append(t.Stages, stage)
		in.errs = append(in.errs, one.problems()...)
	}
	return t
}

// optional returns a number that may be left out, nil when it is.
func (in *inputSet) optional(name string) *float64 {
	var v float64
	if !in.read(name, &v) {
		return nil
	}
	return &v
}

// passOut: the yield of pass n.
func passOut(in *inputSet) (float64, error) {
	n := in.num("n")
	results, err := readTrain(in, false).Run()
	if err != nil {
		return 0, err
	}
	if n != math.Trunc(n) || n < 1 || n > float64(len(results)) {
		return 0, refuse("count passes from 1", "pass %s is not one of %d", number(n), len(results))
	}
	return results[int(n)-1].Yield, nil
}

// passYieldTotal: the yield of all passes.
func passYieldTotal(in *inputSet) (float64, error) {
	results, err := readTrain(in, false).Run()
	total := 0.0
	for _, r := range results {
		total += r.Yield
	}
	return total, err
}

// passLiquidTotal: the liquid of all passes.
func passLiquidTotal(in *inputSet) (float64, error) {
	results, err := readTrain(in, true).Run()
	total := 0.0
	for _, r := range results {
		total += r.OutML
	}
	return total, err
}

// passYieldClosed: the closed form of equal passes.
func passYieldClosed(in *inputSet) (float64, error) {
	n := in.num("n")
	if n != math.Trunc(n) || math.Abs(n) > 1e6 {
		return 0, refuse("give a whole number", "%s passes is not a whole number", number(n))
	}
	return EqualPasses{Efficiency: in.num("e"), HeldRatio: in.num("rho"), Passes: int(n)}.Yield()
}

// extractWithLoss: A(t), released and not yet lost.
func extractWithLoss(in *inputSet) (float64, error) {
	return Fading{Washed: in.num("w"), KPerMin: in.num("k_per_min"), LossPerMin: in.num("kv_per_min")}.Present(in.num("t_min"))
}

// survivalHalfLife: S = 2^(-t/t_half).
func survivalHalfLife(in *inputSet) (float64, error) {
	return HalfLife{in.num("half_life_min")}.Survival(in.num("t_min"))
}

// airWater: K_aw = 1/(H R T).
func airWater(in *inputSet) (float64, error) {
	return Henry{MolPerM3Pa: in.num("Hcp_mol_m3Pa")}.AirWater(in.num("T_C"))
}

// relativeVolatility: alpha = c_water/H(100 C)/101325.
func relativeVolatility(in *inputSet) (float64, error) {
	return Henry{MolPerM3Pa: in.num("Hcp298_mol_m3Pa"), SlopeK: in.num("dlnH_K")}.RelativeVolatility()
}

// rayleighSurvival: (V1/V0)^alpha.
func rayleighSurvival(in *inputSet) (float64, error) {
	return BoilDown{BeforeL: in.num("V0_L"), AfterL: in.num("V1_L"), RelativeVolatility: in.num("alpha")}.Survival()
}

// asDriedEquivalent: m_eq = m (1-M)/(1-M_ref).
func asDriedEquivalent(in *inputSet) (float64, error) {
	return WetMass{MassG: in.num("mass_g"), Moisture: in.num("M")}.AsDried(in.num("Mref"))
}

// freshToDry: g of fresh material per g of dried, (1-M_dry)/(1-M_fresh).
func freshToDry(in *inputSet) (float64, error) {
	dry, err := WetMass{MassG: 1, Moisture: in.num("M_fresh")}.AsDried(in.num("M_dry"))
	return 1 / dry, err
}

// cosolventFactor: 10^((0.95 logKow + 0.30) f).
func cosolventFactor(in *inputSet) (float64, error) {
	return Cosolvent{LogKow: in.num("logKow"), Ethanol: in.num("f_ethanol")}.Factor()
}

// effectiveDoseRow: ED = m_eq u Y S f/V_mix * V_mix/V_after; V_after may be left out.
func effectiveDoseRow(in *inputSet) (float64, error) {
	mixL := in.num("V_mix_L")
	return DoseTerms{Mass: WetMass{in.num("m_g"), in.num("M")}, RefMoisture: in.num("Mref"), Ceiling: in.num("u"),
		Yield: in.num("Y"), Survival: in.num("S"), Added: in.num("f_added"), MixL: mixL, AfterL: in.opt("V_after_L", mixL)}.PerL()
}

// rateSDLog: sd of ln k at a temperature.
func rateSDLog(in *inputSet) (float64, error) {
	return RateSpread{SoluteSDLn: in.num("s_solute"), SizeSDLn: in.num("s_size"), AgitationSDLn: in.num("s_agit"),
		EaSDKJ: in.num("sEa_kJ")}.SDLn(in.num("T_C"))
}

// fractionQuantile: X with the rate at normal score z.
func fractionQuantile(in *inputSet) (float64, error) {
	k, err := rateTime(in, "k_per_min")
	x, err2 := ReleaseQuantile{Washed: in.num("w"), RateTime: k, SDLn: in.num("sdlog"), Z: in.num("z")}.Share()
	return x, firstError(err, err2)
}

// potencyPosterior: R = exp of the precision-weighted mean of ln R.
func potencyPosterior(in *inputSet) (float64, error) {
	p, err := LnNormal{in.num("prior_ln"), in.num("prior_sd")}.Combine(LnNormal{in.num("est_ln"), in.num("est_se")})
	return math.Exp(p.Ln), err
}

// potencyPosteriorSD: sd of the same.
func potencyPosteriorSD(in *inputSet) (float64, error) {
	p, err := LnNormal{0, in.num("prior_sd")}.Combine(LnNormal{0, in.num("est_se")})
	return p.SDLn, err
}

// relativePotency: R = 10^((a_test - a_ref)/b).
func relativePotency(in *inputSet) (float64, error) {
	return ParallelLines{ATest: in.num("a_test"), ARef: in.num("a_ref"), B: in.num("b_log10")}.RelativePotency()
}

// fiellerLimit: one limit of d/b by Fieller; side is lo or hi.
func fiellerLimit(in *inputSet) (float64, error) {
	low, high, err := Ratio{D: in.num("d"), SDD: in.num("s_d"), B: in.num("b"), SDB: in.num("s_b"), T: in.num("t")}.Fieller()
	switch side := in.word("side"); {
	case err != nil:
		return 0, err
	case side == "lo":
		return low, nil
	case side == "hi":
		return high, nil
	default:
		return 0, unknownWord("side", side, []string{"lo", "hi"})
	}
}
