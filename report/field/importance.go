package field

import (
	"math"
	"math/rand/v2"
)

// How importance draws are made at a point: from a mixture of two multivariate
// t distributions of tDF degrees of freedom. The near one stands at the mode
// with the curvature of the posterior there, as in [1] section 2. The wide one
// takes only the part tempering of what the answers add to the prior, and
// stands where that would put the mode: it reaches the other peaks that
// contradictory answers make, where some of them count as lapses, without
// getting lost in the directions that only the prior holds.
const (
	tDF       = 8
	tempering = 0.1
)

// Shares of the draws that are wide: few where every vote fits the mode, more
// where one does not and may be a lapse.
const (
	wideAgreed   = 0.1
	wideContrary = 0.4
)

// Importance draws about n vectors and weighs each by exact joint density
// over proposal density,
//
//	w = prior weight_h p(v, scores | h) / (n_h q_h(v))
//
// for a draw v at node h, of which n_h are made from the mixture q_h. The weights then
// estimate the sum over the nodes of the integral over v, whatever the n_h:
// the grid is summed exactly, the Gaussians are only proposals. A t of 8
// degrees of freedom has tails that no posterior here outruns: in every
// direction the density falls at least as fast as the Gaussian prior.
func Importance(f *Field, points []Point, n int, rng *rand.Rand) *Sample {
	counts := make([]int, len(points))
	total := 0
	for i, p := range points {
		// at least a few: a node that the Gaussian underrates would else stay unseen; even, as draws come in pairs
		counts[i] = max(minDraws, 2*int(p.Weight*float64(n)/2+0.5))
		total += counts[i]
	}
	s := newSample(f.Problem, total)
	z := make([]float64, s.Dim)
	for i := range points {
		f.drawPoint(s, &points[i], i, counts[i], z, rng)
	}
	Normalise(s.Weight)
	truncate(s.Weight)
	s.SetPsi(f.Problem)
	return s
}

// drawPoint adds count draws at one point, each followed by its mirror image:
// the mirror takes the noise out of every linear summary. Weights are logs
// until all draws are in. z is scratch of the length of a latent vector.
func (f *Field) drawPoint(s *Sample, p *Point, index, count int, z []float64, rng *rand.Rand) {
	q := f.propose(p)
	pairs := count / 2
	// never none: ln of 0 draws would take the wide part out of the mixture, and with it its bound on the weights
	wide := max(1, int(wideAgreed*float64(pairs)))
	if f.contrary(p.Mode) {
		wide = int(wideContrary * float64(pairs))
	}
	q.lnNear += math.Log(float64(2 * (pairs - wide)))
	q.lnWide += math.Log(float64(2 * wide))
	for k := range pairs {
		r2 := q.draw(z, k < wide, rng)
		for _, side := range [...]float64{1, -1} {
			from := len(s.Latent)
			for j, m := range p.Mode {
				d := side * z[j]
				if k < wide {
					d += q.shift[j]
				}
				s.Latent = append(s.Latent, m+d)
			}
			v := s.Latent[from:]
			s.Point = append(s.Point, index)
			// over the density of both parts together, wherever the draw came from: a point that one part would hardly
			// ever make then gets no huge weight if the other makes it often
			s.Weight = append(s.Weight, f.LnJoint(v)+p.Node.LnW-q.lnDensity(v, r2, k < wide))
		}
	}
}

// contrary reports whether a vote is so unlikely at v that lapses bend its ln
// probability the wrong way: another explanation may then be another peak.
func (f *Field) contrary(v []float64) bool {
	f.doses(v)
	for i := range f.Votes {
		o := &f.Votes[i]
		if _, _, w := f.win[o.Taster].derivatives(o.Vote, f.expo(o, v)); w <= minCurvature {
			return true
		}
	}
	return false
}

