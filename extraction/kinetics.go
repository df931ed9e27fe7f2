package extraction

import "math"

// Constants of the temperature law.
const (
	GasConstant = 8.314462618 // J/(mol K), exact in SI since 2019, rounded to ten digits
	RefTempC    = 80.0        // C, where rates are quoted
	zeroC       = 273.15      // K
	refTempK    = RefTempC + zeroC
)

// Arrhenius is the temperature law of a release rate with activation energy
// EaKJ, kJ/mol. Read values run from 7 to 50 [2][4][6]; the default is 30.
type Arrhenius struct{ EaKJ float64 }

// Factor returns theta(T) = exp(-(Ea/R) (1/T_K - 1/353.15)), the rate at tempC
// over the rate at 80 C. It errs for a negative Ea and outside -20 to 110 C.
func (a Arrhenius) Factor(tempC float64) (float64, error) {
	err := firstError(checkNotNegative("activation energy", a.EaKJ, "kJ/mol"), checkTemp("temperature", tempC))
	if err != nil {
		return 0, err
	}
	return theta(a.EaKJ, coldness(tempC)), nil
}

// coldness returns 1/T_K - 1/353.15 in 1/K: zero at 80 C, positive below.
func coldness(tempC float64) float64 { return 1/(tempC+zeroC) - 1/refTempK }

// theta returns exp(-Ea x/R) for Ea in kJ/mol and a coldness x in 1/K.
func theta(eaKJ, coldness float64) float64 { return math.Exp(-eaKJ * 1000 / GasConstant * coldness) }

// TwoRates are rate constants, or diffusion coefficients, in one unit at two
// temperatures.
type TwoRates struct{ T1C, K1, T2C, K2 float64 }

// Activation returns the temperature law through both rates:
// Ea = R ln(k2/k1) / (1/T1 - 1/T2). It errs if the temperatures are equal or a
// rate is not above zero.
func (r TwoRates) Activation() (Arrhenius, error) {
	err := firstError(checkTemp("temperature", r.T1C), checkTemp("temperature", r.T2C),
		checkPositive("rate", r.K1, ""), checkPositive("rate", r.K2, ""))
	if err != nil {
		return Arrhenius{}, err
	}
	if r.T1C == r.T2C {
		return Arrhenius{}, refuse("give two different temperatures", "both rates are at %s C", number(r.T1C))
	}
	return Arrhenius{GasConstant / 1000 * math.Log(r.K2/r.K1) / (1/(r.T1C+zeroC) - 1/(r.T2C+zeroC))}, nil
}

// FirstOrder returns F = 1 - exp(-K), the share released when the integral of
// the rate over time is K (no unit).
func FirstOrder(k float64) float64 { return -math.Expm1(-k) }

// Release is the model of one piece of material: a share Washed (w) leaves at
// once, the rest at first order.
type Release struct{ Washed float64 }

// Share returns X = w + (1-w)(1 - exp(-K)) in a large bath, the Spiro-Jago
// line [1] with w = 1 - exp(-a). K is rate times reduced time (no unit).
func (r Release) Share(k float64) (float64, error) {
	if err := firstError(checkShare("washed share", r.Washed), checkNotNegative("rate times time", k, "")); err != nil {
		return 0, err
	}
	p := pot{solid: 1 - r.Washed, dissolved: r.Washed}
	return p.release(k, 0, 1).dissolved, nil
}

// Bath is a finite volume of liquid on material that holds solute back by
// sorption.
type Bath struct {
	// VolumeML is V, the liquid.
	VolumeML float64
	// DryG is m, the dry matter.
	DryG float64
	// KappaMLPerG is sorption, the mL of liquid that one gram of dry matter is
	// worth; 0 = none. Tea gave 0.9 to 8.5, hibiscus about 3.
	KappaMLPerG float64
}

// Fraction returns phi = V/(V + kappa m), the share in the liquid at
// equilibrium. It errs for negative inputs and when both terms are zero.
func (b Bath) Fraction() (float64, error) {
	err := firstError(checkNotNegative("volume", b.VolumeML, "mL"), checkNotNegative("dry matter", b.DryG, "g"),
		checkNotNegative("sorption", b.KappaMLPerG, "mL/g"))
	if err != nil {
		return 0, err
	}
	if b.VolumeML == 0 && b.KappaMLPerG*b.DryG == 0 {
		return 0, refuse("give the volume of the liquid", "no liquid and no sorption: the share is not defined")
	}
	return bathFraction(b.VolumeML, b.KappaMLPerG*b.DryG), nil
}

// bathFraction returns V/(V+s), and 1 when there is neither liquid nor sorption.
func bathFraction(volumeML, sorbedML float64) float64 {
	if sorbedML == 0 {
		return 1
	}
	return volumeML / (volumeML + sorbedML)
}

// SpiroPoints are two measured shares of the final strength at two times.
type SpiroPoints struct{ F1, T1Min, F2, T2Min float64 }

// Line returns the slope k (1/min) and intercept a of the line
// ln(1/(1-F)) = k t + a through both points [1]. It errs unless 0 <= F < 1 and
// the times differ.
func (s SpiroPoints) Line() (kPerMin, a float64, err error) {
	for _, f := range []float64{s.F1, s.F2} {
		if !(f >= 0 && f < 1) {
			return 0, 0, refuse("give shares of the final strength, 0 to below 1", "share %s is outside 0 to below 1", number(f))
		}
	}
	err = firstError(checkNotNegative("time", s.T1Min, "min"), checkNotNegative("time", s.T2Min, "min"))
	if err != nil {
		return 0, 0, err
	}
	if s.T1Min == s.T2Min {
		return 0, 0, refuse("give two different times", "both points are at %s min", number(s.T1Min))
	}
	y1, y2 := -math.Log1p(-s.F1), -math.Log1p(-s.F2)
	kPerMin = (y2 - y1) / (s.T2Min - s.T1Min)
	return kPerMin, y1 - kPerMin*s.T1Min, nil
}

// WashedFromIntercept returns w = 1 - exp(-a), the share washed off at once.
// A negative intercept (a start lag of 15 to 22 s is reported for tea) gives 0.
func WashedFromIntercept(a float64) float64 { return -math.Expm1(-max(a, 0)) }

// SizeLaw is k = k_ref (L_ref/L)^m. Pure diffusion would be m = 2; measurements
// give 0 to 1.5 [4][5]; the default is 1.
type SizeLaw struct{ RefMM, Exponent float64 }

// Rate returns the rate of a piece of length lengthMM when one of RefMM has
// refPerMin. It errs for lengths that are not above zero and a negative rate.
func (s SizeLaw) Rate(refPerMin, lengthMM float64) (float64, error) {
	err := firstError(checkPositive("length", lengthMM, "mm"), checkPositive("reference length", s.RefMM, "mm"),
		checkNotNegative("rate", refPerMin, "/min"))
	if err != nil {
		return 0, err
	}
	return refPerMin * math.Pow(s.RefMM/lengthMM, s.Exponent), nil
}
