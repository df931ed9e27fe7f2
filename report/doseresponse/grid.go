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
	kappa float64 // steepness of the votes per unit of ln dose
	c     float64 // half-width of "just right", ln dose
	tau   float64 // SD of the tasters' offsets, ln dose
	beta  float64 // intensity points per unit of ln dose
	sy    float64 // SD of one intensity, points
	lnW   float64 // ln prior weight
}

// nodes returns the grid in an order in which neighbours differ in one
// number, so that the mode of one is a good start for the next. Without
// intensities beta and sy have nothing to act on and stay at one value.
func nodes(marks bool) []node {
	kappas := [...]float64{2, 3.5, 6.1}
	cs := [...]float64{0.25, 0.45, 0.8}
	taus := [...]float64{0.2, 0.45}
	betas := []float64{1.4, 2.5, 4.4}
	sys := []float64{1.0, 1.8}
	if !marks {
		betas, sys = betas[1:2], sys[:1]
	}
	all := make([]node, 0, 108)
	// tau turns fastest: it only widens a prior, which moves the mode little
	turn := newTurns(len(cs), len(betas), len(sys), len(taus))
	for _, k := range kappas {
		turn.walk(func(at []int) {
			n := node{kappa: k, c: cs[at[0]], beta: betas[at[1]], sy: sys[at[2]], tau: taus[at[3]]}
			// tau and sy weigh the same at each of their two values and cancel
			n.lnW = lnNear(k, 3.5) + lnNear(n.c, 0.45) + lnNear(n.beta, 2.5)
			all = append(all, n)
		})
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
