package dilution

// Stoichiometric bounds of the CO2 from 1 g of sugar, all of it to ethanol and
// CO2: no yeast grows. Molar masses of IUPAC.
const (
	CO2PerHexose       = glucoseCO2 // 0.4886 g/g
	CO2PerDisaccharide = sucroseCO2 // 0.5143 g/g, sucrose or maltose
)

// CO2ToCome is the gas that sugar left in a closed package will make, beside
// what is dissolved already.
type CO2ToCome struct {
	ExpectedGPerL   float64 // by Balling, 0.4629 g per g of extract
	ExpectedVolumes float64
	UpperGPerL      float64 // bound for disaccharides; use it for safety
	UpperVolumes    float64
}

// CO2FromSugar returns the gas from fermentableKg of extract in volumeL litres.
// An *InputError is returned for a negative mass or a volume that is not above
// zero.
func CO2FromSugar(s SugarLeft) (CO2ToCome, error) {
	err := firstError(
		notNegative("fermentable sugar in kg", s.FermentableKg),
		positive("volume in litres", s.VolumeL),
	)
	if err != nil {
		return CO2ToCome{}, err
	}
	sugar := 1000 * s.FermentableKg / s.VolumeL
	return CO2ToCome{
		ExpectedGPerL:   CO2PerExtract * sugar,
		ExpectedVolumes: CO2PerExtract * sugar / co2GramsPerVolume,
		UpperGPerL:      CO2PerDisaccharide * sugar,
		UpperVolumes:    CO2PerDisaccharide * sugar / co2GramsPerVolume,
	}, nil
}

// SugarLeft is fermentable extract in a volume of beer.
type SugarLeft struct {
	FermentableKg float64
	VolumeL       float64 // litres at 20 C
}

// EquilibriumPressureBar returns the absolute CO2 pressure in bar over a beer
// with volumes of CO2 at the temperature, p = volumes 1.977/(f S) [8]; the
// PressureBar of g is not used. No safe limit is known to this package: compare
// with the rating of the container. An *InputError is returned outside the
// ranges of Gas and for negative volumes.
func EquilibriumPressureBar(volumes float64, g Gas) (float64, error) {
	g.PressureBar = barPerAtm
	if err := firstError(notNegative("CO2 in volumes", volumes), g.check()); err != nil {
		return 0, err
	}
	return volumes * co2GramsPerVolume / (g.BeerFactor * co2Solubility(g.TempC)), nil
}
