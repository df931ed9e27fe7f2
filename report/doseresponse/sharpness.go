package doseresponse

import (
	"math"

	"hedgerow/report/field"
)

// sharpSD is the SD of the ln of a taster's sharpness before any vote
// (judgement).
const sharpSD = 0.4

// sharpFactors is how many factors of sharpness are weighed, 2^-2, 2^-1.5, ..,
// 2^1.5. Number sharpCommon is 1.
const (
	sharpFactors = 8
	sharpCommon  = 4
)

// sharpFactor returns factor k of the grid.
func sharpFactor(k int) float64 { return math.Pow(2, float64(k-sharpCommon)/2) }

// A steepness is how well the votes of a taster are explained by another
// steepness than the assumed one: the ln of the evidence for each factor of the
// grid over that for the assumed one.
type steepness [sharpFactors]float64

// factor returns the posterior mean of the ln of the steepness, as a factor.
func (s *steepness) factor() float64 {
	best := math.Inf(-1)
	var lnW steepness
	for k, lnOdds := range s {
		l := math.Log(sharpFactor(k))
		lnW[k] = lnOdds - 0.5*l*l/(sharpSD*sharpSD)
		best = max(best, lnW[k])
	}
	var sum, mean float64
	for k, l := range lnW {
		w := math.Exp(l - best)
		sum += w
		mean += w * math.Log(sharpFactor(k))
	}
	return math.Exp(mean / sum)
}

// Every taster's steepness is weighed over all kept draws, or, with many votes,
// over so many that votes times draws come to steepWork, but leastDraws of them:
// many votes leave the draws little room to differ.
const (
	steepWork  = 10000
	leastDraws = 100
)

// steep returns the steepness of every taster. Nothing is worked out twice: the
// rows of the tasters and the warnings ask for the same.
func (p *Posterior) steep() []steepness { return p.steepOnce() }

// sharpness returns the steepness of taster i's votes against a common taster:
// the posterior mean of its ln, as a factor.
func (p *Posterior) sharpness(i int) float64 { return p.prob.Sharp[i] * p.steep()[i].factor() }

// weighSteepness works out steep.
func (p *Posterior) weighSteepness() []steepness {
	byTaster := make([][]field.VoteTerm, len(p.prob.Tasters))
	for _, o := range p.prob.Votes {
		byTaster[o.Taster] = append(byTaster[o.Taster], o)
	}
	out := make([]steepness, len(byTaster))
	for i, votes := range byTaster {
		if len(votes) > 0 {
			out[i] = p.steepnessOf(i, votes)
		}
	}
	return out
}

// steepnessOf weighs the steepness of taster i, who gave the votes: the mean over
// the draws of the ratio of the probabilities of all votes. Ratios are kept as
// logs: hundreds of votes would overflow.
func (p *Posterior) steepnessOf(i int, votes []field.VoteTerm) steepness {
	draws := min(len(p.kept.Point), max(leastDraws, steepWork/len(votes)))
	// kept draws are sorted, not shuffled: every so many of them stand for all, the first ones would not
	stride := len(p.kept.Point) / draws
	var lnRatios [sharpFactors][]float64
	for k := 0; k < len(p.kept.Point); k += stride {
		ratios := p.steepUnder(k, i, votes)
		for j, l := range ratios {
			lnRatios[j] = append(lnRatios[j], l)
		}
	}
	var out steepness
	for j, list := range lnRatios {
		out[j] = lnMean(list)
	}
	return out
}

// steepUnder returns, under kept draw k, the ln of the probability of the votes
// of taster i with every factor of steepness over that with the assumed one.
func (p *Posterior) steepUnder(k, i int, votes []field.VoteTerm) (lnRatio steepness) {
	v := p.kept.At(k)
	shared := v[2*p.kept.Tasters:]
	n := &p.points[p.kept.Point[k]].Node
	right := shared[p.prob.Theta] + v[2*i]
	var win [sharpFactors]field.Window
	for j := range win {
		win[j] = field.NewWindow(n, p.prob.Sharp[i]*sharpFactor(j))
	}
	// bounded for the steepest window, since the exponentials of the others are squared up to it
	reach := field.MaxExponent / win[sharpFactors-1].Kappa
	var prod steepness
	for j := range prod {
		prod[j] = 1
	}
	for at, o := range votes {
		z := p.prob.Beers[o.Trial].DoseUnder(shared) - right
		z = max(-reach, min(reach, z))
		// each factor is the square of the one two places before: two exponentials do
		var e [sharpFactors]float64
		e[0], e[1] = win[0].Expo(z), win[1].Expo(z)
		for j := 2; j < sharpFactors; j++ {
			e[j] = e[j-2] * e[j-2]
		}
		base := win[sharpCommon].ChanceAt(o.Vote, e[sharpCommon])
		for j := range prod {
			prod[j] *= win[j].ChanceAt(o.Vote, e[j]) / base
		}
		// ratios can be 100 either way: the products stay inside the range of floats for so many votes
		if at%100 == 99 || at == len(votes)-1 {
			for j := range prod {
				lnRatio[j] += math.Log(prod[j])
				prod[j] = 1
			}
		}
	}
	return lnRatio
}

// lnMean returns the ln of the mean of the exponentials of a list.
func lnMean(list []float64) float64 {
	best := math.Inf(-1)
	for _, l := range list {
		best = max(best, l)
	}
	var sum float64
	for _, l := range list {
		sum += math.Exp(l - best)
	}
	return best + math.Log(sum/float64(len(list)))
}

// likelyRandom is the chance to score at random from which on that is said of a
// taster.
const likelyRandom = 0.5

// random reports whether taster i is likely to score at random.
func (p *Posterior) random(i int) bool { return p.strays[i] > likelyRandom }
