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

// How the importance draws are made. Every point gets draws by its weight
// and at least minDraws; a draw is the mode plus a deviation of the point's
// Gaussian, longer by a factor that makes it a multivariate t of tDF degrees
// of freedom, and it comes together with its mirror image.
const (
	defaultDraws = 4000
	minDraws     = 12
	keptDraws    = 800
	tDF          = 8
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

// importance draws about n vectors and weighs each by exact joint density
// over proposal density,
//
//	w = prior weight_h p(v, scores | h) / (n_h q_h(v))
//
// for a draw v at node h, of which n_h are made from q_h. The weights then
// estimate the sum over the nodes of the integral over v, whatever the n_h:
// the grid is summed exactly, the Gaussians are only proposals. A t of 8
// degrees of freedom has tails that no posterior here outruns: in every
// direction the density falls at least as fast as the Gaussian prior.
func importance(f *field, points []point, n int, rng *rand.Rand) *sample {
	counts := make([]int, len(points))
	total := 0
	for i, p := range points {
		counts[i] = max(minDraws, 2*int(p.weight*float64(n)/2+0.5))
		total += counts[i]
	}
	s := newSample(f.problem, total)
	z := make([]float64, s.dim)
	for i := range points {
		f.drawPoint(s, &points[i], i, counts[i], z, rng)
	}
	normalise(s.weight)
	s.setPsi(f.problem)
	return s
}

// drawPoint adds count draws at one point, half of them mirror images of the
// others: the mirror takes the noise out of every linear summary. Weights are
// logs until all draws are in. z is scratch of the length of a latent vector.
func (f *field) drawPoint(s *sample, p *point, index, count int, z []float64, rng *rand.Rand) {
	f.at(p.node)
	lnCount := math.Log(float64(count))
	d := float64(s.dim)
	for range count / 2 {
		var r2 float64
		for j := range z {
			z[j] = rng.NormFloat64()
			r2 += z[j] * z[j]
		}
		stretch := tDF / chiSquare8(rng)
		r2 *= stretch
		// ln density of the t, without what all draws share
		lnQ := p.lnDiag - 0.5*(tDF+d)*math.Log1p(r2/tDF)
		p.spread(z)
		scale := math.Sqrt(stretch)
		for _, side := range [...]float64{scale, -scale} {
			from := len(s.latent)
			for j, m := range p.mode {
				s.latent = append(s.latent, m+side*z[j])
			}
			s.point = append(s.point, index)
			s.weight = append(s.weight, f.lnJoint(s.latent[from:])+p.node.lnW-lnQ-lnCount)
		}
	}
}

// chiSquare8 returns a chi-square number of 8 degrees of freedom,
// -2 ln(u1 u2 u3 u4) with the u even in (0, 1].
func chiSquare8(rng *rand.Rand) float64 {
	u := 1.0
	for range tDF / 2 {
		u *= 1 - rng.Float64()
	}
	return -2 * math.Log(u)
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

// setPsi fills in the panel mean of the right ln doses, psi = theta + mean
// u_i, of every draw and their order. theta alone is not the dose for these
// people: with few tasters theta and the u_i cannot be told apart, but psi can.
func (s *sample) setPsi(p *problem) {
	s.psi = make([]float64, len(s.weight))
	theta := 2*s.tasters + p.theta
	for i := range s.psi {
		v := s.at(i)
		var u float64
		for j := range s.tasters {
			u += v[2*j]
		}
		s.psi[i] = v[theta] + u/float64(s.tasters)
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
		for ; float64(taken)+0.5 < reached*float64(n); taken++ {
			for j := range z {
				z[j] = rng.NormFloat64()
			}
			points[i].spread(z)
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
	at := make([]int, len(values))
	for i := range at {
		at[i] = i
	}
	slices.SortFunc(at, func(a, b int) int { return cmp.Compare(values[a], values[b]) })
	return at
}

// points returns the values of v below which the given shares (ascending) of
// the weight lie, with the draws taken in the given ascending order of v.
func (s *sample) points(v []float64, order []int, shares ...float64) []float64 {
	out := make([]float64, 0, len(shares))
	var reached float64
	for _, i := range order {
		middle := reached + s.weight[i]/2
		reached += s.weight[i]
		for len(out) < len(shares) && middle >= shares[len(out)] {
			out = append(out, v[i])
		}
	}
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
