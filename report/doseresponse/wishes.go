package doseresponse

import (
	"math"

	"hedgerow/report/wishes"
)

// likedNear returns what the likings say of the plant near its right dose.
func (p *Posterior) likedNear() wishes.Liking { return p.nearOnce() }

// weighNear works out likedNear.
func (p *Posterior) weighNear() wishes.Liking {
	return wishes.Fitted{Study: p.study, Problem: p.prob, Kept: p.kept, Ordinary: p.ordinary(1),
		Sides: p.sides}.Liking()
}

// sides returns the panel, in two where it is cut into camps.
func (p *Posterior) sides() [][]int {
	if s := p.twoCamps(); s.Likely {
		return [][]int{s.Camps[0].panel, s.Camps[1].panel}
	}
	return [][]int{p.prob.Panel}
}

// weighAvoid works out what every taste to avoid allows.
func (p *Posterior) weighAvoid() []wishes.Keeping {
	return wishes.Keepings(p.study, p.prob.Origin, p.prior.Sd)
}

// avoidLimit returns the largest relative ln dose at which every taste to avoid
// that some dose keeps is as likely as not within its limit; ok is false when there
// is none.
func (p *Posterior) avoidLimit() (limit float64, ok bool) {
	limit = math.Inf(1)
	for _, k := range p.avoidOnce() {
		if k.Kept {
			limit, ok = min(limit, k.Limit), true
		}
	}
	return limit, ok
}
