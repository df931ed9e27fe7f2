package dilution

import "errors"

// Start is how a batch, or a beer to blend in, begins. Either OG or ABVPct is
// given; with ABVPct, NowSG must be too.
//
// With OG alone the batch is unfermented wort until a gravity is read. With
// NowSG it is the beer that has fermented from OG to there, and VolumeL is its
// volume, not that of the wort it came from (0.3 % more).
//
// FinalSG is the gravity the base is expected to reach: it fixes how much of
// the extract does not ferment, once and for all, whatever is added later.
// Without it, and unless Finished, that is not known, and neither is the gas
// still to come.
type Start struct {
	VolumeL     Input  // liquid as it is now
	VolumeTempC *Input // temperature at which VolumeL was measured; nil: 20 C
	OG          *Input // original gravity, SG 20/20
	ABVPct      *Input // printed strength, % vol, where OG is not known
	NowSG       *Input // gravity now, SG 20/20; nil: not fermented yet
	FinalSG     *Input // expected final gravity; nil: not known
	Finished    bool   // NowSG is the final gravity
	IBU         *Input // bitterness, mg/L
	SRM         *Input // colour
	CO2Volumes  *Input // dissolved CO2, volumes
}

// Places of the figures in Start.inputs.
const (
	inVolume = iota
	inVolumeTemp
	inOrigin // OG or ABVPct
	inNow
	inFinal
	inIBU
	inSRM
	inCO2
	startInputs
)

func (s Start) inputs() []Input {
	// one place for either, so that the order of inputs is the same for both kinds of start
	origin := orElse(s.OG, 1)
	if s.OG == nil {
		origin = orElse(s.ABVPct, 0)
	}
	in := make([]Input, startInputs)
	in[inVolume] = s.VolumeL
	in[inVolumeTemp] = orElse(s.VolumeTempC, 20)
	in[inOrigin] = origin
	in[inNow] = orElse(s.NowSG, 1)
	in[inFinal] = orElse(s.FinalSG, 1)
	in[inIBU] = orElse(s.IBU, 0)
	in[inSRM] = orElse(s.SRM, 0)
	in[inCO2] = orElse(s.CO2Volumes, 0)
	return in
}

// check validates the best values.
func (s Start) check() error {
	err := firstError(
		positive("volume in litres", s.VolumeL.Value),
		within("temperature of the batch", orElse(s.VolumeTempC, 20).Value, 0, s.maxTempC(),
			"measure a hot volume before there is alcohol, or cool it to 40 C"),
		notNegative("IBU", orElse(s.IBU, 0).Value),
		notNegative("SRM", orElse(s.SRM, 0).Value),
		notNegative("CO2 in volumes", orElse(s.CO2Volumes, 0).Value),
	)
	if err != nil {
		return err
	}
	if s.OG == nil {
		return s.checkLabel()
	}
	return s.checkGravities()
}

// maxTempC is the hottest a volume may be measured at: wort to 100 C, beer to
// 40 C.
func (s Start) maxTempC() float64 {
	if s.OG != nil && s.NowSG == nil {
		return 100
	}
	return maxEthanolTempC
}

// checkLabel validates a start from printed strength and gravity.
func (s Start) checkLabel() error {
	if s.ABVPct == nil || s.NowSG == nil {
		return errors.New("original gravity is missing; give it, or the strength together with the present gravity")
	}
	// made and thrown away, so that a label is refused here in the words that refuse it anywhere
	_, err := FromABV(Label{ABVPct: s.ABVPct.Value, FG: s.NowSG.Value}, s.VolumeL.Value)
	return err
}

// checkGravities validates a start from gravities.
func (s Start) checkGravities() error {
	if err := checkSG("original gravity", s.OG.Value); err != nil {
		return err
	}
	if s.NowSG != nil {
		if _, err := FromGravities(Gravities{OG: s.OG.Value, FG: s.NowSG.Value}, s.VolumeL.Value); err != nil {
			return err
		}
	}
	if s.FinalSG != nil {
		if _, err := FromGravities(Gravities{OG: s.OG.Value, FG: s.FinalSG.Value}, s.VolumeL.Value); err != nil {
			return err
		}
	}
	return nil
}

// state returns the masses for values in the order of inputs: 1 kg of wort, or
// 1 L of a beer known by its label, scaled to the volume.
func (s Start) state(x []float64) State {
	var b State
	if s.OG == nil {
		b = fromABV(Label{ABVPct: max(x[inOrigin], 0), FG: x[inNow]})
	} else {
		b = s.fermented(x)
	}
	if s.Finished {
		b = b.finished()
	}
	// a draw of no volume would have no gravity
	volume := max(x[inVolume], smallestShare*s.VolumeL.Value)
	b = b.scale(volume / 1000 / b.volumeAtM3(clampTemp(x[inVolumeTemp], s.maxTempC())))
	return s.dissolve(b, x)
}

// bestState is state for the best values: where the gravity now was read, it ties
// the yield.
func (s Start) bestState(x []float64) State {
	b := s.state(x)
	if s.OG != nil && s.NowSG != nil {
		b = b.tied()
	}
	return b
}

// fermented returns 1 kg of wort fermented to the present gravity, with its
// unfermentable part when the final gravity is given: both gravities are
// reached from the same original extract.
func (s Start) fermented(x []float64) State {
	b := wort(x[inOrigin])
	if s.FinalSG != nil {
		f := b.fermentedTo(&iso20, x[inFinal]*waterDensity20)
		// a final gravity drawn above the original one leaves all of it unfermentable, not more
		b.UnfermentableKg = min(max(b.ExtractKg-f, 0), b.ExtractKg)
		b.Gaps &^= gapFinalFG
	}
	if s.NowSG != nil {
		f := b.fermentedTo(&iso20, x[inNow]*waterDensity20)
		b = b.ferment(f).settle()
	}
	return b
}

// dissolve sets the passive totals that are given; the others stay unknown.
func (s Start) dissolve(b State, x []float64) State {
	if s.IBU != nil {
		b = b.withIBU(max(x[inIBU], 0))
	}
	if s.SRM != nil {
		b = b.withSRM(max(x[inSRM], 0))
	}
	if s.CO2Volumes != nil {
		b = b.WithCO2Volumes(max(x[inCO2], 0))
	}
	return b
}

// volumeAtM3 is VolumeAtL in m3 without the check.
func (s State) volumeAtM3(tempC float64) float64 {
	if tempC == 20 {
		return iso20.volumeM3(s.WaterKg, s.EthanolKg, s.ExtractKg)
	}
	iso := isothermAt(tempC)
	return iso.volumeM3(s.WaterKg, s.EthanolKg, s.ExtractKg)
}
