package doseresponse

import "math"

// assemble returns the ln joint density at v and sets its gradient and the
// three blocks of its negative Hessian.
//
// An answer that depends on v through one number q = g.v + const adds d1 g to
// the gradient and w g g' to the negative Hessian, d1 and -w being the first
// and second derivative of its ln p along q. For a vote q is z, and g has +1
// at the potencies of the trial, -1 at theta and at u_i; for an intensity q is
// m, and g has beta at the potencies, -beta at theta, +1 at alpha and at a_i.
// What a trial adds among the shared numbers is the same for all its
// answers, so d1 and w are summed over the trial first (gatherTrials).
func (f *field) assemble(v []float64) float64 {
	f.doses(v)
	clear(f.couple)
	clear(f.schur)
	clear(f.trial)
	lp := f.assemblePrior(v)
	lp += f.assembleVotes(v)
	lp += f.assembleMarks(v)
	f.gatherTrials()
	return lp
}

// assemblePrior starts gradient and diagonals with the prior, whose numbers
// are independent: -(v - mean)/sd^2 and 1/sd^2. It returns the ln prior.
func (f *field) assemblePrior(v []float64) float64 {
	for i, x := range v {
		w := f.inv[i] * f.inv[i]
		f.grad[i] = -(x - f.mean[i]) * w
		if i < f.own {
			f.diag[i] = w
		} else {
			k := i - f.own
			f.schur[k*f.shared+k] = w
		}
	}
	return f.lnPrior(v)
}

// assembleVotes adds the votes, z = e - theta - u_i, to the gradient and the
// blocks D and C, and to the sums over their trials. It returns their ln
// probability.
func (f *field) assembleVotes(v []float64) float64 {
	lp, prod := 0.0, 1.0
	for i := range f.votes {
		o := &f.votes[i]
		u := 2 * o.taster
		p, d1, w := f.win[o.taster].derivatives(o.vote, f.expo(o, v))
		prod *= p
		if i%100 == 99 {
			lp += math.Log(prod)
			prod = 1
		}
		f.grad[u] -= d1
		f.diag[u] += w
		row := f.couple[u*f.shared : (u+1)*f.shared]
		t := &f.trials[o.trial]
		for _, l := range t.lat[:t.n] {
			row[l] -= w
		}
		row[f.theta] += w
		sum := f.trial[4*o.trial : 4*o.trial+4]
		sum[0] += d1
		sum[1] += w
	}
	return lp + math.Log(prod)
}

// assembleMarks adds the intensities, m = alpha + a_i + beta (e - theta), in
// the same way as assembleVotes and returns their ln density. Inside the scale
// w is 1/sy^2 for all of them; only the ends need lnMark.
func (f *field) assembleMarks(v []float64) float64 {
	theta, alpha := v[f.own+f.theta], v[f.own+f.alpha]
	beta := f.node.beta
	lnSy, inv := f.lnSy, 1/(f.node.sy*f.node.sy)
	var lp float64
	for i := range f.marks {
		o := &f.marks[i]
		a := 2*o.taster + 1
		m := alpha + v[a] + beta*(f.shift[o.trial]-theta)
		l, d1, w := -0.5*(o.y-m)*(o.y-m)*inv-lnSy, (o.y-m)*inv, inv
		if o.y <= 0 || o.y >= 10 {
			l, d1, w = lnMark(o.y, m, f.node.sy)
		}
		lp += l
		f.grad[a] += d1
		f.diag[a] += w
		row := f.couple[a*f.shared : (a+1)*f.shared]
		t := &f.trials[o.trial]
		for _, l := range t.lat[:t.n] {
			row[l] += beta * w
		}
		row[f.theta] -= beta * w
		row[f.alpha] += w
		sum := f.trial[4*o.trial : 4*o.trial+4]
		sum[2] += d1
		sum[3] += w
	}
	return lp
}

