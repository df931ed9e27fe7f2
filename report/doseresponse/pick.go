package doseresponse

import (
	"math"
	"math/rand/v2"
)

// A MethodLiking is how well a method is liked at its best dose.
type MethodLiking struct {
	Method string   // as logged
	Liking Estimate // panel mean of an average brew, 1-9; level 0.9
	PBest  float64  // chance that no other method scored here is liked better
	Scores int      // likings behind it
}

// pickDraws is the number of draws behind PBest.
const pickDraws = 2000

// MethodLikings returns the methods with likings in the order in which they
// were logged. It compares them at the best dose of each, so that a method is
// not blamed for a dose that was off. Below about 0.8 for the largest PBest
// there is no winner yet ([1] section 2.2).
func (p *Posterior) MethodLikings() []MethodLiking {
	fit, ok := p.fitLiking()
	if !ok {
		return nil
	}
	out := make([]MethodLiking, len(fit.methods))
	for m := range out {
		mean, sd := fit.combine(fit.panel(m, 1-p.top))
		h := 1.645 * sd
		out[m] = MethodLiking{
			Method: fit.methods[m],
			Liking: interval(clampLiking(mean), clampLiking(mean-h), clampLiking(mean+h)),
			Scores: fit.counts[m],
		}
	}
	fit.shareBest(out)
	return out
}

// clampLiking keeps a liking on its scale of 1 to 9, which the Gaussian model
// does not know of.
func clampLiking(l float64) float64 { return max(1, min(9, l)) }

// shareBest fills in PBest: the share of draws of the coefficients in which
// the panel's mean liking of the method is the largest. The cost of a dose
// that is off is the same for all and left out. The seed is fixed.
func (f *likingFit) shareBest(out []MethodLiking) {
	rng := rand.New(rand.NewPCG(seed, 3))
	dim := len(f.mean)
	panels := make([][]float64, len(out))
	for m := range panels {
		panels[m] = f.panel(m, 0)
	}
	z := make([]float64, dim)
	wins := make([]int, len(out))
	for range pickDraws {
		for i := range z {
			z[i] = rng.NormFloat64()
		}
		solveUpper(f.factor, dim, z)
		best, top := 0, math.Inf(-1)
		for m, c := range panels {
			var l float64
			for i, x := range c {
				l += x * (f.mean[i] + z[i])
			}
			if l > top {
				best, top = m, l
			}
		}
		wins[best]++
	}
	for m, n := range wins {
		out[m].PBest = float64(n) / pickDraws
	}
}
