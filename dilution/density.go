package dilution

// Densities at 20 C in kg/m3. Water is A1 of the OIML formula; ethanol is the
// sum A1..A12 (printed as 789.24 in the tables of [1]).
const (
	waterDensity20   = 998.20123
	ethanolDensity20 = 789.2391233
)

// maxEthanolTempC is the upper limit of the OIML formula [1].
const maxEthanolTempC = 40

// waterDensity returns the density of air-free water in kg/m3 at tempC:
// the OIML formula with no ethanol from -20 to 40 C, so that mixtures stay
// consistent, and Kell's formula [2] above 40 to 100 C. The two differ by
// 1.6 ppm at 40 C. An *inputError is returned outside -20..100 C.
func waterDensity(tempC float64) (float64, error) {
	if err := within("temperature", tempC, -20, 100, "give degrees Celsius of a liquid"); err != nil {
		return 0, err
	}
	return water(tempC), nil
}

// SucroseDensity returns the density in kg/m3 of a sucrose solution of plato
// per cent by mass (-5..100) at tempC (0..100 C),
//
//	rho = rhoW(t) + sum_i x^i sum_k S_ik w^k,  x = (t-20)/100, w = plato/100
//
// [3]. Dissolved beer extract is taken to behave like sucrose; other sugars
// differ by less than 1 kg/m3 at 10 % mass. Small negative values extrapolate
// smoothly and serve the apparent extract of dry beers.
func SucroseDensity(plato, tempC float64) (float64, error) {
	err := firstError(
		within("extract in degrees Plato", plato, -5, 100, "give per cent by mass"),
		within("temperature", tempC, 0, 100, "give degrees Celsius of a liquid"),
	)
	if err != nil {
		return 0, err
	}
	iso := isothermAt(tempC)
	return iso.sucrose(plato / 100), nil
}

// water is waterDensity without the check.
func water(tempC float64) float64 {
	if tempC <= maxEthanolTempC {
		tau := tempC - 20
		sum := 0.0
		for k := len(oimlB) - 1; k >= 0; k-- {
			sum = (sum + oimlB[k]) * tau
		}
		return waterDensity20 + sum
	}
	return kellWater(tempC)
}

// kellWater returns the density of water in kg/m3 by Kell's formula [2], 0-100 C.
func kellWater(t float64) float64 {
	n := -2.8103006e-10
	n = n*t + 1.0584601e-07
	n = n*t - 4.6241757e-05
	n = n*t - 0.0079905127
	n = n*t + 16.952577
	n = n*t + 999.83952
	return n / (1 + 0.016887236*t)
}
