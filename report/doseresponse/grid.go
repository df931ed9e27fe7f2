package doseresponse

import "math"

// lapse is the share of votes that are given without regard to the beer:
// every probability p of a vote becomes 0.97 p + 0.01 ([1] section 2).
const (
	lapseKeep  = 0.97
	lapseFloor = 0.01
)

// A node is one point of the grid over the numbers that are not latent
// Gaussian ([1] section 2).
type node struct {
	kappa   float64 // steepness of the votes per unit of ln dose
	c       float64 // half-width of "just right", ln dose
	tau     float64 // SD of the tasters' offsets, ln dose
	beta    float64 // intensity points per unit of ln dose
	sy      float64 // SD of one intensity, points
	right   lnPrior // of the right ln dose, relative
	ignores bool    // the answers do not follow the dose
	lnW     float64 // ln prior weight
}

// apartTau is the SD of the tasters' offsets, ln dose, when they may stand in two
// camps: of two camps 4-fold apart the offsets are 0.69 to either side, and any
// smaller SD shrinks them into one. What is remembered of a taster does not hold
// there: in another panel the same person was of no camp.
const apartTau = 0.9

// taus are the SDs of the tasters' offsets with their weights.
func taus() []weighted { return []weighted{{0.2, 0.425}, {0.45, 0.425}, {apartTau, 0.15}} }

// A weighted is a value with its weight.
type weighted struct{ value, weight float64 }

// ignoreShare is the weight of the nodes in which the answers do not follow the
// dose, judgement: windows that are flat, with a third for every vote, and
// intensities without a slope.
const (
	ignoreShare = 0.03
	flatKappa   = 0.05
	flatBeta    = 0.01
	flatTau     = 0.45
)

// flatWindow is the half-width of "just right" that gives each vote a third at
// the right dose, ln 2/kappa.
func flatWindow() float64 { return math.Ln2 / flatKappa }

// A family is the nodes of one prior of the right dose and one SD of the tasters'
// offsets, in an order in which neighbours differ in one number, so that the mode
// of one is a good start for the next.
type family []node

// families returns the grid. Without intensities beta and sy have nothing to act
// on and stay at one value. The weights of the ordinary nodes sum to 1: those that
// ignore the dose are weighed against them.
func families(parts []priorPart, taus []weighted, marks bool) []family {
	inner := innerNodes(marks)
	var all []family
	for _, part := range parts {
		for _, tau := range taus {
			nodes := make(family, len(inner))
			for i, n := range inner {
				n.tau, n.right = tau.value, part.lnPrior
				n.lnW += math.Log(part.weight * tau.weight)
				nodes[i] = n
			}
			all = append(all, nodes)
		}
	}
	return all
}

// innerNodes returns the grid over the numbers of the answers.
func innerNodes(marks bool) []node {
	kappas := [...]float64{2, 3.5, 6.1}
	cs := [...]float64{0.25, 0.45, 0.8}
	betas, sys := betasAndNoises(marks)
	var all []node
	var sum float64
	turn := newTurns(len(cs), len(betas), len(sys))
	for _, k := range kappas {
		turn.walk(func(at []int) {
			n := node{kappa: k, c: cs[at[0]], beta: betas[at[1]], sy: sys[at[2]]}
			n.lnW = lnNear(k, 3.5) + lnNear(n.c, 0.45) + lnNear(n.beta, 2.5)
			sum += math.Exp(n.lnW)
			all = append(all, n)
		})
	}
	for i := range all {
		all[i].lnW -= math.Log(sum)
	}
	return all
}

// betasAndNoises returns the grid over slope and noise of the intensities.
func betasAndNoises(marks bool) (betas, sys []float64) {
	betas, sys = []float64{1.4, 2.5, 4.4}, []float64{1.0, 1.8}
	if !marks {
		return betas[1:2], sys[:1]
	}
	return betas, sys
}

// ignoring returns the nodes in which the answers do not follow the dose: the
// right dose keeps its prior, and no dose is better than another.
func ignoring(parts []priorPart, marks bool) family {
	_, sys := betasAndNoises(marks)
	var all family
	for _, part := range parts {
		for _, sy := range sys {
			all = append(all, node{
				kappa: flatKappa, c: flatWindow(), tau: flatTau, beta: flatBeta, sy: sy,
				right: part.lnPrior, ignores: true,
				lnW: math.Log(ignoreShare * part.weight / float64(len(sys))),
			})
		}
	}
	return all
}

// lnNear returns the ln weight of a grid value v about its centre,
// -((ln v/centre)/0.5)^2 / 2.
func lnNear(v, centre float64) float64 {
	d := math.Log(v/centre) / 0.5
	return -0.5 * d * d
}

// turns walks a product of index ranges like a reflected counter: each step
// changes one index by one, and a new walk starts where the last one ended.
type turns struct{ size, at, dir []int }

func newTurns(size ...int) *turns {
	t := &turns{size: size, at: make([]int, len(size)), dir: make([]int, len(size))}
	for i := range t.dir {
		t.dir[i] = 1
	}
	return t
}

// walk calls visit for every combination of indices.
func (t *turns) walk(visit func(at []int)) {
	for {
		visit(t.at)
		if !t.step() {
			return
		}
	}
}

// step moves the last index that can still move and turns those after it; it
// reports false when none can, with all of them turned for the next walk.
func (t *turns) step() bool {
	for i := len(t.at) - 1; i >= 0; i-- {
		next := t.at[i] + t.dir[i]
		if next >= 0 && next < t.size[i] {
			t.at[i] = next
			return true
		}
		// turned, not set back to its start: a jump across the grid would cost the next mode many steps
		t.dir[i] = -t.dir[i]
	}
	return false
}
