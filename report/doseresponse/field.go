package doseresponse

import (
	"math"
	"slices"
)

// A field evaluates the joint density of the latent vector and the scores of
// a problem at one grid node, and finds its mode. All memory is taken once.
type field struct {
	*problem
	arrow // negative Hessian where it was assembled last, or its factor
	node  node
	win   []window // of the node, one a taster

	own int // tasters' numbers in the latent vector, 2 a taster

	alike bool      // all tasters are equally sharp
	whole bool      // all tasters are trusted whole
	lnSDs float64   // ln of the prior SDs that differ between nodes, with a minus
	lnSy  float64   // ln of the node's sy
	mean  []float64 // of the prior at the node
	sd    []float64 // likewise
	inv   []float64 // 1/SD of the prior

	eTrial  []float64 // exp(kappa e) of each trial, when alike
	eTaster []float64 // exp(-kappa t) of each taster, t its right ln dose

	grad  []float64 // gradient of the ln joint density
	step  []float64 // Newton step
	trial []float64 // sums over a trial: d1 and w of the votes, then of the intensities
	shift []float64 // e of each trial
	mode  []float64 // best latent vector so far
	next  []float64 // the one that is tried
}

// newField takes all the memory that a problem needs, in one piece, and sets
// the mode to the prior means.
func newField(p *problem) *field {
	own := 2 * len(p.tasters)
	dim, core, squares := own+p.shared, own+p.common, 0
	for _, b := range p.brewBlocks {
		squares += b.size * b.size
	}
	flat := make([]float64, 7*dim+len(p.tasters)+squares+(dim-core)*core+core*core+6*len(p.trials))
	take := func(n int) []float64 {
		// capped, so that an append to one part could never write into the next
		part := flat[:n:n]
		flat = flat[n:]
		return part
	}
	f := &field{
		problem: p,
		win:     make([]window, len(p.tasters)),
		own:     own,
		arrow:   arrow{p.brewBlocks, take(squares), take((dim - core) * core), take(core * core), core},
		grad:    take(dim),
		step:    take(dim),
		mode:    take(dim),
		next:    take(dim),
		trial:   take(4 * len(p.trials)),
		shift:   take(len(p.trials)),
		eTrial:  take(len(p.trials)),
		eTaster: take(len(p.tasters)),
		mean:    take(dim),
		sd:      take(dim),
		inv:     take(dim),
	}
	copy(f.mode, p.mean)
	copy(f.mean, p.mean)
	copy(f.sd, p.sd)
	f.alike = slices.Max(p.sharp) == slices.Min(p.sharp)
	f.whole = true
	return f
}

// at sets the grid node: the windows of the tasters, the prior of the right dose,
// and tau as the prior SD of the offset of every taster of whom nothing is
// remembered, or nothing that holds at this node.
func (f *field) at(n node) {
	f.node = n
	f.lnSy = math.Log(n.sy)
	f.lnSDs = 0
	for i := range f.win {
		sharp := f.sharp[i]
		if n.ignores {
			sharp = 1
		}
		f.win[i] = newWindow(&f.node, sharp)
		f.mean[2*i], f.sd[2*i] = f.problem.mean[2*i], f.problem.sd[2*i]
		if f.fresh[i] || n.tau == apartTau {
			f.mean[2*i], f.sd[2*i] = 0, n.tau
		}
		f.lnSDs -= math.Log(f.sd[2*i])
	}
	theta := f.own + f.theta
	f.mean[theta], f.sd[theta] = n.right.mean, n.right.sd
	f.lnSDs -= math.Log(n.right.sd)
	for i, sd := range f.sd {
		f.inv[i] = 1 / sd
	}
}