// gatherTrials adds the sums over each trial to the shared gradient and S:
// with W the w of the votes plus beta^2 times that of the intensities, every
// pair of potencies of the trial gets W, a potency with theta -W, theta with
// itself W; alpha meets a potency with beta w, theta with -beta w and itself
// with w of the intensities.
func (f *field) gatherTrials() {
	n, beta := f.shared, f.node.beta
	g, s := f.grad[f.own:], f.schur
	for k := range f.trials {
		t := &f.trials[k]
		sum := f.trial[4*k : 4*k+4]
		slope := sum[0] + beta*sum[2]
		w := sum[1] + beta*beta*sum[3]
		for i, l := range t.lat[:t.n] {
			g[l] += slope
			for _, l2 := range t.lat[:i+1] {
				s[max(l, l2)*n+min(l, l2)] += w
			}
			s[f.theta*n+l] -= w
			s[f.alpha*n+l] += beta * sum[3]
		}
		g[f.theta] -= slope
		g[f.alpha] += sum[2]
		s[f.theta*n+f.theta] += w
		s[f.theta*n+f.alpha] -= beta * sum[3]
		s[f.alpha*n+f.alpha] += sum[3]
	}
}

// newtonStep sets step to the solution of (negative Hessian) step = grad and
// returns the decrement grad . step, twice the gain that the step promises.
// With g the tasters' and h the shared part of the gradient,
//
//	(S - C' D^-1 C) s = h - C' D^-1 g,   t = D^-1 (g - C s)
//
// s and t being the shared and the tasters' part of the step.
func (f *field) newtonStep() float64 {
	n := f.shared
	s := f.step[f.own:]
	copy(s, f.grad[f.own:])
	for d := range f.own {
		r := f.grad[d] / f.diag[d]
		for j, c := range f.couple[d*n : (d+1)*n] {
			s[j] -= r * c
		}
	}
	solveLower(f.schur, n, s)
	solveUpper(f.schur, n, s)
	for d := range f.own {
		r := f.grad[d]
		for j, c := range f.couple[d*n : (d+1)*n] {
			r -= c * s[j]
		}
		f.step[d] = r / f.diag[d]
	}
	var dec float64
	for i, g := range f.grad {
		dec += g * f.step[i]
	}
	return dec
}

// Newton stops when the decrement falls below newtonGain: the mode is then
// within sqrt(1e-4) = 0.01 posterior SDs, and the ln density within 5e-5. The
// draws that follow correct what is left.
const newtonGain = 1e-4

// maxNewton bounds the steps; 2 to 6 are common from a neighbour's mode.
const maxNewton = 60

// findMode moves mode to the largest joint density by Newton steps, halved
// when they overshoot, and returns the Laplace approximation of the ln
// evidence of the node,
//
//	ln p(scores) ~ ln joint(mode) - (ln det H)/2 + const
//
// with H the negative Hessian; the constant, (dimension/2) ln 2 pi, is the
// same for all nodes. The blocks then hold the factor at the mode. It returns
// minus infinity when H cannot be factored.
func (f *field) findMode() float64 {
	lp := f.assemble(f.mode)
	for range maxNewton {
		if !f.factor() {
			return math.Inf(-1)
		}
		if f.newtonStep() < newtonGain {
			break
		}
		lp = f.halve(lp)
	}
	return lp - f.lnDiag()
}

// halve takes the step, or the first of its halves that does not lose ln
// density against lp, assembles there and returns the new ln density. After
// 14 halves it takes what it has: the step is then lost in rounding.
func (f *field) halve(lp float64) float64 {
	scale := 1.0
	for {
		for i := range f.mode {
			f.next[i] = f.mode[i] + scale*f.step[i]
		}
		now := f.assemble(f.next)
		if now >= lp-1e-9 || scale < 1e-4 {
			f.mode, f.next = f.next, f.mode
			return now
		}
		scale /= 2
	}
}
