package field

import (
	"math"
	"math/rand/v2"
	"slices"
)

// A Sample is a set of draws of the latent vector with their weights.
type Sample struct {
	Dim     int       // length of the latent vector
	Latent  []float64 // dim numbers a draw
	Point   []int     // index of the point of each draw
	Weight  []float64 // sums to 1
	Psi     []float64 // panel mean of the right ln doses, relative
	Order   []int     // draws in order of psi
	Tasters int       // number of tasters, whose numbers come first
}

// At returns the latent vector of draw i.
func (s *Sample) At(i int) []float64 { return s.Latent[i*s.Dim : (i+1)*s.Dim] }

// Numbers of draws.
const (
	DefaultDraws = 4000 // importance draws of a fit ([1] section 2)
	minDraws     = 12   // at least, at a grid node
	KeptDraws    = 800  // equally weighted ones that decisions are made on
)

// newSample takes the memory for n draws of the latent vector of a problem.
func newSample(p *Problem, n int) *Sample {
	dim := 2*len(p.Tasters) + p.Shared
	return &Sample{
		Dim:     dim,
		Latent:  make([]float64, 0, n*dim),
		Point:   make([]int, 0, n),
		Weight:  make([]float64, 0, n),
		Tasters: len(p.Tasters),
	}
}

// Normalise turns ln weights into weights that sum to 1. The largest is taken
// off first, so that nothing overflows.
func Normalise(w []float64) {
	best := slices.Max(w)
	for i, l := range w {
		w[i] = math.Exp(l - best)
	}
	Rescale(w)
}

// Rescale divides weights by their sum.
func Rescale(w []float64) {
	var sum float64
	for _, x := range w {
		sum += x
	}
	for i := range w {
		w[i] /= sum
	}
}

// truncate keeps a draw from counting for more than 1/sqrt(n) of all n: one in the
// far tail, where the draws are too rare, could else move the answer by itself.
// Source: Ionides 2008, J. Comput. Graph. Stat. 17, 295-311.
func truncate(w []float64) {
	most := 1 / math.Sqrt(float64(len(w)))
	for i := range w {
		w[i] = min(w[i], most)
	}
	Rescale(w)
}

// SetPsi fills in the panel mean of the right ln doses, psi = theta + mean
// u_i, of every draw and their order. theta alone is not the dose for these
// people: with few tasters theta and the u_i cannot be told apart, but psi can.
func (s *Sample) SetPsi(p *Problem) {
	s.Psi = make([]float64, len(s.Weight))
	for i := range s.Psi {
		v := s.At(i)
		var u float64
		for _, j := range p.Panel {
			u += v[2*j]
		}
		s.Psi[i] = p.Right(v) + u/float64(len(p.Panel))
	}
	s.Order = Order(s.Psi)
}

// Gaussian draws n vectors from the Gaussian mixture itself, equally weighted;
// a point gets its share of them to one.
func Gaussian(p *Problem, points []Point, n int, rng *rand.Rand) *Sample {
	s := newSample(p, n)
	var reached float64
	taken := 0
	z := make([]float64, s.Dim)
	for i := range points {
		reached += points[i].Weight
		// by the running sum, since shares rounded one by one need not add up to n
		for ; float64(taken)+0.5 < reached*float64(n); taken++ {
			for j := range z {
				z[j] = rng.NormFloat64()
			}
			points[i].Near.Spread(z)
			for j, m := range points[i].Mode {
				s.Latent = append(s.Latent, m+z[j])
			}
			s.Point = append(s.Point, i)
			s.Weight = append(s.Weight, 1)
		}
	}
	for i := range s.Weight {
		s.Weight[i] = 1 / float64(len(s.Weight))
	}
	s.SetPsi(p)
	return s
}

// Resample returns n equally weighted draws by systematic resampling in the
// order of psi: draw i is taken as often as n w_i, rounded up or down, so that
// the distribution of psi is kept to 1/n.
func (s *Sample) Resample(p *Problem, n int) *Sample {
	out := newSample(p, n)
	out.Psi = make([]float64, 0, n)
	var reached float64
	for _, i := range s.Order {
		reached += s.Weight[i]
		// from a fixed start, not a random one as in textbooks: one more random number would only add noise
		for float64(len(out.Point))+0.5 < reached*float64(n) && len(out.Point) < n {
			out.Latent = append(out.Latent, s.At(i)...)
			out.Point = append(out.Point, s.Point[i])
			out.Weight = append(out.Weight, 1/float64(n))
			out.Psi = append(out.Psi, s.Psi[i])
		}
	}
	return out
}

// Order returns the indices of values in ascending order of value.
func Order(values []float64) []int {
	type ranked struct {
		value float64
		index int
	}
	list := make([]ranked, len(values))
	for i, v := range values {
		list[i] = ranked{v, i}
	}
	// not cmp.Compare, which looks for NaN at every step: a draw is never one
	slices.SortFunc(list, func(a, b ranked) int {
		switch {
		case a.value < b.value:
			return -1
		case a.value > b.value:
			return 1
		}
		return 0
	})
	at := make([]int, len(list))
	for i, r := range list {
		at[i] = r.index
	}
	return at
}

// Points returns the values of v below which the given shares (ascending) of
// the weight lie, with the draws taken in the given ascending order of v.
func (s *Sample) Points(v []float64, order []int, shares ...float64) []float64 {
	out := make([]float64, 0, len(shares))
	var reached float64
	for _, i := range order {
		// half of a draw's own weight lies below it: with all or none of it every point would be half a draw off
		middle := reached + s.Weight[i]/2
		reached += s.Weight[i]
		for len(out) < len(shares) && middle >= shares[len(out)] {
			out = append(out, v[i])
		}
	}
	// rounding can leave the sum of the weights short of the last share
	for len(out) < len(shares) {
		out = append(out, v[order[len(order)-1]])
	}
	return out
}

// Number returns latent number k of every draw.
func (s *Sample) Number(k int) []float64 {
	values := make([]float64, len(s.Weight))
	for i := range values {
		values[i] = s.At(i)[k]
	}
	return values
}

// Moments returns the weighted mean and SD of one value a draw.
func (s *Sample) Moments(values []float64) (mean, sd float64) {
	for i, w := range s.Weight {
		mean += w * values[i]
	}
	for i, w := range s.Weight {
		d := values[i] - mean
		sd += w * d * d
	}
	return mean, math.Sqrt(sd)
}
