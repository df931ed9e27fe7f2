package doseresponse

import (
	"math"
	"slices"

	"hedgerow/report/field"
)

// brewShrink is the factor of the approximation of a logistic function
// averaged over a normal number of variance v,
// E L(k z) ~ L(k z / sqrt(1 + 0.346 k^2 v)) ([1] section 2).
const brewShrink = 0.346

// setWindows prepares, for each point and taster, the window averaged over
// the potency of a fresh brew.
func (p *Posterior) setWindows() {
	p.windows = make([]field.Window, 0, len(p.points)*len(p.prob.Tasters))
	for i := range p.points {
		n := &p.points[i].Node
		for _, sharp := range p.prob.Sharp {
			k := n.Kappa * sharp
			// a fresh brew differs from what was meant, so that votes of it follow the dose less steeply
			k /= math.Sqrt(1 + brewShrink*k*k*field.BatchSDLn*field.BatchSDLn)
			p.windows = append(p.windows, field.Window{Kappa: k, A: math.Exp(k * n.C)})
		}
	}
}

// setTastes prepares exp(-kappa t) for every kept draw and taster, t being the
// taster's right ln dose: with it E at a dose x is a product, see scan.
func (p *Posterior) setTastes() {
	n := p.kept.Tasters
	p.tastes = make([]float64, 0, n*len(p.kept.Point))
	for i, at := range p.kept.Point {
		v := p.kept.At(i)
		theta := p.prob.Right(v)
		for j, w := range p.windows[at*n : (at+1)*n] {
			p.tastes = append(p.tastes, field.BoundedExp(-w.Kappa*(theta+v[2*j])))
		}
	}
}

// A scan evaluates shares of "just right" at one dose after the other. It holds
// exp(kappa x) of every point and taster for the dose at hand, so that a draw
// needs no exponential of its own.
type scan struct {
	*Posterior
	grown []float64
}

// newScan returns a scan that stands nowhere yet; use at.
func (p *Posterior) newScan() *scan { return &scan{p, make([]float64, len(p.windows))} }

// at moves the scan to relative ln dose x.
func (s *scan) at(x float64) *scan {
	for k, w := range s.windows {
		s.grown[k] = field.BoundedExp(w.Kappa * x)
	}
	return s
}

// panel returns the share of "just right" among the panel that a fresh brew
// has under kept draw i.
func (s *scan) panel(i int) float64 {
	n := s.kept.Tasters
	at := s.kept.Point[i] * n
	tastes, grown, windows := s.tastes[i*n:(i+1)*n], s.grown[at:at+n], s.windows[at:at+n]
	var sum float64
	for _, j := range s.prob.Panel {
		sum += windows[j].RightAt(tastes[j] * grown[j])
	}
	return sum / float64(len(s.prob.Panel))
}

// mean returns the expected share of "just right" over every stride-th kept
// draw.
func (s *scan) mean(stride int) float64 {
	var sum float64
	n := 0
	for i := 0; i < len(s.kept.Point); i += stride {
		sum += s.panel(i)
		n++
	}
	return sum / float64(n)
}

// votesAt returns the expected shares of the three votes at relative ln dose
// x, of votes given with regard to the beer, over all draws.
func (p *Posterior) votesAt(x float64) (little, right, much float64) {
	n := p.draws.Tasters
	for i, at := range p.draws.Point {
		v := p.draws.At(i)
		theta := p.prob.Right(v)
		// every taster counts alike, however many beers each has scored: the dose is for all who drink
		share := p.draws.Weight[i] / float64(len(p.prob.Panel))
		windows := p.windows[at*n : (at+1)*n]
		for _, j := range p.prob.Panel {
			l, r, m := windows[j].Chances(x - theta - v[2*j])
			little, right, much = little+share*l, right+share*r, much+share*m
		}
	}
	return little, right, much
}

// bestSteps is the number of steps over the tasters' right doses in which the
// best attainable share of a draw is looked for. The windows are wide against
// such a step: the best is found to about 0.002.
const bestSteps = 8

// attainable returns the largest share of "just right" that any dose has
// under kept draw i. It lies between the lowest and the highest of the
// tasters' right doses, because every window rises before and falls after it.
// E of a taster grows by one factor from step to step. shares is scratch.
func (p *Posterior) attainable(i int, shares *[bestSteps + 1]float64) float64 {
	v := p.kept.At(i)
	n := p.kept.Tasters
	panel := p.prob.Panel
	lo, hi := v[2*panel[0]], v[2*panel[0]]
	for _, j := range panel {
		lo, hi = min(lo, v[2*j]), max(hi, v[2*j])
	}
	step := (hi - lo) / bestSteps
	*shares = [bestSteps + 1]float64{}
	windows := p.windows[p.kept.Point[i]*n : (p.kept.Point[i]+1)*n]
	for _, j := range panel {
		w := windows[j]
		e, grow := w.Expo(lo-v[2*j]), w.Expo(step)
		for k := range shares {
			shares[k] += w.RightAt(e) / float64(len(panel))
			// a product for each step in place of an exponential: this runs for every draw and taster
			e *= grow
		}
	}
	return slices.Max(shares[:])
}
