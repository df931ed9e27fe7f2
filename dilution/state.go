package dilution

// gaps says what is not known of a state. The zero value means that all is
// known: plain water has no bitterness, and that is knowledge.
type gaps uint8

// The gaps a state can have.
const (
	gapIBU     gaps = 1 << iota // bitterness never given
	gapColour                   // colour never given
	GapCO2                      // dissolved CO2 never given
	gapFinalFG                  // how much of the extract ferments was never given
)

// State is the content of a batch, or of a portion added to one, in masses.
// States add: see Plus.
type State struct {
	WaterKg         float64 // W, water
	EthanolKg       float64 // E, ethanol, from fermentation and from spirit
	ExtractKg       float64 // X, dissolved extract of every kind
	UnfermentableKg float64 // the part of ExtractKg known not to ferment
	SpiritKg        float64 // the part of EthanolKg that came as spirit
	IsoAlphaMg      float64 // bitterness: IBU times litres at 20 C
	ColourSRML      float64 // colour: SRM times litres at 20 C
	CO2G            float64 // dissolved carbon dioxide
	yieldKg         float64 // the part of EthanolKg that moves with the yield of the yeast; see tied
	Gaps            gaps    // which of the above are not known
}

// MassKg returns the mass in kg, W + E + X. Dissolved CO2 and bitter acids are
// too little to count: 5 g and 0.03 g in a kilogram.
func (s State) MassKg() float64 { return s.WaterKg + s.EthanolKg + s.ExtractKg }

// empty reports whether there is nothing in the state. Figures per litre or per
// kg of nothing are given as 0, never as something that is not a number.
func (s State) empty() bool { return !(s.MassKg() > 0) }

// VolumeL returns the volume in litres at 20 C,
//
//	V = (E+W)/rhoEW(E/(E+W)) + (X+W)/rhoS(X/(X+W)) - W/rhoW
//
// rhoEW of [1], rhoS of [3]; 0 when empty. The excess volumes of the two
// binaries add: for E and X up to 10 % mass this agrees within 0.00013 of SG
// with Tabarie's relation, which lies within the scatter of measurements [17].
func (s State) VolumeL() float64 {
	return 1000 * iso20.volumeM3(s.WaterKg, s.EthanolKg, s.ExtractKg)
}

// VolumeAtL returns the volume in litres at tempC: 0..40 C with ethanol, to
// 100 C without. Outside an *inputError is returned.
func (s State) VolumeAtL(tempC float64) (float64, error) {
	hi := 100.0
	if s.EthanolKg != 0 {
		hi = maxEthanolTempC
	}
	if err := within("temperature", tempC, 0, hi, "cool a liquid with alcohol to 40 C or less"); err != nil {
		return 0, err
	}
	iso := isothermAt(tempC)
	return 1000 * iso.volumeM3(s.WaterKg, s.EthanolKg, s.ExtractKg), nil
}

// SG returns the specific gravity 20/20, mass / volume / rhoW(20); 0 when empty.
func (s State) SG() float64 {
	if s.empty() {
		return 0
	}
	return 1000 * s.MassKg() / s.VolumeL() / waterDensity20
}

// ABVPct returns the strength in per cent by volume at 20 C,
// 100 (E/789.2391)/V; 0 when empty.
func (s State) ABVPct() float64 {
	if s.empty() {
		return 0
	}
	return 100 * 1000 * s.EthanolKg / ethanolDensity20 / s.VolumeL()
}

// ABWPct returns the strength in per cent by mass, 100 E/(W+E+X); 0 when empty.
func (s State) ABWPct() float64 { return s.massPct(s.EthanolKg) }

// realExtractPct returns the real extract 100 X/(W+E+X) in per cent by mass;
// 0 when empty.
func (s State) realExtractPct() float64 { return s.massPct(s.ExtractKg) }

// massPct returns kg as a share of the whole in per cent.
func (s State) massPct(kg float64) float64 {
	if s.empty() {
		return 0
	}
	return 100 * kg / s.MassKg()
}

// originalPlato returns the original extract in per cent by mass that a wort
// would need to ferment to this state,
//
//	OE = 100 (X + 2.0665 E)/(W + X + E + 1.0665 E)
//
// [4]. After additions it is an equivalent; where ethanol came as spirit
// (SpiritKg above zero) it is nothing more, for that ethanol was never extract.
func (s State) originalPlato() float64 {
	if s.empty() {
		return 0
	}
	return 100 * (s.ExtractKg + extractPerEthanol*s.EthanolKg) / (s.MassKg() + lossPerEthanol*s.EthanolKg)
}

// OriginalSG returns the (equivalent) original gravity 20/20: the gravity of a
// wort of originalPlato; 0 when empty.
func (s State) OriginalSG() float64 {
	if s.empty() {
		return 0
	}
	return sgOfExtract(s.originalPlato() / 100)
}

// co2Volumes returns the dissolved CO2 in volumes (1 volume = 1.977 g/L);
// false when not known.
func (s State) co2Volumes() (float64, bool) {
	g, ok := s.perLitre(s.CO2G, GapCO2)
	return g / co2GramsPerVolume, ok
}

// fermentableKg returns the extract that is still to ferment, X less the part
// known not to; false when the final gravity was never given.
func (s State) fermentableKg() (float64, bool) {
	return max(0, s.ExtractKg-s.UnfermentableKg), s.Gaps&gapFinalFG == 0
}

// perLitre returns total per litre of state unless the gap says it is unknown.
func (s State) perLitre(total float64, gap gaps) (float64, bool) {
	if s.Gaps&gap != 0 || s.empty() {
		return 0, false
	}
	return total / s.VolumeL(), true
}

// withIBU returns the state with its bitterness set to ibu (mg iso-alpha acids
// per litre): from here on ibu times the volume is conserved.
func (s State) withIBU(ibu float64) State {
	s.IsoAlphaMg = ibu * s.VolumeL()
	s.Gaps &^= gapIBU
	return s
}

// withSRM returns the state with its colour set to srm: from here on srm times
// the volume is conserved, for absorbances of a haze-free beer add [14].
func (s State) withSRM(srm float64) State {
	s.ColourSRML = srm * s.VolumeL()
	s.Gaps &^= gapColour
	return s
}

// WithCO2Volumes returns the state with its dissolved CO2 set, in volumes.
func (s State) WithCO2Volumes(volumes float64) State {
	s.CO2G = volumes * co2GramsPerVolume * s.VolumeL()
	s.Gaps &^= GapCO2
	return s
}
