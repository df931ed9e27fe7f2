package doseresponse

import (
	"math"

	"hedgerow/report/field"
	"hedgerow/trials/figure"
)

// A Next is the dose to brew next, in the reference method, with the share of
// each vote to expect of the panel for a fresh brew of it.
type next struct {
	DoseGPerL      float64 // effective
	PTooLittle     float64 // share of the votes to expect; the three sum to 1
	PRight         float64
	PTooMuch       float64
	PNearBest      float64 // chance to reach 90 % of the best attainable share of "just right"
	ExpectedRegret float64 // share of the best attainable "just right" given away, on average
}

// nearBest is the part of the best attainable share of "just right" that
// counts as near it ([1] section 2).
const nearBest = 0.9

// NextDose returns the dose with the largest expected share of "just right",
// moved out of what the panel refused and below every dose at which a taste to
// avoid is likely over its limit; a dose that is brewed again or was tasted on the
// way stays as it was.
//
// With a target intensity it is the dose at which the panel's mean intensity
// is as likely above as below the target; PNearBest is then the chance that
// the mean is within 1 point of it, and ExpectedRegret the expected miss as a
// share of the scale.
func (p *Posterior) NextDose() next { return p.ruleOnce().next }

// decide finds the best dose.
func (p *Posterior) decide() {
	if p.study.TargetIntensity != nil {
		p.aim()
		p.right90 = bandOf(p.draws, p.aims, field.Order(p.aims))
		p.best = p.right90.mid
		return
	}
	p.best = p.bestDose()
	p.right90 = p.psiQ
}

// expect returns what to expect of relative ln dose x.
func (p *Posterior) expect(x float64) next {
	n := next{DoseGPerL: p.dose(x)}
	n.PTooLittle, n.PRight, n.PTooMuch = p.votesAt(x)
	if p.study.TargetIntensity != nil {
		n.PNearBest, n.ExpectedRegret = p.miss(x)
		return n
	}
	n.PNearBest, n.ExpectedRegret = p.regret(x)
	return n
}

// regret returns the chance that relative ln dose x reaches nearBest of the
// best attainable share of "just right", and the expected part of it that x
// gives away. Where the votes ignore the dose no beer is near the best, and nothing
// is known of what is given away.
func (p *Posterior) regret(x float64) (near, lost float64) {
	here := p.newScan().at(x)
	var shares [bestSteps + 1]float64
	use := p.ordinary(1)
	for _, i := range use {
		best := p.attainable(i, &shares)
		// attainable looks in steps: a dose between two of them may beat it by a hair, and that is no negative regret
		ratio := min(1, here.panel(i)/best)
		if ratio >= nearBest {
			near++
		}
		lost += 1 - ratio
	}
	n := float64(len(p.kept.Point))
	if len(use) == 0 {
		return fromDraws(0, n), 1
	}
	return fromDraws(near/n, n), lost / float64(len(use))
}

// fromDraws returns a chance that is the share of n draws. None or all of them
// only say that it is small or large: it is then taken for half a draw, since
// no chance here is nothing.
func fromDraws(share, n float64) float64 { return max(0.5/n, min(1-0.5/n, share)) }

// dose returns the dose in g/L at relative ln dose x.
func (p *Posterior) dose(x float64) float64 { return math.Exp(x + p.prob.Origin) }

// relative returns the relative ln dose of a dose in g/L.
func (p *Posterior) relative(dose float64) float64 { return math.Log(dose) - p.prob.Origin }

// The best dose is looked for in scanSteps steps over all draws of the
// panel's right dose and scanBeyond on either side, with every scanStride-th
// draw, and then with all draws between the neighbours of the highest.
const (
	scanSteps  = 40
	scanBeyond = 0.3
	scanStride = 8
)

// tiedShare is how much less of "just right" a lower dose may promise and still be
// taken: of two equal camps, or two clusters of claims, chance would choose one.
const tiedShare = 0.01

// bestDose returns the relative ln dose with the largest expected share of
// "just right", of equal peaks the lowest.
func (p *Posterior) bestDose() float64 {
	lo, hi := p.psiRange()
	// with a lopsided panel the best dose is not its mean and may stand past the outermost draw
	lo, hi = lo-scanBeyond, hi+scanBeyond
	step := (hi - lo) / scanSteps
	shares := make([]float64, scanSteps+1)
	look := p.newScan()
	for k := range shares {
		// few draws will do to find the hill; its top is then looked for with all of them
		shares[k] = look.at(lo + float64(k)*step).mean(scanStride)
	}
	at := lo + float64(lowestPeak(shares, int(math.Ceil(math.Log(peaksApart)/step))))*step
	return goldenMax(func(x float64) float64 { return look.at(x).mean(1) }, at-step, at+step)
}

// peaksApart is the factor between the doses of two peaks from which on they are two:
// nearer ones are the ripples of few draws on one.
const peaksApart = 1.5

// lowestPeak returns the place of the largest share, or of the lowest peak before it,
// at least apart places away, that is within tiedShare of it.
func lowestPeak(shares []float64, apart int) int {
	top := 0
	for k, r := range shares {
		if r > shares[top] {
			top = k
		}
	}
	for k := 1; k <= top-apart; k++ {
		if shares[k] >= shares[top]-tiedShare && shares[k] >= shares[k-1] && shares[k] >= shares[k+1] {
			return k
		}
	}
	return top
}

