package doseresponse

import "math"

// Spacing of the jars of a split: every step is twice spreadShare of the SD
// of the right ln dose, and at least twice minSpread ([1] section 1).
const (
	spreadShare = 0.30
	minSpread   = 0.10
)

// Spread returns n doses, g/L, for the jars of one split brew,
//
//	d_j = d * exp(s (2j - n + 1)),  s = max(0.10, 0.30 SD),  j = 0..n-1
//
// with d the next dose and SD that of the panel's right ln dose. Four jars are
// what [1] tried. When a taste is to be avoided d is lowered until the last
// jar stands at its limit. It returns nil for n below 1.
func (p *Posterior) Spread(n int) []float64 {
	if n < 1 {
		return nil
	}
	s := max(minSpread, spreadShare*p.psiSD)
	d := p.next.DoseGPerL
	if limit, ok := p.avoidLimit(); ok {
		d = min(d, p.dose(limit-s*float64(n-1)))
	}
	doses := make([]float64, n)
	for j := range doses {
		doses[j] = d * math.Exp(s*float64(2*j-n+1))
	}
	return doses
}

// Glasses returns the doses of a bench series, g/L, in ascending order: 0 as
// an anchor, and five glasses at the 10, 30, 50, 70 and 90 % points of the
// range of the claims on the log axis, or of the posterior when there are
// scores or no claims. All glasses get the same amount of liquid.
func (p *Posterior) Glasses() []float64 {
	doses := []float64{0}
	shares := []float64{0.1, 0.3, 0.5, 0.7, 0.9}
	claims := p.study.ClaimsGPerL
	if len(p.prob.trials) > 0 || len(claims) == 0 {
		for _, x := range p.draws.points(p.draws.psi, p.draws.order, shares...) {
			doses = append(doses, p.dose(x))
		}
		return doses
	}
	lo, hi := claimRange(claims)
	for _, share := range shares {
		doses = append(doses, lo*math.Pow(hi/lo, share))
	}
	return doses
}

// claimRange returns the lowest and the highest dose of all claims.
func claimRange(claims [][2]float64) (lo, hi float64) {
	lo, hi = claims[0][0], claims[0][1]
	for _, c := range claims {
		lo, hi = min(lo, c[0]), max(hi, c[1])
	}
	return lo, hi
}
