package panel

import (
	"fmt"
	"math"
	"sort"
)

// DifferenceTest names a forced-choice test.
type DifferenceTest string

// The forced-choice tests. The names are those of the trade.
const (
	Triangle       DifferenceTest = "triangle"         // three glasses, pick the odd one
	DuoTrio        DifferenceTest = "duo-trio"         // a reference and two glasses, pick the one like it
	Paired         DifferenceTest = "paired"           // two glasses, pick the stronger; which one is known beforehand
	PairedTwoSided DifferenceTest = "paired-two-sided" // the same, direction not known
	ThreeAFC       DifferenceTest = "3-afc"            // three glasses, pick the strongest
	Tetrad         DifferenceTest = "tetrad"           // four glasses, sort into two pairs
)

// differenceTests lists the tests in the order of their constants.
func differenceTests() []DifferenceTest {
	return []DifferenceTest{Triangle, DuoTrio, Paired, PairedTwoSided, ThreeAFC, Tetrad}
}

// Chance is the share correct by guessing.
//
// Errors: an unknown test.
func (t DifferenceTest) Chance() (float64, error) {
	switch t {
	case Triangle, ThreeAFC, Tetrad:
		return 1.0 / 3, nil
	case DuoTrio, Paired, PairedTwoSided:
		return 0.5, nil
	}
	return 0, fmt.Errorf("difference test %q is not known: use one of %v", string(t), differenceTests())
}

// twoSided tells whether either direction counts as a difference.
func (t DifferenceTest) twoSided() bool { return t == PairedTwoSided }

// p is the exact p-value of a count.
func (t DifferenceTest) p(correct, n int, chance float64) float64 {
	if t.twoSided() {
		// Symmetric at one half: twice the larger side.
		return min(1, 2*binomialTail(max(correct, n-correct), n, chance))
	}
	return binomialTail(correct, n, chance)
}

// MinCorrect returns the smallest number correct out of n with an exact
// binomial p of at most alpha, as printed in the usual tables [10]; for the
// two-sided test the smallest number on the larger side. ok is false when even
// n of n does not reach alpha.
//
// Errors: an unknown test, n below 1 or above 100 000, alpha outside 0 to 1.
func (t DifferenceTest) MinCorrect(n int, alpha float64) (correct int, ok bool, err error) {
	chance, err := t.check(n, alpha)
	if err != nil {
		return 0, false, err
	}
	correct, ok = t.minCorrect(n, alpha, chance)
	return correct, ok, nil
}

// check validates what all the tests need.
func (t DifferenceTest) check(n int, alpha float64) (chance float64, err error) {
	const most = 100_000
	chance, err = t.Chance()
	if err != nil {
		return 0, err
	}
	if n < 1 || n > most {
		return 0, fmt.Errorf("%d answers: give a number from 1 to %d", n, most)
	}
	if !(alpha > 0 && alpha < 1) {
		return 0, fmt.Errorf("alpha %v: give a share above 0 and below 1, for instance 0.05", alpha)
	}
	return chance, nil
}

// minCorrect searches the falling tail for the first count within alpha.
func (t DifferenceTest) minCorrect(n int, alpha, chance float64) (int, bool) {
	if t.twoSided() {
		alpha /= 2
	}
	// A tail that equals alpha in exact arithmetic must not fail by rounding.
	limit := alpha * (1 + 1e-12)
	k := sort.Search(n+1, func(k int) bool { return binomialTail(k, n, chance) <= limit })
	return k, k <= n
}

// differenceResult is the outcome of a difference test.
type differenceResult struct {
	share         // correct of all, with exact limits
	P     float64 // exact p of this test, one- or two-sided as the test is
	// DPrime is the size of the difference in units of the noise of one glass
	// (d'), from the share correct; 0 at or under chance, valid if DPrimeOK.
	DPrime     float64
	DPrimeLow  float64 // limits of d' at the level 1 - Alpha
	DPrimeHigh float64 // valid if HighOK: at all correct there is no upper end
	DPrimeOK   bool    // the share correct is below 1
	HighOK     bool    // DPrimeHigh is finite
}

