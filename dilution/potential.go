package dilution

// Stoichiometric bounds of the CO2 from 1 g of sugar, all of it to ethanol and
// CO2: no yeast grows. Molar masses of IUPAC.
const (
	CO2PerHexose       = glucoseCO2 // 0.4886 g/g
	CO2PerDisaccharide = sucroseCO2 // 0.5143 g/g, sucrose or maltose
)

// CO2ToCome is the gas that sugar left in a closed package will make, beside
// what is dissolved already, per litre of the beer when it has fermented out.
type CO2ToCome struct {
	ExpectedGPerL   float64 // by Balling, 0.4629 g per g of extract
	ExpectedVolumes float64
	UpperGPerL      float64 // bound for disaccharides; use it for safety
	UpperVolumes    float64
}

// CO2ToCome returns the gas from the extract that is known to ferment still, g =
// 0.4629 (expected) or 0.5143 (at most) times the extract, over the volume at the
// end; false when that extract is not known, or the state is empty. Each 0.001 of
// gravity that is left to ferment is about 0.50 volumes, at most 0.56. A sugar
// ferments to 0.4839 g of ethanol per g by Balling, 0.469 by OIV [15], 0.511 or
// 0.538 in theory (glucose, sucrose): about 4 % of doubt.
func (s State) CO2ToCome() (CO2ToCome, bool) {
	left, _ := s.fermentableKg()
	end, ok := s.Finish()
	if !ok || s.empty() {
		return CO2ToCome{}, false
	}
	sugar := 1000 * left / end.VolumeL()
	return CO2ToCome{
		ExpectedGPerL:   CO2PerExtract * sugar,
		ExpectedVolumes: CO2PerExtract * sugar / co2GramsPerVolume,
		UpperGPerL:      CO2PerDisaccharide * sugar,
		UpperVolumes:    CO2PerDisaccharide * sugar / co2GramsPerVolume,
	}, true
}

// equilibriumPressureBar returns the absolute CO2 pressure in bar over a beer
// with volumes of CO2 at the temperature, p = volumes 1.977/(f S) [8]; the
// PressureBar of g is not used. No safe limit is known to this package: compare
// with the rating of the container. An *inputError is returned outside the
// ranges of Gas and for negative volumes.
func equilibriumPressureBar(volumes float64, g gas) (float64, error) {
	g.PressureBar = barPerAtm
	if err := firstError(notNegative("CO2 in volumes", volumes), g.check()); err != nil {
		return 0, err
	}
	return volumes * co2GramsPerVolume / (g.BeerFactor * co2Solubility(g.TempC)), nil
}

// Packaging is a beer about to be closed in.
type Packaging struct {
	Beer      State
	WarmestC  float64  // highest temperature since active fermentation ended; used when the beer's CO2 is not known
	StorageC  float64  // highest temperature the package will see, 0..40 C
	RatingBar *float64 // what the container is rated for, bar above the air; nil: not known
}

// packagePressure is what may come of it. Headspace is not counted: it takes
// up gas and lowers the pressure a little.
type packagePressure struct {
	ResidualVolumes float64   // dissolved when closed, an upper limit
	ToCome          CO2ToCome // from the sugar left
	ExpectedBar     float64   // absolute pressure at StorageC, expected
	UpperBar        float64   // upper bound: stoichiometric gas, least solubility
	AboveRating     *bool     // UpperBar above the rating; nil when there is none
}

// Pressure returns the gas and the pressure in a closed package,
//
//	p = (residual + to come) 1.977/(f S(t))
//
// in bar absolute, all of the gas dissolved at StorageC. The expected
// pressure takes Balling's gas and the usual solubility in beer; the upper bound
// takes full solubility for what stayed dissolved, all sugar as disaccharide and
// the lowest published solubility for the pressure. No container is called safe
// unless the user gives its rating. An error is returned when it is not known
// how much of the extract ferments, and for values out of range.
func Pressure(p Packaging) (packagePressure, error) {
	toCome, ok := p.Beer.CO2ToCome()
	if !ok {
		return packagePressure{}, errNoFinalGravity
	}
	usual, most, err := p.residual()
	if err != nil {
		return packagePressure{}, err
	}
	lowest := gas{TempC: p.StorageC, BeerFactor: BeerCO2Factor - beerCO2FactorHalfWidth}
	upper, err := equilibriumPressureBar(most+toCome.UpperVolumes, lowest)
	if err != nil {
		return packagePressure{}, err
	}
	expected, err := equilibriumPressureBar(usual+toCome.ExpectedVolumes,
		gas{TempC: p.StorageC, BeerFactor: BeerCO2Factor})
	if err != nil {
		return packagePressure{}, err
	}
	out := packagePressure{ResidualVolumes: most, ToCome: toCome, ExpectedBar: expected, UpperBar: upper}
	// ratings are printed above the air outside, pressures here are absolute
	if p.RatingBar != nil {
		above := upper-barPerAtm > *p.RatingBar
		out.AboveRating = &above
	}
	return out, nil
}

// residual returns the dissolved volumes with the usual solubility and with
// that of water.
func (p Packaging) residual() (usual, most float64, err error) {
	// gas that was given or followed is known as it is: solubility has no part in it
	if v, ok := p.Beer.co2Volumes(); ok {
		return v, v, nil
	}
	g := gas{TempC: p.WarmestC, PressureBar: barPerAtm, BeerFactor: BeerCO2Factor}
	if usual, err = residualCO2Volumes(g); err != nil {
		return 0, 0, err
	}
	g.BeerFactor = 1
	most, err = residualCO2Volumes(g)
	return usual, most, err
}
