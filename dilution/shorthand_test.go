package dilution

// The tests say in one call what a command says in the steps of an account; each
// of these wraps what a step calls.

// Wort returns volumeL litres (20 C) of unfermented wort of gravity og. How
// much of it ferments is not known. An *inputError is returned outside
// 0.97..1.20 or unless the volume is above zero.
func Wort(og, volumeL float64) (State, error) {
	err := firstError(checkSG("original gravity", og), positive("volume in litres", volumeL))
	if err != nil {
		return State{}, err
	}
	return wort(og).scaleTo(volumeL), nil
}

// Ferment returns the state after extractKg of its extract have fermented:
// E += f/2.0665, X -= f, W unchanged [4]. More than the extract that is there is
// an *inputError.
func (s State) Ferment(extractKg float64) (State, error) {
	if err := notNegative("extract fermented in kg", extractKg); err != nil {
		return s, err
	}
	if extractKg > s.ExtractKg*(1+rounding) {
		return s, tooMuch("extract fermented in kg", extractKg, s.ExtractKg)
	}
	return s.ferment(extractKg), nil
}

// FermentTo returns the state fermented, at its present equivalent original
// extract, until its gravity is sg. A gravity above the present one (noise,
// layering, gas) never un-ferments: the state comes back unchanged and rose is
// true. An *inputError is returned outside 0.97..1.20 and below the lowest
// gravity the extract can reach.
func (s State) FermentTo(sg float64) (after State, rose bool, err error) {
	if err := checkSG("gravity", sg); err != nil {
		return s, false, err
	}
	f := s.fermentedTo(&iso20, sg*waterDensity20)
	if f < 0 {
		// The same gravity typed twice differs only by rounding.
		return s, f < -rounding*s.MassKg(), nil
	}
	if f > s.ExtractKg*(1+rounding) {
		return s, false, tooLow(sg, s)
	}
	return s.ferment(f).settle(), false, nil
}

// EthanolWaterDensity returns the density in kg/m3 of a mixture with mass
// fraction p of ethanol (0..1) at tempC (-20..40 C), by the general formula
//
//	rho = A1 + sum A_k p^(k-1) + sum B_k (t-20)^k + sum sum C_ik p^k (t-20)^i
//
// of OIML R 22 [1]. Outside either range an *inputError is returned.
func EthanolWaterDensity(p, tempC float64) (float64, error) {
	err := firstError(
		within("mass fraction of ethanol", p, 0, 1, "give kg of ethanol per kg of mixture"),
		within("temperature", tempC, -20, maxEthanolTempC, "cool the liquid before measuring its volume"),
	)
	if err != nil {
		return 0, err
	}
	iso := isothermAt(tempC)
	return iso.ethanolWater(p), nil
}

// MassFractionFromABV returns the mass fraction p of ethanol in an
// ethanol-water mixture of abvPct per cent by volume at 20 C: the root of
// 100 p rho(p,20)/rho(1,20) = abvPct [1]. An *inputError is returned outside
// 0..100.
func MassFractionFromABV(abvPct float64) (float64, error) {
	if err := checkSpirit(abvPct); err != nil {
		return 0, err
	}
	return massFraction(abvPct / 100), nil
}

// ABVFromMassFraction returns the strength in per cent by volume at 20 C of a
// mixture with mass fraction p of ethanol: 100 p rho(p,20)/rho(1,20) [1].
// An *inputError is returned outside 0..1.
func ABVFromMassFraction(p float64) (float64, error) {
	if err := within("mass fraction of ethanol", p, 0, 1, "give kg of ethanol per kg of mixture"); err != nil {
		return 0, err
	}
	return 100 * p * iso20.ethanolWater(p) / ethanolDensity20, nil
}

// Portion returns the component masses, m = V rhoS(P/100, t), X = m P/100, W the
// rest. Acids and minerals of a juice make it about 0.001 denser than sucrose of
// the same extract (a must of 10 % is 1.0391 kg/L [15] against 1.0381); that is
// not in it. An *inputError is returned outside the ranges of the fields.
func (j juice) Portion() (State, error) {
	if err := j.check(); err != nil {
		return State{}, err
	}
	return j.portion(), nil
}

// Portion returns the component masses, each Extraction times MassKg times its
// share. The insoluble rest is not liquid; it takes headspace while it is in
// (see HeadspaceL) and keeps mixture back when it comes out (State.LoseMass).
//
// An *inputError is returned for shares outside 0..1 and for shares that make
// more than the whole.
func (f crushedFruit) Portion() (State, error) {
	if err := f.check(); err != nil {
		return State{}, err
	}
	return f.portion(), nil
}

// Weighed returns massKg of the sugar as a Fruit that dissolves whole and
// ferments whole.
func (s Sugar) Weighed(massKg float64) crushedFruit {
	return crushedFruit{
		MassKg:         massKg,
		Water:          s.Water,
		Sugar:          s.Sugar,
		Nonfermentable: s.Nonfermentable,
		Extraction:     1,
		Fermentability: 1,
	}
}

// IBU returns the bitterness in mg iso-alpha per litre; false when not known.
// Nothing is lost by solubility or on fruit in this figure.
func (s State) IBU() (float64, bool) { return s.perLitre(s.IsoAlphaMg, gapIBU) }

// SRM returns the colour, the litre-weighted mean of what was mixed (haze-free
// samples: absorbance is linear in concentration [14]); false when not known.
// The colour that fruit or flowers bring is not in it.
func (s State) SRM() (float64, bool) { return s.perLitre(s.ColourSRML, gapColour) }