// Result tests a count of correct answers: exact p and
// the size of the difference d' with the limits that the share correct has at
// the level 1 - alpha. The null hypothesis is that all guess. Answers are
// taken as independent; several by one friend tell whether that friend can
// taste it, not what people can.
//
// Minimum: one answer; triangle and 3-AFC need 3 of 3, duo-trio and paired 5
// of 5, for p <= 0.05.
//
// Errors: as MinCorrect; correct outside 0 to n.
func (t DifferenceTest) Result(correct, n int, alpha float64) (differenceResult, error) {
	chance, err := t.check(n, alpha)
	if err != nil {
		return differenceResult{}, err
	}
	found, err := exactShare(correct, n, 1-alpha)
	if err != nil {
		return differenceResult{}, err
	}
	r := differenceResult{share: found, P: t.p(correct, n, chance)}
	r.DPrime, r.DPrimeOK = t.dPrime(found.Value)
	// always to be had: the lower end of a share is below 1
	r.DPrimeLow, _ = t.dPrime(found.Low)
	r.DPrimeHigh, r.HighOK = t.dPrime(found.High)
	return r, nil
}

// Power is the chance that n answers find a difference of size dPrime at
// alpha, everyone tasting equally well.
//
// Errors: as MinCorrect; dPrime below 0 or not a number.
func (t DifferenceTest) Power(n int, alpha, dPrime float64) (float64, error) {
	chance, err := t.check(n, alpha)
	if err != nil {
		return 0, err
	}
	share, err := t.shareCorrect(dPrime)
	if err != nil {
		return 0, err
	}
	return t.power(n, alpha, chance, share), nil
}

func (t DifferenceTest) power(n int, alpha, chance, share float64) float64 {
	k, ok := t.minCorrect(n, alpha, chance)
	if !ok {
		return 0
	}
	power := binomialTail(k, n, share)
	// enough answers on the wrong side are called a difference too
	if t.twoSided() && n-k < k {
		power += binomialTail(k, n, 1-share)
	}
	return min(1, power)
}

// need is what NeedMore returns.
type need struct {
	N     int     // answers needed in all
	More  int     // N less those at hand, not below zero
	Power float64 // power reached at N
}

// NeedMore returns how many answers find a difference of size dPrime at alpha
// with at least the given power, and how many more than have that is. Power
// rises with n in a saw-tooth because counts are whole; the n returned is the
// one from which power stays at or above the wish.
//
// Errors: as Power; power outside 0 to 1; have below 0; more than 3000 answers
// needed.
func (t DifferenceTest) NeedMore(have int, alpha, dPrime, power float64) (need, error) {
	chance, err := t.check(1, alpha)
	if err != nil {
		return need{}, err
	}
	if !(power > 0 && power < 1) {
		return need{}, fmt.Errorf("power %v: give a share above 0 and below 1, for instance 0.8", power)
	}
	if have < 0 {
		return need{}, fmt.Errorf("%d answers at hand: give zero or more", have)
	}
	share, err := t.shareCorrect(dPrime)
	if err != nil {
		return need{}, err
	}
	const most = 3000
	short := 0 // last n that falls short of the power
	// well past the last n that fell short: power saws up and down, and a later tooth may dip below once more
	for n := 1; n <= short+short/4+40; n++ {
		if t.power(n, alpha, chance, share) < power {
			short = n
		}
		if short > most {
			return need{},
				fmt.Errorf("a difference of d' %g needs more than %d answers in a %s test: taste a larger step of dose",
					dPrime, most, t)
		}
	}
	n := short + 1
	return need{N: n, More: max(0, n-have), Power: t.power(n, alpha, chance, share)}, nil
}

// dPrime is the d' at which a share correct is expected, the inverse of
// shareCorrect: 0 at or under chance. ok is false when the share is so near 1
// that any large d' fits, or the test is unknown.
func (t DifferenceTest) dPrime(share float64) (float64, bool) {
	chance, err := t.Chance()
	if err != nil || math.IsNaN(share) {
		return 0, false
	}
	if share <= chance {
		return 0, true
	}
	// no two beers lie further apart, and beyond it the share is 1 to the last digit
	const largest = 15
	if top, _ := t.shareCorrect(largest); share >= top {
		return 0, false
	}
	d := rootOf(0, largest, func(d float64) float64 {
		p, _ := t.shareCorrect(d)
		return p - share
	})
	return d, true
}
