package field

import "math"

// lapse is the share of votes that are given without regard to the beer:
// every probability p of a vote becomes 0.97 p + 0.01 ([1] section 2).
const (
	lapseKeep  = 0.97
	lapseFloor = 0.01
)

// A Node is one point of the grid over the numbers that are not latent
// Gaussian ([1] section 2).
type Node struct {
	Kappa   float64 // steepness of the votes per unit of ln dose
	C       float64 // half-width of "just right", ln dose
	Tau     float64 // SD of the tasters' offsets, ln dose
	Beta    float64 // intensity points per unit of ln dose
	Sy      float64 // SD of one intensity, points
	right   LnPrior // of the right ln dose, relative
	Ignores bool    // the answers do not follow the dose
	LnW     float64 // ln prior weight
}

// apartTau is the SD of the tasters' offsets, ln dose, when they may stand in two
// camps: of two camps 4-fold apart the offsets are 0.69 to either side, and any
// smaller SD shrinks them into one. What is remembered of a taster does not hold
// there: in another panel the same person was of no camp.
const apartTau = 0.9

// Taus are the SDs of the tasters' offsets with their weights.
func Taus() []Weighted { return []Weighted{{0.2, 0.425}, {0.45, 0.425}, {apartTau, 0.15}} }

// A Weighted is a value with its weight.
type Weighted struct{ Value, Weight float64 }

// ignoreShare is the weight of the nodes in which the answers do not follow the
// dose, judgement: windows that are flat, with a third for every vote, and
// intensities without a slope.
const (
	IgnoreShare = 0.03
	flatKappa   = 0.05
	flatBeta    = 0.01
	flatTau     = 0.45
)

// flatWindow is the half-width of "just right" that gives each vote a third at
// the right dose, ln 2/kappa.
func flatWindow() float64 { return math.Ln2 / flatKappa }

// A Family is the nodes of one prior of the right dose and one SD of the tasters'
// offsets, in an order in which neighbours differ in one number, so that the mode
// of one is a good start for the next.
type Family []Node

// Families returns the grid. Without intensities beta and sy have nothing to act
// on and stay at one value. The weights of the ordinary nodes sum to 1: those that
// ignore the dose are weighed against them.
func Families(parts []PriorPart, taus []Weighted, marks bool) []Family {
	inner := innerNodes(marks)
	var all []Family
	for _, part := range parts {
		for _, tau := range taus {
			nodes := make(Family, len(inner))
			for i, n := range inner {
				n.Tau, n.right = tau.Value, part.LnPrior
				n.LnW += math.Log(part.Weight * tau.Weight)
				nodes[i] = n
			}
			all = append(all, nodes)
		}
	}
	return all
}

// innerNodes returns the grid over the numbers of the answers.
func innerNodes(marks bool) []Node {
	kappas := [...]float64{2, 3.5, 6.1}
	cs := [...]float64{0.25, 0.45, 0.8}
	betas, sys := betasAndNoises(marks)
	var all []Node
	var sum float64
	turn := newTurns(len(cs), len(betas), len(sys))
	for _, k := range kappas {
		turn.walk(func(at []int) {
			n := Node{Kappa: k, C: cs[at[0]], Beta: betas[at[1]], Sy: sys[at[2]]}
			n.LnW = lnNear(k, 3.5) + lnNear(n.C, 0.45) + lnNear(n.Beta, 2.5)
			sum += math.Exp(n.LnW)
			all = append(all, n)
		})
	}
	for i := range all {
		all[i].LnW -= math.Log(sum)
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

// Ignoring returns the nodes in which the answers do not follow the dose: the
// right dose keeps its prior, and no dose is better than another.
func Ignoring(parts []PriorPart, marks bool) Family {
	_, sys := betasAndNoises(marks)
	var all Family
	for _, part := range parts {
		for _, sy := range sys {
			all = append(all, Node{
				Kappa: flatKappa, C: flatWindow(), Tau: flatTau, Beta: flatBeta, Sy: sy,
				right: part.LnPrior, Ignores: true,
				LnW: math.Log(IgnoreShare * part.Weight / float64(len(sys))),
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
