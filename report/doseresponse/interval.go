package doseresponse

import (
	"math"

	"hedgerow/trials/figure"
)

// level is the level of every interval here, in the tail shares low and high.
const (
	level     = 0.9
	lowShare  = 0.05
	highShare = 0.95
)

// discrepancy is the SD, in ln dose, of what the model itself gets wrong: the
// simulated intervals hold only with it ([1] section 2). It widens a
// half-width h to sqrt(h^2 + (1.645*0.12)^2).
const discrepancy = 0.12

// widened returns a half-width with the model discrepancy.
func widened(h float64) float64 { return math.Hypot(h, 1.645*discrepancy) }

// RightDose returns the right dose of the panel in the reference method, g/L,
// with its 90 % interval: the value is the best dose, the limits are those of
// the tasters' mean right ln dose, moved from its median to the best dose
// and widened on either side by the model discrepancy. With a target
// intensity it is the dose that reaches the target.
func (p *Posterior) RightDose() figure.Stated {
	q := p.right90
	low := p.dose(p.best - widened(q.mid-q.low))
	high := p.dose(p.best + widened(q.high-q.mid))
	return figure.StatedBetween(p.dose(p.best), low, high, level)
}

// A band is the limits and the middle of a 90 % interval.
type band struct{ low, mid, high float64 }

// band returns the 5, 50 and 95 % points of one value a draw.
func (s *sample) band(values []float64, order []int) band {
	q := s.points(values, order, lowShare, 0.5, highShare)
	return band{q[0], q[1], q[2]}
}

// setPsi fills in limits, middle and SD of the panel's right ln dose.
func (p *Posterior) setPsi() {
	p.psiQ = p.draws.band(p.draws.psi, p.draws.order)
	_, p.psiSD = p.draws.moments(p.draws.psi)
}
