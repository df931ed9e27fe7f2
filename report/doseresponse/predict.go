package doseresponse

import "math"

// brewShrink is the factor of the approximation of a logistic function
// averaged over a normal number of variance v,
// E L(k z) ~ L(k z / sqrt(1 + 0.346 k^2 v)) ([1] section 2).
const brewShrink = 0.346

// setWindows prepares, for each point and taster, the window averaged over
// the potency of a fresh brew.
func (p *Posterior) setWindows() {
	p.windows = make([]window, 0, len(p.points)*len(p.prob.tasters))
	for i := range p.points {
		n := &p.points[i].node
		for _, sharp := range p.prob.sharp {
			k := n.kappa * sharp
			k /= math.Sqrt(1 + brewShrink*k*k*batchSDLn*batchSDLn)
			p.windows = append(p.windows, window{k, math.Exp(k * n.c)})
		}
	}
}

// panelRight returns the share of "just right" among the panel that a fresh
// brew at relative ln dose x has under kept draw i.
func (p *Posterior) panelRight(i int, x float64) float64 {
	v := p.kept.at(i)
	n := p.kept.tasters
	x -= v[2*n+p.prob.theta]
	at := p.kept.point[i] * n
	var sum float64
	for j, w := range p.windows[at : at+n] {
		sum += w.right(x - v[2*j])
	}
	return sum / float64(n)
}

// right returns the expected share of "just right" at x over every stride-th
// kept draw.
func (p *Posterior) right(x float64, stride int) float64 {
	var sum float64
	n := 0
	for i := 0; i < len(p.kept.point); i += stride {
		sum += p.panelRight(i, x)
		n++
	}
	return sum / float64(n)
}

// votesAt returns the expected shares of the three votes at relative ln dose
// x, of votes given with regard to the beer, over all draws.
func (p *Posterior) votesAt(x float64) (little, right, much float64) {
	n := p.draws.tasters
	for i, at := range p.draws.point {
		v := p.draws.at(i)
		theta := v[2*n+p.prob.theta]
		share := p.draws.weight[i] / float64(n)
		for j, w := range p.windows[at*n : (at+1)*n] {
			l, _, m := w.chances(x - theta - v[2*j])
			little, much = little+share*l, much+share*m
		}
	}
	return little, 1 - little - much, much
}

// bestSteps is the number of steps over the tasters' right doses in which the
// best attainable share of a draw is looked for.
const bestSteps = 8

// attainable returns the largest share of "just right" that any dose has
// under kept draw i. It lies between the lowest and the highest of the
// tasters' right doses, because every window rises before and falls after it.
func (p *Posterior) attainable(i int) float64 {
	v := p.kept.at(i)
	n := p.kept.tasters
	lo, hi := v[0], v[0]
	for j := range n {
		lo, hi = min(lo, v[2*j]), max(hi, v[2*j])
	}
	theta := v[2*n+p.prob.theta]
	step := (hi - lo) / bestSteps
	var at [bestSteps + 1]float64
	top := 0
	for k := range at {
		at[k] = p.panelRight(i, theta+lo+float64(k)*step)
		if at[k] > at[top] {
			top = k
		}
	}
	if top == 0 || top == bestSteps {
		return at[top]
	}
	return peak(at[top-1], at[top], at[top+1])
}

// peak returns the height of the parabola through three values at equal steps
// of which the middle one is the largest.
func peak(left, mid, right float64) float64 {
	bend := left - 2*mid + right
	if bend >= 0 {
		return mid
	}
	d := left - right
	return mid - d*d/(8*bend)
}
