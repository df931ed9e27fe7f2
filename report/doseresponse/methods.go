package doseresponse

import (
	"math"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
	"hedgerow/trials/figure"
)

// SDs of the ln of what shares of the potency a brew, and a dosed glass beside a beer,
// bring by themselves.
const (
	BrewSDLn      = field.BatchSDLn
	GlassStepSDLn = field.GlassSDLn
)

// A methodPotency is how much flavour a method gives per gram of effective
// dose, against the reference method.
type methodPotency struct {
	Method     string        // as logged
	Reference  bool          // its potency is 1 by definition
	Potency    figure.Stated // level 0.9
	PriorShare float64       // posterior variance of the ln over prior variance: 1 is all prior
	Trials     int           // dosed trials with votes or intensities
	SideBySide bool          // shares a brew with the reference method
}

// methodPotencies returns the potency of every method among the scored trials, the
// reference first: the median of exp(r_m) with its 5 and 95 % points, the half
// widths in ln widened by the model discrepancy ([1] section 2). From separate
// brews the ratio carries the potency of each brew; a split brew (SideBySide)
// cancels it and is worth three to four separate pairs ([1] section 2.2).
func (p *Posterior) methodPotencies() []methodPotency {
	out := make([]methodPotency, 0, len(p.prob.Methods))
	for i, m := range p.prob.Methods {
		mp := methodPotency{Method: m, Reference: i == 0, Potency: figure.StatedExactly(1)}
		mp.Trials, mp.SideBySide = p.methodTrials(m)
		if k := p.prob.Potency[i]; k >= 0 {
			p.ratio(&mp, 2*len(p.prob.Tasters)+k)
		}
		out = append(out, mp)
	}
	return out
}

// ratio fills in the potency from latent number k, the ln ratio, and the share
// of its prior variance that is still there.
func (p *Posterior) ratio(mp *methodPotency, k int) {
	values := p.draws.Number(k)
	q := bandOf(p.draws, values, field.Order(values))
	low, high := math.Exp(q.mid-widened(q.mid-q.low)), math.Exp(q.mid+widened(q.high-q.mid))
	mp.Potency = figure.StatedBetween(math.Exp(q.mid), low, high, level)
	_, sd := p.draws.Moments(values)
	share := sd / p.prob.Sd[k]
	// draws may come out wider than the prior by chance; more than all of it is prior cannot be
	mp.PriorShare = min(1, share*share)
}

// methodTrials counts the trials of a method and reports whether one of them
// shares a brew with one of the reference method.
func (p *Posterior) methodTrials(m string) (n int, sideBySide bool) {
	brews := map[string]bool{}
	for i, t := range p.study.Trials {
		if t.Informs() && t.Kind != evidence.Glass && t.Method == p.prob.Reference {
			brews[field.BrewOf(i, t)] = true
		}
	}
	for i, t := range p.study.Trials {
		if !t.Informs() || t.Method != m {
			continue
		}
		n++
		// a glass shares no brew: the step to a beer stands between it and the reference
		sideBySide = sideBySide || (t.Kind != evidence.Glass && brews[field.BrewOf(i, t)])
	}
	return n, sideBySide
}

// Reference returns the method that the doses are meant for.
func (p *Posterior) Reference() string { return p.prob.Reference }
