package dilution

// Plus returns the two states mixed: every mass and every total adds, and what
// is unknown of either is unknown of the mix. Volume, gravity and strength of
// the mix follow from the masses: mixing 10 L with 1 L of 60 % spirit gives 0.11 %
// less than 11 L. CO2 that leaves while stirring is not counted.
func (s State) Plus(o State) State {
	s.WaterKg += o.WaterKg
	s.EthanolKg += o.EthanolKg
	s.ExtractKg += o.ExtractKg
	s.UnfermentableKg += o.UnfermentableKg
	s.SpiritKg += o.SpiritKg
	s.IsoAlphaMg += o.IsoAlphaMg
	s.ColourSRML += o.ColourSRML
	s.CO2G += o.CO2G
	s.yieldKg += o.yieldKg
	s.Gaps |= o.Gaps
	return s
}

// scale returns the state with every mass and total multiplied by k: the same
// liquid, more or less of it.
func (s State) scale(k float64) State {
	s.WaterKg *= k
	s.EthanolKg *= k
	s.ExtractKg *= k
	s.UnfermentableKg *= k
	s.SpiritKg *= k
	s.IsoAlphaMg *= k
	s.ColourSRML *= k
	s.CO2G *= k
	s.yieldKg *= k
	return s
}

// rounding is the part of an amount that is forgiven, for volumes that were
// printed and typed again.
const rounding = 1e-9

// take returns the state cut down to volumeL litres at 20 C (a child batch, a
// jar, a glass). An *inputError is returned unless 0 < volumeL <= VolumeL.
func (s State) take(volumeL float64) (State, error) {
	if err := positive("volume taken in litres", volumeL); err != nil {
		return s, err
	}
	// a jar that takes all there is must not be refused for the last bit of a volume worked out twice
	if have := s.VolumeL(); volumeL > have*(1+rounding) {
		return s, tooMuch("volume taken in litres", volumeL, have)
	}
	return s.scale(volumeL / s.VolumeL()), nil
}

// loseVolume returns the state less volumeL litres of itself at 20 C (sample,
// trub, transfer). An *inputError is returned when more is lost than is there.
func (s State) loseVolume(volumeL float64) (State, error) {
	if err := notNegative("volume lost in litres", volumeL); err != nil {
		return s, err
	}
	have := s.VolumeL()
	// all of it is too much as well: an empty batch has no gravity, and every later step would divide
	// by nothing
	if volumeL >= have*(1-rounding) {
		return s, tooMuch("volume lost in litres", volumeL, have)
	}
	return s.scale(1 - volumeL/have), nil
}

// loseMass returns the state less massKg of the mixture, as pulp keeps back
// when it is lifted out: the volume changes, the composition does not. An
// *inputError is returned when more is lost than is there.
func (s State) loseMass(massKg float64) (State, error) {
	if err := notNegative("mass lost in kg", massKg); err != nil {
		return s, err
	}
	have := s.MassKg()
	// as for a volume, nothing may be left of nothing
	if massKg >= have*(1-rounding) {
		return s, tooMuch("mass lost in kg", massKg, have)
	}
	return s.scale(1 - massKg/have), nil
}

// evaporate returns the state less volumeL litres of water (at 20 C), as in a
// boil; everything dissolved stays, ethanol too, so it is for worts and for
// water standing open. An *inputError is returned when there is not that much
// water.
func (s State) evaporate(volumeL float64) (State, error) {
	if err := notNegative("evaporated water in litres", volumeL); err != nil {
		return s, err
	}
	// a reading is of cool water; what the boil drives off is a mass
	lost := volumeL * waterDensity20 / 1000
	if lost >= s.WaterKg {
		return s, tooMuch("evaporated water in litres", volumeL, 1000*s.WaterKg/waterDensity20)
	}
	s.WaterKg -= lost
	return s, nil
}

// tooMuch is the error for taking more than is there.
func tooMuch(what string, v, have float64) error {
	return &inputError{
		What:    what,
		Value:   v,
		Allowed: "is more than the " + number(have) + " there is",
		Hint:    "check the volumes entered before this one",
	}
}
