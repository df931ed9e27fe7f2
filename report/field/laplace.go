package field

import (
	"cmp"
	"math"
	"slices"
)

// Assemble returns the ln joint density at v and sets its gradient and the
// three parts of its negative Hessian.
//
// An answer that depends on v through one number q = g.v + const adds d1 g to
// the gradient and w g g' to the negative Hessian, d1 and -w being the first
// and second derivative of its ln p along q. For a vote q is z, and g has +1
// at the potencies of the trial, -1 at theta and at u_i; for an intensity q is
// m, and g has beta at the potencies, -beta at theta, +1 at alpha and at a_i.
// What a trial adds among the shared numbers is the same for all its
// answers, so d1 and w are summed over the trial first (gatherTrials).
func (f *Field) Assemble(v []float64) float64 {
	f.doses(v)
	clear(f.brews)
	clear(f.couple)
	clear(f.Core)
	clear(f.trial)
	lp := f.assemblePrior(v)
	lp += f.assembleVotes(v)
	lp += f.assembleMarks(v)
	f.gatherTrials()
	lp += f.assembleNotes(v)
	return lp
}

// assemblePrior starts gradient and diagonals with the prior, whose numbers
// are independent: -(v - mean)/sd^2 and 1/sd^2. It returns the ln prior.
func (f *Field) assemblePrior(v []float64) float64 {
	for i, x := range v {
		w := f.inv[i] * f.inv[i]
		f.Grad[i] = -(x - f.Mean[i]) * w
		if i < f.Size {
			f.Core[i*f.Size+i] = w
		}
	}
	inv := f.inv[f.Size:]
	for _, b := range f.Blocks {
		square := f.Square(b)
		for i, r := range inv[b.From : b.From+b.Size] {
			square[i*b.Size+i] = r * r
		}
	}
	return f.lnPrior(v)
}

// assembleVotes adds the votes, z = e - theta - u_i, to the gradient and the
// entries of their taster, and to the sums over their trials. It returns their
// ln probability.
func (f *Field) assembleVotes(v []float64) float64 {
	lp, prod := 0.0, 1.0
	for i := range f.Votes {
		o := &f.Votes[i]
		u := 2 * o.Taster
		p, d1, w := f.win[o.Taster].derivatives(o.Vote, f.expo(o, v))
		if f.Whole {
			prod *= p
		} else {
			trust := f.Trust[o.Taster]
			d1, w, lp = trust*d1, trust*w, lp+trust*math.Log(p)
		}
		// one logarithm for 100 votes: more factors of 0.01 would come near the smallest float
		if i%100 == 99 {
			lp += math.Log(prod)
			prod = 1
		}
		f.Grad[u] -= d1
		f.Core[u*f.Size+u] += w
		f.meet(&f.Beers[o.Trial], u, -w)
		f.Core[(f.Own+f.Theta)*f.Size+u] += w
		sum := f.trial[4*o.Trial : 4*o.Trial+4]
		sum[0] += d1
		sum[1] += w
	}
	return lp + math.Log(prod)
}

// assembleMarks adds the intensities, m = alpha + a_i + beta (e - theta), in
// the same way as assembleVotes and returns their ln density. Inside the scale
// w is 1/sy^2 for all of them; only the ends need lnMark.
func (f *Field) assembleMarks(v []float64) float64 {
	theta, alpha := v[f.Own+f.Theta], v[f.Own+f.Alpha]
	beta := f.node.Beta
	lnSy, inv := f.lnSy, 1/(f.node.Sy*f.node.Sy)
	var lp float64
	for i := range f.Marks {
		o := &f.Marks[i]
		a := 2*o.Taster + 1
		m := alpha + v[a] + beta*(f.shift[o.Trial]-theta)
		l, d1, w := -0.5*(o.Y-m)*(o.Y-m)*inv-lnSy, (o.Y-m)*inv, inv
		// nothing is known beyond the ends but that the taster would have gone there
		if o.Y <= 0 || o.Y >= 10 {
			l, d1, w = lnMark(o.Y, m, f.node.Sy)
		}
		if trust := f.Trust[o.Taster]; trust < 1 {
			l, d1, w = trust*l, trust*d1, trust*w
		}
		lp += l
		f.Grad[a] += d1
		f.Core[a*f.Size+a] += w
		f.meet(&f.Beers[o.Trial], a, beta*w)
		f.Core[(f.Own+f.Theta)*f.Size+a] -= beta * w
		f.Core[(f.Own+f.Alpha)*f.Size+a] += w
		sum := f.trial[4*o.Trial : 4*o.Trial+4]
		sum[2] += d1
		sum[3] += w
	}
	return lp
}

