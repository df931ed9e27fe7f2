package doseresponse

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// A sample is a set of draws of the latent vector with their weights.
type sample struct {
	dim     int       // length of the latent vector
	latent  []float64 // dim numbers a draw
	point   []int     // index of the point of each draw
	weight  []float64 // sums to 1
	psi     []float64 // panel mean of the right ln doses, relative
	order   []int     // draws in order of psi
	tasters int       // number of tasters, whose numbers come first
}

// at returns the latent vector of draw i.
func (s *sample) at(i int) []float64 { return s.latent[i*s.dim : (i+1)*s.dim] }

// Numbers of draws.
const (
	defaultDraws = 4000 // importance draws of a fit ([1] section 2)
	minDraws     = 12   // at least, at a grid node
	keptDraws    = 800  // equally weighted ones that decisions are made on
)

// newSample takes the memory for n draws of the latent vector of a problem.
func newSample(p *problem, n int) *sample {
	dim := 2*len(p.tasters) + p.shared
	return &sample{
		dim:     dim,
		latent:  make([]float64, 0, n*dim),
		point:   make([]int, 0, n),
		weight:  make([]float64, 0, n),
		tasters: len(p.tasters),
	}
}

// normalise turns ln weights into weights that sum to 1. The largest is taken
// off first, so that nothing overflows.
func normalise(w []float64) {
	best := slices.Max(w)
	var sum float64
	for i, l := range w {
		w[i] = math.Exp(l - best)
		sum += w[i]
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
	var sum float64
	for i := range w {
		w[i] = min(w[i], most)
		sum += w[i]
	}
	for i := range w {
		w[i] /= sum
	}
}

// setPsi fills in the panel mean of the right ln doses, psi = theta + mean
// u_i, of every draw and their order. theta alone is not the dose for these
// people: with few tasters theta and the u_i cannot be told apart, but psi can.
func (s *sample) setPsi(p *problem) {
	s.psi = make([]float64, len(s.weight))
	for i := range s.psi {
		v := s.at(i)
		var u float64
		for _, j := range p.panel {
			u += v[2*j]
		}
		s.psi[i] = p.right(v) + u/float64(len(p.panel))
	}
	s.order = order(s.psi)
}

// gaussian draws n vectors from the Gaussian mixture itself, equally weighted;
// a point gets its share of them to one.
func gaussian(p *problem, points []point, n int, rng *rand.Rand) *sample {
	s := newSample(p, n)
	var reached float64
	taken := 0
	z := make([]float64, s.dim)
	for i := range points {
		reached += points[i].weight
		// by the running sum, since shares rounded one by one need not add up to n
		for ; float64(taken)+0.5 < reached*float64(n); taken++ {
			for j := range z {
				z[j] = rng.NormFloat64()
			}
			points[i].near.spread(z)
			for j, m := range points[i].mode {
				s.latent = append(s.latent, m+z[j])
			}
			s.point = append(s.point, i)
			s.weight = append(s.weight, 1)
		}
	}
	for i := range s.weight {
		s.weight[i] = 1 / float64(len(s.weight))
	}
	s.setPsi(p)
	return s
}

// resample returns n equally weighted draws by systematic resampling in the
// order of psi: draw i is taken as often as n w_i, rounded up or down, so that
// the distribution of psi is kept to 1/n.
func (s *sample) resample(p *problem, n int) *sample {
	out := newSample(p, n)
	out.psi = make([]float64, 0, n)
	var reached float64
	for _, i := range s.order {
		reached += s.weight[i]
		// from a fixed start, not a random one as in textbooks: one more random number would only add noise
		for float64(len(out.point))+0.5 < reached*float64(n) && len(out.point) < n {
			out.latent = append(out.latent, s.at(i)...)
			out.point = append(out.point, s.point[i])
			out.weight = append(out.weight, 1/float64(n))
			out.psi = append(out.psi, s.psi[i])
		}
	}
	return out
}

// order returns the indices of values in ascending order of value.
func order(values []float64) []int {
	type ranked struct {
		value float64
		index int
	}
	list := make([]ranked, len(values))
	for i, v := range values {
		list[i] = ranked{v, i}
	}
	slices.SortFunc(list, func(a, b ranked) int { return cmp.Compare(a.value, b.value) })
	at := make([]int, len(list))
	for i, r := range list {
		at[i] = r.index
	}
	return at
}

// points returns the values of v below which the given shares (ascending) of
// the weight lie, with the draws taken in the given ascending order of v.
func (s *sample) points(v []float64, order []int, shares ...float64) []float64 {
	out := make([]float64, 0, len(shares))
	var reached float64
	for _, i := range order {
		// half of a draw's own weight lies below it: with all or none of it every point would be half a draw off
		middle := reached + s.weight[i]/2
		reached += s.weight[i]
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

// number returns latent number k of every draw.
func (s *sample) number(k int) []float64 {
	values := make([]float64, len(s.weight))
	for i := range values {
		values[i] = s.at(i)[k]
	}
	return values
}

// moments returns the weighted mean and SD of one value a draw.
func (s *sample) moments(values []float64) (mean, sd float64) {
	for i, w := range s.weight {
		mean += w * values[i]
	}
	for i, w := range s.weight {
		d := values[i] - mean
		sd += w * d * d
	}
	return mean, math.Sqrt(sd)
}
