package extraction

import "math"

// Half-lives of dissolved solute, min. Aroma: order of magnitude only, no
// half-life of a terpene in the boil was found; linalool survives a short hot
// stay with about 0.75 [10]. Colour: 3.0 h at 100 C and pH 2 [11], Ea 56-96 [12].
const (
	aromaBoilHalfLifeMin  = 20.0  // at a rolling boil; 5 to 60
	aromaHotHalfLifeMin   = 120.0 // in a hot stand; 40 to 400
	colourBoilHalfLifeMin = 180.0 // at 100 C
	colourLossEaKJ        = 65.0

	// hotStandC is where aroma begins to leave a hot stand; nil below. A rule
	// of thumb, no source.
	hotStandC = 60.0

	// Spreads of ln half-life: a quarter of the ln range read as a 95 % band.
	aromaBoilSDLn = 0.62
	aromaHotSDLn  = 0.58
	colourSDLn    = 0.30 // half-lives of 3.0 h and 1.96 h at about one temperature [11]
)

// LossRate returns kv, the first-order rate (1/min) at which dissolved solute of
// class c is lost at tempC. Aroma: ln2/20 at a rolling boil, ln2/120 from 60 C
// up, nil below. Colour: ln2/180 at 100 C, 65 kJ/mol elsewhere. Water and resin
// do not decay (hydrocarbon oils in the resin class leave a boil within minutes,
// and are not modelled apart).
func (c Class) LossRate(tempC float64, rollingBoil bool) float64 {
	switch {
	case c == Colour:
		x := 1/(tempC+zeroC) - 1/(BoilingC+zeroC)
		return math.Ln2 / colourBoilHalfLifeMin * math.Exp(-colourLossEaKJ*1000/GasConstant*x)
	case c == Aroma && rollingBoil:
		return math.Ln2 / aromaBoilHalfLifeMin
	case c == Aroma && tempC >= hotStandC:
		return math.Ln2 / aromaHotHalfLifeMin
	}
	return 0
}

// Fading is release and loss at constant temperature, both first order.
type Fading struct {
	// Washed is w, the share dissolved at once.
	Washed float64
	// KPerMin is k, the release rate, 1/min.
	KPerMin float64
	// LossPerMin is kv, the loss rate, 1/min.
	LossPerMin float64
}

// Present returns A(t), the share that is dissolved and not yet lost:
//
//	A = w e^{-kv t} + (1-w) k/(kv-k) (e^{-kt} - e^{-kv t});  kv = k: (1-w) k t e^{-kt}
//
// It errs for w outside 0 to 1 and negative rates or time.
func (f Fading) Present(minutes float64) (float64, error) {
	err := firstError(checkShare("washed share", f.Washed), checkNotNegative("rate", f.KPerMin, "/min"),
		checkNotNegative("loss rate", f.LossPerMin, "/min"), checkNotNegative("time", minutes, "min"))
	if err != nil {
		return 0, err
	}
	p := pot{1 - f.Washed, f.Washed}
	return p.release(f.KPerMin*minutes, f.LossPerMin*minutes, 1).dissolved, nil
}

// HalfLife is a first-order loss known by its half-life.
type HalfLife struct{ Minutes float64 }

// Survival returns S = 2^(-t/t_half) after minutes. It errs for a half-life
// that is not above zero and a negative time.
func (h HalfLife) Survival(minutes float64) (float64, error) {
	if err := firstError(checkPositive("half-life", h.Minutes, "min"), checkNotNegative("time", minutes, "min")); err != nil {
		return 0, err
	}
	return math.Exp2(-minutes / h.Minutes), nil
}