// A proposal is the mixture that the draws at a point are made from.
type proposal struct {
	*Point
	wide           *arrow    // factored
	lnNear, lnWide float64   // half the ln determinants, then plus the ln number of draws
	shift          []float64 // centre of the wide part less the mode
	pull           []float64 // H shift, H being the curvature at the mode
	pulled         float64   // shift'H shift
	inv            []float64 // inverse SDs of the prior
}

// propose sets the field to the node of a point and returns its proposal. With
// t the tempering, the wide part has the precision H' = (1-t) P + t H, P being
// that of the prior with mean mu, and its centre is the mode of a Gaussian
// likelihood tempered likewise,
//
//	mode + shift,  H' shift = (1-t) P (mu - mode)
//
// so that H shift = ((1-t) P (mu - mode) - (1-t) P shift)/t. The wide arrow and
// the shift are the field's own and hold until the next assembly.
func (f *Field) propose(p *Point) proposal {
	f.At(p.Node)
	f.Assemble(p.Mode)
	f.temper(tempering, f.inv)
	f.Factor() // tempering keeps it positive definite
	for j, m := range p.Mode {
		f.Grad[j] = (1 - tempering) * f.inv[j] * f.inv[j] * (f.Mean[j] - m)
	}
	f.NewtonStep()
	q := proposal{
		Point: p, wide: &f.arrow, lnNear: p.lnDiag, lnWide: f.LnDiag(),
		shift: f.Step, pull: f.next, inv: f.inv,
	}
	for j, d := range q.shift {
		q.pull[j] = (f.Grad[j] - (1-tempering)*f.inv[j]*f.inv[j]*d) / tempering
		q.pulled += d * q.pull[j]
	}
	return q
}

// draw draws a deviation z from the centre of the near or the wide part and
// returns its squared length z'Hz there.
func (q *proposal) draw(z []float64, wide bool, rng *rand.Rand) float64 {
	var r2 float64
	for j := range z {
		z[j] = rng.NormFloat64()
		r2 += z[j] * z[j]
	}
	if wide {
		q.wide.Spread(z)
	} else {
		q.Near.Spread(z)
	}
	// a Gaussian stretched by a random factor is a t: tails heavier than those of the posterior bound the weights
	stretch := tDF / ChiSquare8(rng)
	scale := math.Sqrt(stretch)
	for j := range z {
		z[j] *= scale
	}
	return r2 * stretch
}

// lnDensity returns the ln of the number of draws at v, up to a constant: that
// of both parts together. r2 is the squared length of v about the centre of
// the part that it came from; with d = v - mode and e = d - shift that about
// the other follows from
//
//	e'H'e = (1-t) e'Pe + t (d'Hd - 2 d'H shift + shift'H shift)
func (q *proposal) lnDensity(v []float64, r2 float64, wide bool) float64 {
	var prior, cross float64
	for j, x := range v {
		d := x - q.Mode[j]
		cross += d * q.pull[j]
		e := (d - q.shift[j]) * q.inv[j]
		prior += e * e
	}
	rest := (1-tempering)*prior + tempering*(q.pulled-2*cross)
	// a difference of large numbers: rounding may leave a squared length just below 0
	near, far := r2, max(0, tempering*r2+rest)
	if wide {
		near, far = max(0, r2-rest)/tempering, r2
	}
	half := 0.5 * (tDF + float64(len(v)))
	a := q.lnNear - half*math.Log1p(near/tDF)
	b := q.lnWide - half*math.Log1p(far/tDF)
	return max(a, b) + math.Log1p(math.Exp(-math.Abs(a-b)))
}

// ChiSquare8 returns a chi-square number of 8 degrees of freedom,
// -2 ln(u1 u2 u3 u4) with the u even in (0, 1].
func ChiSquare8(rng *rand.Rand) float64 {
	u := 1.0
	for range tDF / 2 {
		// Float64 can be 0 but not 1, and ln 0 would make the draw infinite
		u *= 1 - rng.Float64()
	}
	return -2 * math.Log(u)
}