// doses sets the effective ln dose e = x + potencies of every trial, and the
// exponentials that the votes share: E of a vote is the product of one number
// of the trial and one of the taster.
func (f *field) doses(v []float64) {
	s := v[f.own:]
	for k := range f.trials {
		t := &f.trials[k]
		e := t.x
		for i, l := range t.lat[:t.n] {
			e += t.by[i] * s[l]
		}
		f.shift[k] = e
	}
	// with unequal sharpness kappa differs by taster, and E is no product of two numbers any more
	if !f.alike {
		return
	}
	kappa, theta := f.win[0].kappa, s[f.theta]
	for k, e := range f.shift {
		f.eTrial[k] = boundedExp(kappa * e)
	}
	for i := range f.eTaster {
		f.eTaster[i] = boundedExp(-kappa * (theta + v[2*i]))
	}
}

// expo returns E = exp(kappa z) of a vote under v, for which doses has been
// called.
func (f *field) expo(o *voteTerm, v []float64) float64 {
	if f.alike {
		return f.eTrial[o.trial] * f.eTaster[o.taster]
	}
	return f.win[o.taster].expo(f.shift[o.trial] - v[f.own+f.theta] - v[2*o.taster])
}

// lnPrior returns the ln prior density of v without its constant,
// -sum ((v - mean)/sd)^2/2 - sum ln sd over the right dose and the tasters'
// offsets. The other SDs are the same at all nodes and left out.
func (f *field) lnPrior(v []float64) float64 {
	var q float64
	mean, inv := f.mean[:len(v)], f.inv[:len(v)]
	for i, x := range v {
		r := (x - mean[i]) * inv[i]
		q += r * r
	}
	return f.lnSDs - 0.5*q
}

// lnJoint returns the ln joint density of v and all scores, up to a constant
// that is the same for all nodes. It does what assemble does but for the
// derivatives: it is called for every importance draw.
func (f *field) lnJoint(v []float64) float64 {
	f.doses(v)
	return f.lnPrior(v) + f.lnVotes(v) + f.lnMarks(v)
}

// lnVotes returns the ln probability of the votes. Products are taken before
// the logarithm: each factor is at least lapseFloor, so 100 of them stay far
// above the smallest float.
func (f *field) lnVotes(v []float64) float64 {
	if !f.whole {
		return f.lnVotesTrusted(v)
	}
	lp, prod := 0.0, 1.0
	for i := range f.votes {
		o := &f.votes[i]
		prod *= f.win[o.taster].chanceAt(o.vote, f.expo(o, v))
		if i%100 == 99 {
			lp += math.Log(prod)
			prod = 1
		}
	}
	return lp + math.Log(prod)
}

// lnVotesTrusted is lnVotes where some tasters count for less than a taster: their
// probabilities have the power of their trust.
func (f *field) lnVotesTrusted(v []float64) float64 {
	lp := 0.0
	for i := range f.votes {
		o := &f.votes[i]
		lp += f.trust[o.taster] * math.Log(f.win[o.taster].chanceAt(o.vote, f.expo(o, v)))
	}
	return lp
}

// lnMarks returns the ln density of the intensities,
// y ~ N(alpha + a_i + beta (e - theta), sy^2), with the ends censored. The
// taster's offset u_i is not in it: wanting more is not tasting less, which a_i
// stands for.
func (f *field) lnMarks(v []float64) float64 {
	if len(f.marks) == 0 {
		return 0
	}
	theta, alpha := v[f.own+f.theta], v[f.own+f.alpha]
	var lp, q, inside float64
	for i := range f.marks {
		o := &f.marks[i]
		m := alpha + v[2*o.taster+1] + f.node.beta*(f.shift[o.trial]-theta)
		// the common case without a logarithm: the term in sy is the same for all of them and added once
		trust := f.trust[o.taster]
		if o.y > 0 && o.y < 10 {
			q += trust * (o.y - m) * (o.y - m)
			inside += trust
			continue
		}
		l, _, _ := lnMark(o.y, m, f.node.sy)
		lp += trust * l
	}
	return lp - 0.5*q/(f.node.sy*f.node.sy) - inside*f.lnSy
}
