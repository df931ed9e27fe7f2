package doseresponse

import (
	"math"
	"math/rand/v2"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// A quadrature computes the posterior of psi = theta + u of one taster from
// votes on beers of separate brews, by plain sums over psi and the potency of
// each brew at every grid node: the model of doc.go written down once
// more, without modes, Gaussians or draws.
type quadrature struct {
	x     []float64 // relative ln dose of each brew
	votes [][]int   // on each brew
}

// normalDensity returns the density of N(0, sd^2) at x.
func normalDensity(x, sd float64) float64 {
	return math.Exp(-0.5*x*x/(sd*sd)) / (sd * math.Sqrt(2*math.Pi))
}

// voteChance returns the probability of a vote as doc.go writes it.
func voteChance(vote int, kappa, c, z float64) float64 {
	logistic := func(x float64) float64 { return 1 / (1 + math.Exp(-x)) }
	little, much := logistic(kappa*(-c-z)), logistic(kappa*(z-c))
	switch {
	case vote < 0:
		return 0.97*little + 0.01
	case vote > 0:
		return 0.97*much + 0.01
	}
	return 0.97*(1-little-much) + 0.01
}

// likelihood returns the probability of the votes on brew k given psi,
// averaged over the potency of the brew.
func (q quadrature) likelihood(k int, kappa, c, psi float64) float64 {
	const step = 0.02
	var sum float64
	for b := -0.9; b <= 0.9; b += step {
		p := 1.0
		for _, v := range q.votes[k] {
			p *= voteChance(v, kappa, c, q.x[k]+b-psi)
		}
		sum += step * normalDensity(b, 0.18) * p
	}
	return sum
}

// Lattice of psi.
const (
	latticeLow  = -8.0
	latticeStep = 0.02
	latticeN    = 800
)

// A share is a value with its weight.
type share struct{ value, weight float64 }

// claimSDs are the SDs of the two parts of the prior of the right ln dose for one
// claim, the second for claims that are wrong; offsetSDs those of the tasters.
func claimSDs(sd0 float64) []share { return []share{{sd0, 0.85}, {max(2.2*sd0, 1.2), 0.15}} }
func offsetSDs() []share           { return []share{{0.2, 0.425}, {0.45, 0.425}, {0.9, 0.15}} }

// A shape is one steepness and half-width of the votes, with its weight.
type shape struct{ kappa, c, weight float64 }

// shapes lists the nine of the grid; their weights sum to 1.
func shapes() []shape {
	var list []shape
	var sum float64
	for _, kappa := range []float64{2, 3.5, 6.1} {
		for _, c := range []float64{0.25, 0.45, 0.8} {
			w := math.Exp(-0.5 * (math.Pow(math.Log(kappa/3.5)/0.5, 2) + math.Pow(math.Log(c/0.45)/0.5, 2)))
			list = append(list, shape{kappa, c, w})
			sum += w
		}
	}
	for i := range list {
		list[i].weight /= sum
	}
	return list
}

// flat is votes that ignore the dose: a third each.
func flat() shape { return shape{0.05, math.Ln2 / 0.05, 0.03} }

// below returns the probability that psi lies below each lattice point.
func (q quadrature) below(sd0 float64) [latticeN]float64 {
	var density [latticeN]float64
	add := func(s shape, taus []share) {
		for i := range density {
			psi := latticeLow + latticeStep*float64(i)
			like := s.weight
			for k := range q.x {
				like *= q.likelihood(k, s.kappa, s.c, psi)
			}
			for _, right := range claimSDs(sd0) {
				for _, tau := range taus {
					density[i] += like * right.weight * tau.weight * normalDensity(psi, math.Hypot(right.value, tau.value))
				}
			}
		}
	}
	for _, s := range shapes() {
		add(s, offsetSDs())
	}
	add(flat(), []share{{0.45, 1}})
	var total, reached float64
	for _, d := range density {
		total += d
	}
	for i, d := range density {
		reached += d / total
		density[i] = reached
	}
	return density
}

// One taster's votes, no intensities: the distribution of the importance draws
// against sums over a fine lattice. An effective 1000 draws know a probability
// of 5 % to 0.007 and one of 50 % to 0.016 (standard errors).
func TestAgainstQuadrature(t *testing.T) {
	tests := []struct {
		name   string
		doses  []float64
		votes  [][]int
		within float64
	}{
		{"one vote of too little", []float64{2.83}, [][]int{{-1}}, 0.012},
		{"one vote of right", []float64{2.83}, [][]int{{0}}, 0.012},
		{"one beer twice, of two minds", []float64{4}, [][]int{{-1, 1}}, 0.012},
		{"two brews", []float64{2, 5}, [][]int{{-1}, {1}}, 0.012},
		{"three brews, all too little", []float64{2, 3, 4}, [][]int{{-1}, {-1, -1}, {-1}}, 0.012},
		{"against the dose", []float64{2, 5}, [][]int{{1}, {-1}}, 0.012},
		{"far against the dose", []float64{1, 8}, [][]int{{1}, {-1}}, 0.025}, // peaks so far apart that few draws lie between
		{"against the dose, twice over", []float64{2, 5}, [][]int{{1, 1}, {-1, -1}}, 0.012},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := eightfold()
			q := quadrature{votes: tt.votes}
			for k, d := range tt.doses {
				tr := evidence.Trial{ID: string(rune('1' + k)), DoseGPerL: d}
				for _, v := range tt.votes[k] {
					tr.Scores = append(tr.Scores, evidence.Score{Taster: "A", Vote: &v})
				}
				s.Trials = append(s.Trials, tr)
				q.x = append(q.x, math.Log(d)-math.Log(8)/2)
			}
			want := q.below(math.Sqrt(math.Log(8)*math.Log(8)/12 + 0.09))
			var all []*field.Sample
			for seed := range fits { // one fit has an SD of up to 0.01
				all = append(all, mustFit(t, s, Options{Seed: uint64(seed + 1)}).draws)
			}
			for i := 0; i < latticeN; i += 10 {
				var got float64
				for _, draws := range all {
					for k, psi := range draws.Psi {
						if psi <= latticeLow+latticeStep*(float64(i)+0.5) {
							got += draws.Weight[k] / fits
						}
					}
				}
				if tail := min(want[i], 1-want[i]); math.Abs(got-want[i]) > tt.within+0.06*tail {
					t.Errorf("below %.2f: %.3f, quadrature %.3f", latticeLow+latticeStep*float64(i), got, want[i])
				}
			}
		})
	}
}