// meet adds w to the entries of number k of the core, which comes before all
// common numbers, with every potency of a trial.
func (f *Field) meet(t *TrialTerm, k int, w float64) {
	for i, l := range t.Lat[:t.wide] {
		f.Core[(f.Own+l)*f.Size+k] += t.By[i] * w
	}
	for _, l := range t.Lat[t.wide:t.Count] {
		f.couple[(l-f.common)*f.Size+k] += w
	}
}

// gatherTrials gathers every trial.
func (f *Field) gatherTrials() {
	for k := range f.Beers {
		f.gather(&f.Beers[k], f.trial[4*k:4*k+4])
	}
}

// gather adds the sums over one trial to the shared gradient and to the
// entries of shared numbers: with W the w of the votes plus beta^2 times that of
// the intensities, every pair of potencies of the trial gets W, a potency with
// theta -W, theta with itself W; alpha meets a potency with beta w, theta with
// -beta w and itself with w of the intensities.
func (f *Field) gather(t *TrialTerm, sum []float64) {
	beta, g := f.node.Beta, f.Grad[f.Own:]
	theta, alpha := f.Own+f.Theta, f.Own+f.Alpha
	rowT, rowA := f.Core[theta*f.Size:(theta+1)*f.Size], f.Core[alpha*f.Size:(alpha+1)*f.Size]
	slope := sum[0] + beta*sum[2]
	w := sum[1] + beta*beta*sum[3]
	for i, l := range t.Lat[:t.Count] {
		g[l] += t.By[i] * slope
	}
	for i, l := range t.Lat[:t.wide] {
		by := t.By[i]
		rowT[f.Own+l] -= by * w
		rowA[f.Own+l] += by * beta * sum[3]
		for i2, l2 := range t.Lat[:i+1] {
			f.Core[(f.Own+max(l, l2))*f.Size+f.Own+min(l, l2)] += by * t.By[i2] * w
		}
	}
	f.gatherBrew(t, w, beta*sum[3])
	g[f.Theta] -= slope
	g[f.Alpha] += sum[2]
	rowT[theta] += w
	rowT[alpha] -= beta * sum[3]
	rowA[alpha] += sum[3]
}

// gatherBrew adds what one trial says of the numbers of its brew: w for every
// pair of its potencies, -w with theta, wAlpha with alpha.
func (f *Field) gatherBrew(t *TrialTerm, w, wAlpha float64) {
	// a glass with an exact dose has no numbers of its own, and then no block
	if t.wide == t.Count {
		return
	}
	b := f.Blocks[t.block]
	square := f.Square(b)
	for i, l := range t.Lat[t.wide:t.Count] {
		row := f.couple[(l-f.common)*f.Size:]
		row[f.Own+f.Theta] -= w
		row[f.Own+f.Alpha] += wAlpha
		for i2, l2 := range t.Lat[:t.wide] {
			row[f.Own+l2] += t.By[i2] * w
		}
		for _, l2 := range t.Lat[t.wide : t.wide+i+1] {
			hi, lo := max(l, l2)-f.common-b.From, min(l, l2)-f.common-b.From
			square[hi*b.Size+lo] += w
		}
	}
}

// NewtonStep sets step to the solution of (negative Hessian) step = grad and
// returns the decrement grad . step, twice the gain that the step promises.
func (f *Field) NewtonStep() float64 {
	copy(f.Step, f.Grad)
	f.solve(f.Step)
	return Dot(f.Grad, f.Step)
}

// Newton stops when the decrement falls below newtonGain: the mode is then
// within sqrt(1e-4) = 0.01 posterior SDs, and the ln density within 5e-5. The
// draws that follow correct what is left.
const NewtonGain = 1e-4

// maxNewton bounds the steps; 2 to 6 are common from a neighbour's mode.
const maxNewton = 60

