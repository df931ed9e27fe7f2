package doseresponse

import (
	"cmp"
	"math"
	"slices"
)

// assemble returns the ln joint density at v and sets its gradient and the
// three parts of its negative Hessian.
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
	clear(f.brews)
	clear(f.couple)
	clear(f.core)
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
		if i < f.size {
			f.core[i*f.size+i] = w
		}
	}
	inv := f.inv[f.size:]
	for _, b := range f.blocks {
		square := f.square(b)
		for i, r := range inv[b.from : b.from+b.size] {
			square[i*b.size+i] = r * r
		}
	}
	return f.lnPrior(v)
}

// assembleVotes adds the votes, z = e - theta - u_i, to the gradient and the
// entries of their taster, and to the sums over their trials. It returns their
// ln probability.
func (f *field) assembleVotes(v []float64) float64 {
	lp, prod := 0.0, 1.0
	for i := range f.votes {
		o := &f.votes[i]
		u := 2 * o.taster
		p, d1, w := f.win[o.taster].derivatives(o.vote, f.expo(o, v))
		if f.whole {
			prod *= p
		} else {
			trust := f.trust[o.taster]
			d1, w, lp = trust*d1, trust*w, lp+trust*math.Log(p)
		}
		// one logarithm for 100 votes: more factors of 0.01 would come near the smallest float
		if i%100 == 99 {
			lp += math.Log(prod)
			prod = 1
		}
		f.grad[u] -= d1
		f.core[u*f.size+u] += w
		f.meet(&f.trials[o.trial], u, -w)
		f.core[(f.own+f.theta)*f.size+u] += w
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
		// nothing is known beyond the ends but that the taster would have gone there
		if o.y <= 0 || o.y >= 10 {
			l, d1, w = lnMark(o.y, m, f.node.sy)
		}
		if trust := f.trust[o.taster]; trust < 1 {
			l, d1, w = trust*l, trust*d1, trust*w
		}
		lp += l
		f.grad[a] += d1
		f.core[a*f.size+a] += w
		f.meet(&f.trials[o.trial], a, beta*w)
		f.core[(f.own+f.theta)*f.size+a] -= beta * w
		f.core[(f.own+f.alpha)*f.size+a] += w
		sum := f.trial[4*o.trial : 4*o.trial+4]
		sum[2] += d1
		sum[3] += w
	}
	return lp
}

// meet adds w to the entries of number k of the core, which comes before all
// common numbers, with every potency of a trial.
func (f *field) meet(t *trialTerm, k int, w float64) {
	for i, l := range t.lat[:t.wide] {
		f.core[(f.own+l)*f.size+k] += t.by[i] * w
	}
	for _, l := range t.lat[t.wide:t.n] {
		f.couple[(l-f.common)*f.size+k] += w
	}
}

// gatherTrials adds the sums over each trial to the shared gradient and to the
// entries of shared numbers: with W the w of the votes plus beta^2 times that of
// the intensities, every pair of potencies of the trial gets W, a potency with
// theta -W, theta with itself W; alpha meets a potency with beta w, theta with
// -beta w and itself with w of the intensities.
func (f *field) gatherTrials() {
	beta, g := f.node.beta, f.grad[f.own:]
	theta, alpha := f.own+f.theta, f.own+f.alpha
	rowT, rowA := f.core[theta*f.size:(theta+1)*f.size], f.core[alpha*f.size:(alpha+1)*f.size]
	for k := range f.trials {
		t := &f.trials[k]
		sum := f.trial[4*k : 4*k+4]
		slope := sum[0] + beta*sum[2]
		w := sum[1] + beta*beta*sum[3]
		for i, l := range t.lat[:t.n] {
			g[l] += t.by[i] * slope
		}
		for i, l := range t.lat[:t.wide] {
			by := t.by[i]
			rowT[f.own+l] -= by * w
			rowA[f.own+l] += by * beta * sum[3]
			for i2, l2 := range t.lat[:i+1] {
				f.core[(f.own+max(l, l2))*f.size+f.own+min(l, l2)] += by * t.by[i2] * w
			}
		}
		f.gatherBrew(t, w, beta*sum[3])
		g[f.theta] -= slope
		g[f.alpha] += sum[2]
		rowT[theta] += w
		rowT[alpha] -= beta * sum[3]
		rowA[alpha] += sum[3]
	}
}

// gatherBrew adds what one trial says of the numbers of its brew: w for every
// pair of its potencies, -w with theta, wAlpha with alpha.
func (f *field) gatherBrew(t *trialTerm, w, wAlpha float64) {
	// a glass with an exact dose has no numbers of its own, and then no block
	if t.wide == t.n {
		return
	}
	b := f.blocks[t.block]
	square := f.square(b)
	for i, l := range t.lat[t.wide:t.n] {
		row := f.couple[(l-f.common)*f.size:]
		row[f.own+f.theta] -= w
		row[f.own+f.alpha] += wAlpha
		for i2, l2 := range t.lat[:t.wide] {
			row[f.own+l2] += t.by[i2] * w
		}
		for _, l2 := range t.lat[t.wide : t.wide+i+1] {
			hi, lo := max(l, l2)-f.common-b.from, min(l, l2)-f.common-b.from
			square[hi*b.size+lo] += w
		}
	}
}

