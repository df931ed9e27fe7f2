package doseresponse

import "math"

// nearTarget is how close to the target, in points, the panel's mean
// intensity counts as near: half the common noise of a single score.
const nearTarget = 1.0

// meanScale returns the intensity that the panel gives on average at the
// right dose of the reference, alpha + mean a_i.
func (p *Posterior) meanScale(v []float64) float64 {
	n := len(p.prob.tasters)
	var a float64
	for j := range n {
		a += v[2*j+1]
	}
	return v[2*n+p.prob.alpha] + a/float64(n)
}

// aim fills in, for every draw, the relative ln dose at which the panel's
// mean intensity is the target: theta + (target - alpha - mean a_i)/beta.
func (p *Posterior) aim() {
	target := *p.study.TargetIntensity
	theta := 2*len(p.prob.tasters) + p.prob.theta
	p.aims = make([]float64, len(p.draws.weight))
	for i, at := range p.draws.point {
		v := p.draws.at(i)
		p.aims[i] = v[theta] + (target-p.meanScale(v))/p.points[at].node.beta
	}
}

// miss returns the chance that the panel's mean intensity at relative ln dose
// x is within nearTarget of the target, and the expected distance from it as
// a share of the scale.
func (p *Posterior) miss(x float64) (near, far float64) {
	for i, at := range p.draws.point {
		d := math.Abs(x-p.aims[i]) * p.points[at].node.beta
		if d <= nearTarget {
			near += p.draws.weight[i]
		}
		far += p.draws.weight[i] * d / 10
	}
	return fromDraws(near, float64(len(p.draws.point))), far
}
