package extraction

import "math"

// Figures of water for the stripping of volatiles.
const (
	pascalPerAtm      = 101325.0
	waterKgM3At100    = 958.4    // [17]
	waterKgPerMol     = 0.018015 // rounded as in the check rows
	henryRefTempK     = 298.15
	cosolventSlope    = 0.95 // M for ethanol, from memory of [15]
	cosolventConstant = 0.30 // N for ethanol, from memory of [15]
)

// Henry is a solubility constant by the convention c = H p [14].
type Henry struct {
	// MolPerM3Pa is H at 25 C.
	MolPerM3Pa float64
	// SlopeK is d ln H / d(1/T).
	SlopeK float64
}

// AirWater returns K_aw = 1/(H R T), concentration in air over that in water,
// with H taken as it stands at tempC. It errs for an H that is not above zero.
func (h Henry) AirWater(tempC float64) (float64, error) {
	if err := firstError(checkPositive("Henry constant", h.MolPerM3Pa, "mol/(m3 Pa)"), checkTemp("temperature", tempC)); err != nil {
		return 0, err
	}
	return 1 / (h.MolPerM3Pa * GasConstant * (tempC + zeroC)), nil
}

// RelativeVolatility returns alpha at 100 C and one atmosphere,
// (c_water/H(100 C))/101325 with H carried there by its slope. An order of
// magnitude: the boil is not an ideal still. It errs as AirWater does.
func (h Henry) RelativeVolatility() (float64, error) {
	if err := checkPositive("Henry constant", h.MolPerM3Pa, "mol/(m3 Pa)"); err != nil {
		return 0, err
	}
	at100 := h.MolPerM3Pa * math.Exp(h.SlopeK*(1/(BoilingC+zeroC)-1/henryRefTempK))
	return waterKgM3At100 / waterKgPerMol / at100 / pascalPerAtm, nil
}

// BoilDown is a boil from one volume to a smaller one.
type BoilDown struct{ BeforeL, AfterL, RelativeVolatility float64 }

// Survival returns (V1/V0)^alpha, what an ideal open still leaves. It errs unless
// 0 < V1 <= V0 and alpha >= 0.
func (b BoilDown) Survival() (float64, error) {
	err := firstError(checkPositive("volume before", b.BeforeL, "L"), checkPositive("volume after", b.AfterL, "L"),
		checkNotNegative("relative volatility", b.RelativeVolatility, ""))
	if err != nil {
		return 0, err
	}
	if b.AfterL > b.BeforeL {
		return 0, refuse("give the volume before the boil first", "%s L after the boil is more than %s L before",
			number(b.AfterL), number(b.BeforeL))
	}
	return math.Pow(b.AfterL/b.BeforeL, b.RelativeVolatility), nil
}

// Cosolvent is a solute in a mixture of water and ethanol.
type Cosolvent struct {
	// LogKow is the octanol-water partition, log10.
	LogKow float64
	// Ethanol is its volume fraction, 0 to 1.
	Ethanol float64
}

// Factor returns by how much ethanol raises the solubility,
// 10^((0.95 logKow + 0.30) f). At low f the real figure is often below [15]; the
// steep model does not use it. It errs for f outside 0 to 1.
func (c Cosolvent) Factor() (float64, error) {
	if err := checkShare("ethanol fraction", c.Ethanol); err != nil {
		return 0, err
	}
	return math.Pow(10, (cosolventSlope*c.LogKow+cosolventConstant)*c.Ethanol), nil
}
