package panel

import (
	"fmt"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// share is a count out of n with the exact limits of the true share.
type share struct {
	Value float64 // correct / n
	Low   float64 // Clopper-Pearson limits of the true share
	High  float64 // valid with Low at the level below
	Level float64 // confidence level of the limits, as a share
}

// exactShare gives the exact limits of the share behind a count [11]: a little
// wider than need be, never too narrow.
//
// Errors: level outside 0 to 1, n below 1, correct outside 0 to n.
func exactShare(correct, n int, level float64) (share, error) {
	if err := checkLevel(level); err != nil {
		return share{}, err
	}
	if n < 1 {
		return share{}, fmt.Errorf("%d answers: at least one is needed", n)
	}
	if correct < 0 || correct > n {
		return share{}, fmt.Errorf("%d correct of %d: give a count from 0 to %d", correct, n, n)
	}
	s := share{Value: float64(correct) / float64(n), High: 1, Level: level}
	tail := (1 - level) / 2
	// none right leaves no lower end but 0, and the beta quantile is not defined there
	if correct > 0 {
		s.Low = distuv.Beta{Alpha: float64(correct), Beta: float64(n - correct + 1)}.Quantile(tail)
	}
	if correct < n {
		s.High = distuv.Beta{Alpha: float64(correct + 1), Beta: float64(n - correct)}.Quantile(1 - tail)
	}
	return s, nil
}

// binomialTail is the chance of k or more of n: the incomplete beta function
// I_p(k, n-k+1), so that large n cost no more than small.
func binomialTail(k, n int, p float64) float64 {
	switch {
	case k <= 0:
		return 1
	case k > n || p <= 0:
		return 0
	case p >= 1:
		return 1
	}
	return mathext.RegIncBeta(float64(k), float64(n-k+1), p)
}