// newtonStep sets step to the solution of (negative Hessian) step = grad and
// returns the decrement grad . step, twice the gain that the step promises.
func (f *field) newtonStep() float64 {
	copy(f.step, f.grad)
	f.solve(f.step)
	return dot(f.grad, f.step)
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
// same for all nodes. The arrow then holds the factor at the mode. It returns
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
		// a loss within rounding counts as none, else the last step before the mode is halved for nothing
		if now >= lp-1e-9 || scale < 1e-4 {
			f.mode, f.next = f.next, f.mode
			return now
		}
		scale /= 2
	}
}

// A point is the Gaussian approximation of the posterior at one grid node.
type point struct {
	node   node
	lnW    float64   // ln of evidence times prior weight of the node
	weight float64   // share of exp(lnW) among the kept points
	mode   []float64 // latent vector of largest density
	near   arrow     // factored negative Hessian at the mode
	lnDiag float64   // half the ln determinant of it
}

// dropBelow is the share of the best node under which a node is left out
// ([1] section 2).
const dropBelow = 0.002

// A familyLeft is one whose best of a few nodes is this many ln units below that
// of the best family, and which is left out: e^-5.3 is 0.005, and of a family
// hardly any node would be kept.
const familyLeft = 5.3

// A node whose relative in the best family is this many ln units below the best
// there is left out in the others: it would have to gain more than e^3 to be kept.
const relativeLeft = 9.2

// laplace returns the nodes of the grid that matter with their Gaussian
// approximations and weights,
//
//	weight_h ~ prior weight_h * evidence_h,  sum 1 over the kept nodes
//
// so that the posterior of the latent vector is about the mixture
// sum_h weight_h N(mode_h, H_h^-1). The search at a node starts at the mode of
// the one before it. The best family is gone through whole, the others as far as
// they and their nodes promise something; the flat nodes come last, far from all
// others.
func laplace(f *field, families []family, flat family) []point {
	order, promise := f.probe(families)
	c := collection{best: math.Inf(-1)}
	var first []float64
	for at, k := range order {
		if promise[k] < promise[order[0]]-familyLeft {
			break
		}
		most := 0.0
		if at > 0 {
			most = slices.Max(first)
		}
		for i, n := range families[k] {
			if at > 0 && first[i] < most-relativeLeft {
				continue
			}
			lnW := c.visit(f, n)
			if at == 0 {
				first = append(first, lnW)
			}
		}
	}
	for _, n := range flat {
		c.visit(f, n)
	}
	return c.weighed()
}

// probe returns the families in order of what they promise, the most first: the
// largest weight of evidence among a few of their nodes.
func (f *field) probe(families []family) (order []int, promise []float64) {
	for k, nodes := range families {
		best := math.Inf(-1)
		for i := probes; i >= 1; i-- {
			n := nodes[(2*i-1)*len(nodes)/(2*probes)]
			f.at(n)
			best = max(best, f.findMode()+n.lnW)
		}
		order, promise = append(order, k), append(promise, best)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(promise[b], promise[a]) })
	return order, promise
}

// probes is how many nodes of a family are looked at before it is gone through.
const probes = 4

// A collection is the points that were found so far.
type collection struct {
	points []point
	best   float64 // largest lnW
}

// visit finds the mode at a node, keeps it when it matters, and returns its ln
// weight.
func (c *collection) visit(f *field, n node) float64 {
	f.at(n)
	lnW := f.findMode() + n.lnW
	if lnW > c.best+math.Log(dropBelow) {
		c.points = append(c.points, f.snapshot(lnW))
		c.best = max(c.best, lnW)
	}
	return lnW
}

// weighed returns the points that matter with their weights.
func (c *collection) weighed() []point {
	kept := slices.DeleteFunc(c.points, func(p point) bool { return !(p.lnW >= c.best+math.Log(dropBelow)) })
	var sum float64
	for i := range kept {
		kept[i].weight = math.Exp(kept[i].lnW - c.best)
		sum += kept[i].weight
	}
	for i := range kept {
		kept[i].weight /= sum
	}
	return kept
}

// snapshot copies mode and factor out of the working memory.
func (f *field) snapshot(lnW float64) point {
	flat := make([]float64, 0, len(f.brews)+len(f.couple)+len(f.core)+len(f.mode))
	keep := func(part []float64) []float64 {
		from := len(flat)
		flat = append(flat, part...)
		return flat[from:len(flat):len(flat)]
	}
	return point{
		node:   f.node,
		lnW:    lnW,
		mode:   keep(f.mode),
		near:   arrow{f.blocks, keep(f.brews), keep(f.couple), keep(f.core), f.size},
		lnDiag: f.lnDiag(),
	}
}
