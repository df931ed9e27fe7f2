package doseresponse

import (
	"math"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// personalShare is the part of the variance of a taster's offsets that goes
// with the person from one material to the next; the rest belongs to the
// pair of person and material. Half is judgement: who likes one spice strong
// tends to like the next one strong.
const personalShare = 0.5

// personalTau is the SD of tasters' offsets taken for remembering, ln dose:
// the middle of the grid of tau on the log scale.
const personalTau = 0.3

// Memory returns what this study alone says of its tasters, by name, in the
// form that Remember takes. What had been remembered when the study was
// fitted is in it: fit with FreshTasters before storing it. Offset and scale are
// u_i and a_i themselves, not those against this panel: their posterior SD says
// how little a small panel tells of them.
func (p *Posterior) Memory() map[string]evidence.TasterPrior {
	out := map[string]evidence.TasterPrior{}
	if !p.scored() {
		return out // the tasters stand for people unknown
	}
	for i, name := range p.prob.Tasters {
		r := evidence.TasterPrior{Sharpness: p.sharpness(i)}
		r.OffsetLn, r.OffsetSDLn = p.draws.Moments(p.draws.Number(2 * i))
		r.Scale, r.ScaleSD = p.draws.Moments(p.draws.Number(2*i + 1))
		out[name] = r
	}
	return out
}

// Remember returns what to expect of a taster in the next study from earlier
// ones, each fitted with fresh tasters; ok is false without any.
//
// Offset and scale of study s are taken as u_s = q + d_s, the person q with
// variance rho tau^2, the pair of person and material d_s with (1-rho) tau^2,
// rho = 0.5. Study s saw u_s with precision 1/v_s - 1/tau^2 (what the data
// added to the prior), v_s its posterior variance. The precisions add up, and
//
//	mean = E q,  variance = var q + (1-rho) tau^2
//
// so the mean is drawn to 0 and the SD never falls below 0.7 tau. Sharpness is
// the geometric mean, drawn to 1 by one study's worth.
func Remember(past []evidence.TasterPrior) (next evidence.TasterPrior, ok bool) {
	if len(past) == 0 {
		return evidence.TasterPrior{}, false
	}
	offset, scale := person{tau: personalTau}, person{tau: field.TasterScale}
	var sharp float64
	for _, r := range past {
		offset.add(r.OffsetLn, r.OffsetSDLn)
		scale.add(r.Scale, r.ScaleSD)
		if r.Sharpness > 0 {
			sharp += math.Log(r.Sharpness)
		}
	}
	next.OffsetLn, next.OffsetSDLn = offset.next()
	next.Scale, next.ScaleSD = scale.next()
	// one more than there are studies: the extra one says 1, as does a taster of whom nothing is known
	next.Sharpness = math.Exp(sharp / float64(len(past)+1))
	return next, true
}

// A person gathers one trait of a taster over studies.
type person struct {
	tau            float64
	weight, moment float64 // precisions, and precision times value
}

// add takes the posterior mean and SD of the trait in one study whose prior
// was N(0, tau^2).
func (q *person) add(mean, sd float64) {
	v, tau2 := sd*sd, q.tau*q.tau
	gained := 1/v - 1/tau2
	// the data added nothing, or rounding made it less: dividing by it would give any value at all
	if !(gained > 1e-9) {
		return
	}
	seen := mean / v / gained // what the data alone say
	// however well one study saw the taster, half of what it saw belongs to its material
	w := 1 / (1/gained + (1-personalShare)*tau2)
	q.weight += w
	q.moment += w * seen
}

// next returns mean and SD of the trait in a new study.
func (q *person) next() (mean, sd float64) {
	tau2 := q.tau * q.tau
	v := 1 / (q.weight + 1/(personalShare*tau2))
	return v * q.moment, math.Sqrt(v + (1-personalShare)*tau2)
}