// fits is how many fits of other seeds are averaged against an exact answer: what
// is tested is that there is no bias.
const fits = 8

// Several tasters, votes alone: the quantiles of psi against draws from the
// prior weighed by their likelihood, which need no mode. The effective number
// of prior draws is some thousands.
func TestAgainstPriorDraws(t *testing.T) {
	tests := []struct {
		name  string
		doses []float64
		votes [][]int
		ages  []float64 // days; nil: not known
		drink float64
	}{
		{"two brews that contradict", []float64{2, 4}, [][]int{{1, 1, 0}, {-1, -1, -1}}, nil, 0},
		{"two minds", []float64{2, 4}, [][]int{{-1, 0, -1, -1}, {0, 0, 1, -1}}, nil, 0},
		{"all too little", []float64{2, 3}, [][]int{{-1, -1, -1}, {-1, -1, -1}}, nil, 0},
		{"right young, too little old", []float64{3, 3.1}, [][]int{{0, 0, 0}, {-1, -1, 0}}, []float64{30, 100}, 100},
		{"the same, drunk young", []float64{3, 3.1}, [][]int{{0, 0, 0}, {-1, -1, 0}}, []float64{30, 100}, 20},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := eightfold()
			var x []float64
			for k, d := range tt.doses {
				s.Trials = append(s.Trials, unmarked(trial(string(rune('1'+k)), d, tt.votes[k]...)))
				if tt.ages != nil {
					s.Trials[k].DaysOld, s.DrinkAtDays = &tt.ages[k], &tt.drink
				}
				x = append(x, math.Log(d)-math.Log(8)/2)
			}
			want := priorDraws(x, tt.votes, tt.ages, tt.drink, 300000)
			var got [3]float64
			for seed := range fits { // the upper point of one fit has an SD of 0.04
				q := mustFit(t, s, Options{Seed: uint64(seed + 1)}).psiQ
				got[0], got[1], got[2] = got[0]+q.low/fits, got[1]+q.mid/fits, got[2]+q.high/fits
			}
			for i, g := range got {
				if math.Abs(g-want[i]) > 0.04 {
					t.Errorf("point %d: %.3f, prior draws %.3f", i, g, want[i])
				}
			}
		})
	}
}

// priorDraws returns the 5, 50 and 95 % points of psi for votes on brews at
// relative ln doses x, the claim being 8-fold. Ages are in order; the claim holds at
// the first of two, and a week fades by N(0.06, 0.07^2).
func priorDraws(x []float64, votes [][]int, ages []float64, drink float64, n int) []float64 {
	rng := rand.New(rand.NewPCG(4, 4))
	all := shapes()
	psi, s := make([]float64, n), &field.Sample{Weight: make([]float64, n)}
	var total float64
	for i := range n {
		shape := all[rng.IntN(len(all))]
		shape.weight *= float64(len(all))
		tau := pick(rng, offsetSDs())
		if rng.Float64() < 0.03/1.03 {
			shape, tau = flat(), 0.45
			shape.weight = 1
		}
		theta := pick(rng, claimSDs(math.Sqrt(math.Log(8)*math.Log(8)/12+0.09))) * rng.NormFloat64()
		w := shape.weight
		psi[i] = theta
		e := make([]float64, len(x))
		for k := range x {
			e[k] = x[k] + 0.18*rng.NormFloat64()
		}
		if ages != nil {
			fade := (0.06 + 0.07*rng.NormFloat64()) / 7
			for k := range e {
				e[k] -= fade * (ages[k] - ages[0])
			}
			psi[i] += fade * (drink - ages[0])
		}
		tasters := len(votes[0])
		for j := range tasters {
			u := tau * rng.NormFloat64()
			psi[i] += u / float64(tasters)
			for k := range x {
				w *= voteChance(votes[k][j], shape.kappa, shape.c, e[k]-theta-u)
			}
		}
		s.Weight[i] = w
		total += w
	}
	for i := range s.Weight {
		s.Weight[i] /= total
	}
	return s.Points(psi, field.Order(psi), 0.05, 0.5, 0.95)
}

// pick draws one of some values by their weights.
func pick(rng *rand.Rand, list []share) float64 {
	u := rng.Float64()
	for _, s := range list[:len(list)-1] {
		if u < s.weight {
			return s.value
		}
		u -= s.weight
	}
	return list[len(list)-1].value
}
