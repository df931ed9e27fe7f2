package dilution

import "math"

// Constants of dissolved carbon dioxide.
const (
	co2MolarMassG     = 44.0095                             // g/mol
	co2GramsPerVolume = co2MolarMassG / 22.2605             // g/L per volume: 0 C, 1 atm, real gas
	barPerAtm         = 1.01325                             // exact
	glucoseCO2        = 2 * co2MolarMassG / glucoseMolarG   // 0.4886 g/g, all sugar to ethanol and CO2
	sucroseCO2        = 4 * co2MolarMassG / sucroseMolarG   // 0.5143 g/g, with the water of hydrolysis
	glucoseMolarG     = 180.156                             // g/mol
	sucroseMolarG     = 342.297                             // g/mol
	dextroseWater     = 18.0153 / (glucoseMolarG + 18.0153) // kg/kg, water of dextrose monohydrate
)

// BeerCO2Factor is the solubility of CO2 in beer relative to water. Published
// beer values imply 0.89 to 1.00 [19]; 0.94 with standard uncertainty 0.03 is a
// choice among them. Use 1 where too much gas is the danger.
const (
	BeerCO2Factor          = 0.94
	beerCO2FactorHalfWidth = 0.052 // 0.03 times the root of 3, as a rectangular limit
)

// gas is the condition of CO2 over a liquid. A volume of CO2 is one litre of the
// gas at 0 C and 1 atm in a litre of beer, 1.977 g/L.
type gas struct {
	TempC       float64 // temperature of the liquid, 0..40 C
	PressureBar float64 // absolute pressure of CO2; 1.01325 under an airlock
	BeerFactor  float64 // solubility relative to water, 0.8..1; see BeerCO2Factor
}

// residualCO2Volumes returns the CO2 in volumes that stays dissolved in
// equilibrium,
//
//	volumes = f S(t) p / 1.977
//
// f the BeerFactor, S in g/(L bar) by Weiss [8], within 0.7 % of the
// measurements in [9], p the absolute pressure in bar. For a beer
// take the highest temperature it reached after active fermentation ended
// (common practice, no source). It is an upper limit, for agitation loses gas.
// An *inputError is returned outside the ranges of the fields.
func residualCO2Volumes(g gas) (float64, error) {
	if err := g.check(); err != nil {
		return 0, err
	}
	return g.volumes(), nil
}

// check validates a Gas with a pressure.
func (g gas) check() error {
	return firstError(
		within("temperature", g.TempC, 0, 40, "give degrees Celsius"),
		within("absolute CO2 pressure in bar", g.PressureBar, 0, 20, "an open vessel has 1.013 bar"),
		within("solubility factor of beer", g.BeerFactor, 0.8, 1, "0.94 is usual"),
	)
}

// volumes is residualCO2Volumes without the check.
func (g gas) volumes() float64 {
	return g.BeerFactor * co2Solubility(g.TempC) * g.PressureBar / co2GramsPerVolume
}

// co2Solubility returns S in g per L and bar of CO2 in water, 0..40 C:
//
//	ln K0 = -58.0931 + 90.5069 (100/T) + 22.2940 ln(T/100),  S = K0 44.0095/1.01325
//
// with K0 in mol/(L atm) and T in kelvin [8].
func co2Solubility(tempC float64) float64 {
	t := (tempC + 273.15) / 100
	k0 := math.Exp(-58.0931 + 90.5069/t + 22.2940*math.Log(t))
	return k0 * co2MolarMassG / barPerAtm
}
