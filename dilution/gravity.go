package dilution

// Gravities are the two readings of a fermented beer, SG 20/20.
type Gravities struct {
	OG float64 // original gravity, of the wort
	FG float64 // final gravity, of the beer
}

// wort returns 1 kg of wort of gravity og, OE of extract and the rest water, with
// its passive solutes unknown.
func wort(og float64) State {
	oe := extractOfSG(og)
	return State{
		WaterKg:   1 - oe,
		ExtractKg: oe,
		Gaps:      gapIBU | gapColour | GapCO2 | gapFinalFG,
	}
}

// scaleTo returns the state scaled to volumeL litres at 20 C.
func (s State) scaleTo(volumeL float64) State {
	return s.scale(volumeL / s.VolumeL())
}

// FromGravities returns volumeL litres (20 C) of the beer that began at OG and
// has finished at FG: the root f of SG(W, f/2.0665, OE-f) = FG for 1 kg of
// wort, scaled to the volume. The extract left counts as unfermentable. The
// way back, OriginalSG and SG, returns OG and FG to 1e-12.
//
// An *inputError is returned for a gravity outside 0.97..1.20, FG above OG, FG
// below the lowest that OG can reach, and a volume that is not above zero.
func FromGravities(g Gravities, volumeL float64) (State, error) {
	if err := firstError(checkGravities(g), positive("volume in litres", volumeL)); err != nil {
		return State{}, err
	}
	s := wort(g.OG)
	// two equal gravities come out a rounding below zero
	f := max(0, s.fermentedTo(&iso20, g.FG*waterDensity20))
	if f > s.ExtractKg {
		return State{}, tooLow(g.FG, s)
	}
	return s.ferment(f).finished().scaleTo(volumeL), nil
}

// finished returns the state with all extract that is left known not to
// ferment.
func (s State) finished() State {
	s.UnfermentableKg = s.ExtractKg
	s.Gaps &^= gapFinalFG
	return s
}

// checkGravities returns an *inputError when a gravity is outside 0.97..1.20 or
// the final gravity is above the original one, with what that usually means.
func checkGravities(g Gravities) error {
	err := firstError(checkSG("original gravity", g.OG), checkSG("final gravity", g.FG))
	if err != nil {
		return err
	}
	if g.FG > g.OG {
		return &inputError{
			What:    "final gravity",
			Value:   g.FG,
			Allowed: "is above the original gravity " + number(g.OG),
			Hint:    "usually the two were swapped, or one was read from a warm or unmixed sample",
		}
	}
	return nil
}

// Label is a beer known by its printed strength and a gravity reading.
type Label struct {
	ABVPct float64 // strength, % vol at 20 C
	FG     float64 // present gravity, SG 20/20
}

// FromABV returns volumeL litres (20 C) of the beer with the given strength and
// gravity: per litre E = 7.892391 g times ABVPct, the mass from FG, and X so
// that the volume is one litre. The extract left counts as unfermentable.
//
// An *inputError is returned for a strength outside 0..20 % vol, a gravity
// outside 0.97..1.20, and a pair that would leave negative extract.
func FromABV(l Label, volumeL float64) (State, error) {
	err := firstError(
		within("strength in % vol", l.ABVPct, 0, 20, "give the strength of the beer; add a spirit as an addition"),
		checkSG("gravity", l.FG),
		positive("volume in litres", volumeL),
	)
	if err != nil {
		return State{}, err
	}
	s := fromABV(l)
	if s.ExtractKg < 0 {
		return State{}, &inputError{
			What:    "gravity",
			Value:   l.FG,
			Allowed: "is too low for " + number(l.ABVPct) + " % vol: it would leave less than no extract",
			Hint:    "check the reading and the printed strength",
		}
	}
	return s.finished().scaleTo(volumeL), nil
}

// fromABV returns one litre of the beer, passive solutes unknown, by Newton
// steps on the volume.
func fromABV(l Label) State {
	const litre = 0.001 // m3
	e := l.ABVPct / 100 * ethanolDensity20 * litre
	mass := l.FG * waterDensity20 * litre
	// 4 % of extract is an ordinary beer: a start from which every label converges
	x := 0.04 * mass
	for range 30 {
		v, dvde, dvdx := iso20.volumeSlopesM3(mass-e-x, e, x)
		// Extract displaces water at constant mass: dV/dX - dV/dW, and
		// dV/dW follows from V being homogeneous of degree one.
		dvdw := (v - e*dvde - x*dvdx) / (mass - e - x)
		step := (litre - v) / (dvdx - dvdw)
		x += step
		if step < newtonStep && step > -newtonStep {
			break
		}
	}
	return State{
		WaterKg:   mass - e - x,
		EthanolKg: e,
		ExtractKg: x,
		Gaps:      gapIBU | gapColour | GapCO2 | gapFinalFG,
	}
}