// FindMode moves mode to the largest joint density by Newton steps, halved
// when they overshoot, and returns the Laplace approximation of the ln
// evidence of the node,
//
//	ln p(scores) ~ ln joint(mode) - (ln det H)/2 + const
//
// with H the negative Hessian; the constant, (dimension/2) ln 2 pi, is the
// same for all nodes. The arrow then holds the factor at the mode. It returns
// minus infinity when H cannot be factored.
func (f *Field) FindMode() float64 {
	lp := f.Assemble(f.Mode)
	for range maxNewton {
		if !f.Factor() {
			return math.Inf(-1)
		}
		if f.NewtonStep() < NewtonGain {
			break
		}
		lp = f.halve(lp)
	}
	return lp - f.LnDiag()
}

// halve takes the step, or the first of its halves that does not lose ln
// density against lp, assembles there and returns the new ln density. After
// 14 halves it takes what it has: the step is then lost in rounding.
func (f *Field) halve(lp float64) float64 {
	scale := 1.0
	for {
		for i := range f.Mode {
			f.next[i] = f.Mode[i] + scale*f.Step[i]
		}
		now := f.Assemble(f.next)
		// a loss within rounding counts as none, else the last step before the mode is halved for nothing
		if now >= lp-1e-9 || scale < 1e-4 {
			f.Mode, f.next = f.next, f.Mode
			return now
		}
		scale /= 2
	}
}

// A Point is the Gaussian approximation of the posterior at one grid node.
type Point struct {
	Node   Node      // the grid point
	LnW    float64   // ln of evidence times prior weight of the node
	Weight float64   // share of exp(lnW) among the kept points
	Mode   []float64 // latent vector of largest density
	Near   arrow     // factored negative Hessian at the mode
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

// Laplace returns the nodes of the grid that matter with their Gaussian
// approximations and weights,
//
//	weight_h ~ prior weight_h * evidence_h,  sum 1 over the kept nodes
//
// so that the posterior of the latent vector is about the mixture
// sum_h weight_h N(mode_h, H_h^-1). The search at a node starts at the mode of
// the one before it. The best family is gone through whole, the others as far as
// they and their nodes promise something; the flat nodes come last, far from all
// others.
func Laplace(f *Field, families []Family, flat Family) []Point {
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
func (f *Field) probe(families []Family) (order []int, promise []float64) {
	for k, nodes := range families {
		best := math.Inf(-1)
		for i := probes; i >= 1; i-- {
			n := nodes[(2*i-1)*len(nodes)/(2*probes)]
			f.At(n)
			best = max(best, f.FindMode()+n.LnW)
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
	points []Point
	best   float64 // largest lnW
}

// visit finds the mode at a node, keeps it when it matters, and returns its ln
// weight.
func (c *collection) visit(f *Field, n Node) float64 {
	f.At(n)
	lnW := f.FindMode() + n.LnW
	if lnW > c.best+math.Log(dropBelow) {
		c.points = append(c.points, f.Snapshot(lnW))
		c.best = max(c.best, lnW)
	}
	return lnW
}

// weighed returns the points that matter with their weights.
func (c *collection) weighed() []Point {
	kept := slices.DeleteFunc(c.points, func(p Point) bool { return !(p.LnW >= c.best+math.Log(dropBelow)) })
	var sum float64
	for i := range kept {
		kept[i].Weight = math.Exp(kept[i].LnW - c.best)
		sum += kept[i].Weight
	}
	for i := range kept {
		kept[i].Weight /= sum
	}
	return kept
}

// Snapshot copies mode and factor out of the working memory.
func (f *Field) Snapshot(lnW float64) Point {
	flat := make([]float64, 0, len(f.brews)+len(f.couple)+len(f.Core)+len(f.Mode))
	keep := func(part []float64) []float64 {
		from := len(flat)
		flat = append(flat, part...)
		return flat[from:len(flat):len(flat)]
	}
	return Point{
		Node:   f.node,
		LnW:    lnW,
		Mode:   keep(f.Mode),
		Near:   arrow{f.Blocks, keep(f.brews), keep(f.couple), keep(f.Core), f.Size},
		lnDiag: f.LnDiag(),
	}
}
