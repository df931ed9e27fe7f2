package panel

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// Share is a count out of n beside a chance expectation.
type Share struct {
	Correct   int     // answers that count
	N         int     // answers in all
	Value     float64 // Correct / N
	Low       float64 // Clopper-Pearson limits of the true share
	High      float64 // valid with Low at the level below
	Level     float64 // confidence level of the limits, as a share
	OneSidedP float64 // chance of as many or more
	TwoSidedP float64 // chance of a count as unlikely or more so
}

// Binomial tests a count against the share p0 expected by chance, exactly, and
// gives the exact limits of the true share [17] (a little wider than need be,
// never too narrow). The two-sided p adds the chances of all counts no more
// likely than the observed one.
//
// Minimum: one answer.
//
// Errors: n below 1, correct outside 0 to n, p0 or level outside 0 to 1.
func Binomial(correct, n int, p0, level float64) (Share, error) {
	if err := checkLevel(level); err != nil {
		return Share{}, err
	}
	if n < 1 {
		return Share{}, fmt.Errorf("%d answers: at least one is needed", n)
	}
	if correct < 0 || correct > n {
		return Share{}, fmt.Errorf("%d correct of %d: give a count from 0 to %d", correct, n, n)
	}
	if !(p0 > 0 && p0 < 1) {
		return Share{}, fmt.Errorf("chance share %v: give a share above 0 and below 1", p0)
	}
	s := Share{Correct: correct, N: n, Value: float64(correct) / float64(n), High: 1, Level: level}
	s.OneSidedP = binomialTail(correct, n, p0)
	// Counts this much more likely than the observed one still count as equal.
	const slack = 1 + 1e-7
	limit := binomialChance(correct, n, p0) * slack
	for k := range n + 1 {
		if c := binomialChance(k, n, p0); c <= limit {
			s.TwoSidedP += c
		}
	}
	s.TwoSidedP = min(1, s.TwoSidedP)
	tail := (1 - level) / 2
	if correct > 0 {
		s.Low = distuv.Beta{Alpha: float64(correct), Beta: float64(n - correct + 1)}.Quantile(tail)
	}
	if correct < n {
		s.High = distuv.Beta{Alpha: float64(correct + 1), Beta: float64(n - correct)}.Quantile(1 - tail)
	}
	return s, nil
}

// binomialChance is the chance of exactly k of n, p not 0 or 1.
func binomialChance(k, n int, p float64) float64 {
	choose := logFactorial(n) - logFactorial(k) - logFactorial(n-k)
	return math.Exp(choose + float64(k)*math.Log(p) + float64(n-k)*math.Log1p(-p))
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