// psiRange returns the lowest and highest panel mean among the kept draws.
func (p *Posterior) psiRange() (lo, hi float64) {
	lo, hi = p.kept.Psi[0], p.kept.Psi[0]
	for _, x := range p.kept.Psi {
		lo, hi = min(lo, x), max(hi, x)
	}
	return lo, hi
}

// goldenTol is the width, in ln dose, at which the search for a maximum
// stops: a hundredth of a dose cannot be tasted.
const goldenTol = 0.01

// goldenMax returns where f, with one peak between lo and hi, is largest, by
// golden section.
func goldenMax(f func(float64) float64, lo, hi float64) float64 {
	g := (math.Sqrt(5) - 1) / 2
	a, b := hi-g*(hi-lo), lo+g*(hi-lo)
	fa, fb := f(a), f(b)
	for hi-lo > goldenTol {
		if fa < fb {
			lo, a, fa = a, b, fb
			b = lo + g*(hi-lo)
			fb = f(b)
		} else {
			hi, b, fb = b, a, fa
			a = hi - g*(hi-lo)
			fa = f(a)
		}
	}
	return (lo + hi) / 2
}

// side returns -1 when every vote is too little, +1 when every one is too
// much, and else 0. Who dosed to taste found both sides.
func (p *Posterior) side() int {
	own := p.prob.OwnVotes()
	if len(own) == 0 || len(p.prob.Notes) > 0 {
		return 0
	}
	first := own[0].Vote
	for _, v := range own {
		if v.Vote != first {
			return 0
		}
	}
	return first
}

// nearTarget is how close to the target, in points, the panel's mean
// intensity counts as near: half the common noise of a single score.
const nearTarget = 1.0

// meanScale returns the intensity that the panel gives on average at the
// right dose of the reference, alpha + mean a_i.
func (p *Posterior) meanScale(v []float64) float64 {
	var a float64
	for _, j := range p.prob.Panel {
		a += v[2*j+1]
	}
	return v[2*len(p.prob.Tasters)+p.prob.Alpha] + a/float64(len(p.prob.Panel))
}

// aim fills in, for every draw, the relative ln dose at which the panel's
// mean intensity is the target: theta + (target - alpha - mean a_i)/beta.
func (p *Posterior) aim() {
	target := *p.study.TargetIntensity
	p.aims = make([]float64, len(p.draws.Weight))
	for i, at := range p.draws.Point {
		v := p.draws.At(i)
		p.aims[i] = p.prob.Right(v) + (target-p.meanScale(v))/p.points[at].Node.Beta
	}
}

// miss returns the chance that the panel's mean intensity at relative ln dose
// x is within nearTarget of the target, and the expected distance from it as
// a share of the scale.
func (p *Posterior) miss(x float64) (near, far float64) {
	for i, at := range p.draws.Point {
		d := math.Abs(x-p.aims[i]) * p.points[at].Node.Beta
		if d <= nearTarget {
			near += p.draws.Weight[i]
		}
		far += p.draws.Weight[i] * d / 10
	}
	return fromDraws(near, float64(len(p.draws.Point))), far
}

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
// and widened on either side by the model discrepancy. Where there may be two
// peaks (see manyPeaked) the limits stay where they are, stretched to hold the
// value and the doses of both camps; where the beers are to be tasted again they are
// those of the advice alone. It reaches to the next dose where a limit or a
// beer to repeat holds that back. With a target intensity it is the dose that
// reaches the target.
func (p *Posterior) RightDose() figure.Stated {
	q, _ := p.spreadOfRight()
	low, high := p.best-widened(q.mid-q.low), p.best+widened(q.high-q.mid)
	if p.study.TargetIntensity == nil && p.manyPeaked() {
		low, high = p.spanning(min(q.low, p.best), max(q.high, p.best))
		low, high = p.best-widened(p.best-low), p.best+widened(high-p.best)
	} else if p.study.TargetIntensity == nil {
		low, high = p.spanning(low, high)
	}
	next := p.relative(p.NextDose().DoseGPerL)
	return figure.StatedBetween(p.dose(p.best), p.dose(min(low, next)), p.dose(max(high, next)), level)
}

// spanning returns limits stretched to the doses of both camps.
func (p *Posterior) spanning(low, high float64) (float64, float64) {
	if s := p.twoCamps(); s.Likely {
		for _, c := range s.Camps {
			x := p.relative(c.Dose.Value)
			low, high = min(low, x), max(high, x)
		}
	}
	return low, high
}

// manyPeaked reports whether the right dose may have several peaks, of which the
// best dose stands on one: claims in several clusters, two camps, votes that may
// ignore the dose. To move an interval to one peak would leave out the others. One
// taster alone makes no peak of the panel.
func (p *Posterior) manyPeaked() bool {
	camps := p.twoCamps()
	return len(field.ClaimClusters(p.study.ClaimsGPerL)) > 1 || p.ignored() > ignoreMaybe || camps.Likely && !camps.Lone
}

// A band is the limits and the middle of a 90 % interval.
type band struct{ low, mid, high float64 }

// bandOf returns the 5, 50 and 95 % points of one value a draw.
func bandOf(s *field.Sample, values []float64, order []int) band {
	q := s.Points(values, order, lowShare, 0.5, highShare)
	return band{q[0], q[1], q[2]}
}

// setPsi fills in limits, middle and SD of the panel's right ln dose.
func (p *Posterior) setPsi() {
	p.psiQ = bandOf(p.draws, p.draws.Psi, p.draws.Order)
	_, p.psiSD = p.draws.Moments(p.draws.Psi)
}
