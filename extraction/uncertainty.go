package extraction

import "math"

// Spreads of the model's own figures; sd of ln unless the name says otherwise.
const (
	EaKJ         = 30.0 // mean of eight published midpoints 29.7 [2][4][6]; plausible 15 to 50
	eaSDKJ       = 9.0  // sd of the same eight
	soluteSDLn   = 0.9  // sd of ln k80 over seven published rates of 0.3 to 2 mm pieces is 0.91
	sizeSDLn     = 0.3  // judgement
	agitateSDLn  = 0.5  // judgement
	heldSDLn     = 0.25 // judgement over read coffee, tea and hop figures [20]
	anchorKPer80 = 0.70 // k_u, 1/min at 80 C and 1 mm: geometric mean 0.47 at 1.5 mm, size exponent 1
)

// RateSpread are the parts of the doubt about a rate constant.
type RateSpread struct{ SoluteSDLn, SizeSDLn, AgitationSDLn, EaSDKJ float64 }

// DefaultRateSpread returns the spreads that the defaults carry.
func DefaultRateSpread() RateSpread {
	return RateSpread{soluteSDLn, sizeSDLn, agitateSDLn, eaSDKJ}
}

// SDLn returns the sd of ln k at tempC: the root of the sum of squares of the
// parts and of s_Ea/R (1/T - 1/353.15). One sd is a factor of 3 to 4. It errs
// for negative parts and outside -20 to 110 C.
func (r RateSpread) SDLn(tempC float64) (float64, error) {
	err := firstError(checkTemp("temperature", tempC), checkNotNegative("sd of ln k", r.SoluteSDLn, ""),
		checkNotNegative("sd of ln k", r.SizeSDLn, ""), checkNotNegative("sd of ln k", r.AgitationSDLn, ""),
		checkNotNegative("sd of activation energy", r.EaSDKJ, "kJ/mol"))
	if err != nil {
		return 0, err
	}
	heat := r.EaSDKJ * 1000 / GasConstant * coldness(tempC)
	return math.Sqrt(r.SoluteSDLn*r.SoluteSDLn + r.SizeSDLn*r.SizeSDLn + r.AgitationSDLn*r.AgitationSDLn + heat*heat), nil
}

// ReleaseQuantile is a released share whose rate is log-normal about its value.
type ReleaseQuantile struct {
	// Washed is w, the share dissolved at once.
	Washed float64
	// RateTime is K at the median rate.
	RateTime float64
	// SDLn is the sd of ln k.
	SDLn float64
	// Z is the normal score of the quantile, -1.2816 for 10 %.
	Z float64
}

// Share returns X at the quantile, w + (1-w)(1 - exp(-K e^{z sd})). It errs as
// Release.Share does.
func (q ReleaseQuantile) Share() (float64, error) {
	if err := checkNotNegative("sd of ln k", q.SDLn, ""); err != nil {
		return 0, err
	}
	return Release{q.Washed}.Share(q.RateTime * math.Exp(q.Z*q.SDLn))
}
