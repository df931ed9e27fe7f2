package extraction

// Constants of the temperature law, exp(-(Ea/R) (1/T_K - 1/353.15)); plan.reduced
// applies it.
const (
	// EaKJ is the activation energy of release, kJ/mol: the mean of eight published
	// midpoints is 29.7 [2][4][6]; plausible are 15 to 50.
	EaKJ        = 30.0
	gasConstant = 8.314462618 // J/(mol K), exact in SI since 2019, rounded to ten digits
	refTempC    = 80.0        // C, where rates are quoted
	zeroC       = 273.15      // K
	refTempK    = refTempC + zeroC
)

// coldness returns 1/T_K - 1/353.15 in 1/K: zero at 80 C, positive below.
func coldness(tempC float64) float64 { return 1/(tempC+zeroC) - 1/refTempK }
