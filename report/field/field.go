package field

import (
	"math"
	"slices"
)

// A Field evaluates the joint density of the latent vector and the scores of
// a problem at one grid node, and finds its mode. All memory is taken once.
type Field struct {
	*Problem
	arrow // negative Hessian where it was assembled last, or its factor
	node  Node
	win   []Window // of the node, one a taster

	Own int // tasters' numbers in the latent vector, 2 a taster

	alike bool      // all tasters are equally sharp
	Whole bool      // all tasters are trusted whole
	lnSDs float64   // ln of the prior SDs that differ between nodes, with a minus
	lnSy  float64   // ln of the node's sy
	Mean  []float64 // of the prior at the node
	Sd    []float64 // likewise
	inv   []float64 // 1/SD of the prior

	noteVar  []float64 // variance of a note of each series at the node
	noteLnSD []float64 // ln of its root

	eTrial  []float64 // exp(kappa e) of each trial, when alike
	eTaster []float64 // exp(-kappa t) of each taster, t its right ln dose

	Grad  []float64 // gradient of the ln joint density
	Step  []float64 // Newton step
	trial []float64 // sums over a trial: d1 and w of the votes, then of the intensities
	shift []float64 // e of each trial
	noteC float64   // half-width of "just right" of who doses to taste, at the node
	Mode  []float64 // best latent vector so far
	next  []float64 // the one that is tried
}

// NewField takes all the memory that a problem needs, in one piece, and sets
// the mode to the prior means.
func NewField(p *Problem) *Field {
	own := 2 * len(p.Tasters)
	dim, core, squares := own+p.Shared, own+p.common, 0
	for _, b := range p.brewBlocks {
		squares += b.Size * b.Size
	}
	flat := make([]float64, 7*dim+len(p.Tasters)+squares+(dim-core)*core+core*core+6*len(p.Beers)+2*len(p.Series))
	take := func(n int) []float64 {
		// capped, so that an append to one part could never write into the next
		part := flat[:n:n]
		flat = flat[n:]
		return part
	}
	f := &Field{
		Problem:  p,
		win:      make([]Window, len(p.Tasters)),
		Own:      own,
		arrow:    arrow{p.brewBlocks, take(squares), take((dim - core) * core), take(core * core), core},
		Grad:     take(dim),
		Step:     take(dim),
		Mode:     take(dim),
		next:     take(dim),
		trial:    take(4 * len(p.Beers)),
		shift:    take(len(p.Beers)),
		noteVar:  take(len(p.Series)),
		noteLnSD: take(len(p.Series)),
		eTrial:   take(len(p.Beers)),
		eTaster:  take(len(p.Tasters)),
		Mean:     take(dim),
		Sd:       take(dim),
		inv:      take(dim),
	}
	copy(f.Mode, p.Mean)
	copy(f.Mean, p.Mean)
	copy(f.Sd, p.Sd)
	f.alike = slices.Max(p.Sharp) == slices.Min(p.Sharp)
	f.Whole = true
	return f
}

// At sets the grid node: the windows of the tasters, the prior of the right dose,
// and tau as the prior SD of the offset of every taster of whom nothing is
// remembered, or nothing that holds at this node.
func (f *Field) At(n Node) {
	f.node = n
	f.lnSy = math.Log(n.Sy)
	f.lnSDs = 0
	for i := range f.win {
		sharp := f.Sharp[i]
		if n.Ignores {
			sharp = 1
		}
		f.win[i] = NewWindow(&f.node, sharp)
		f.Mean[2*i], f.Sd[2*i] = f.Problem.Mean[2*i], f.Problem.Sd[2*i]
		if f.fresh[i] || n.Tau == apartTau {
			f.Mean[2*i], f.Sd[2*i] = 0, n.Tau
		}
		f.lnSDs -= math.Log(f.Sd[2*i])
	}
	f.setNotes()
	theta := f.Own + f.Theta
	f.Mean[theta], f.Sd[theta] = n.right.Mean, n.right.Sd
	f.lnSDs -= math.Log(n.right.Sd)
	for i, sd := range f.Sd {
		f.inv[i] = 1 / sd
	}
}

// doses sets the effective ln dose e = x + potencies of every trial, and the
// exponentials that the votes share: E of a vote is the product of one number
// of the trial and one of the taster.
func (f *Field) doses(v []float64) {
	s := v[f.Own:]
	for k := range f.Beers {
		f.shift[k] = f.Beers[k].DoseUnder(s)
	}
	// with unequal sharpness kappa differs by taster, and E is no product of two numbers any more
	if !f.alike {
		return
	}
	kappa, theta := f.win[0].Kappa, s[f.Theta]
	for k, e := range f.shift {
		f.eTrial[k] = BoundedExp(kappa * e)
	}
	for i := range f.eTaster {
		f.eTaster[i] = BoundedExp(-kappa * (theta + v[2*i]))
	}
}

// expo returns E = exp(kappa z) of a vote under v, for which doses has been
// called.
func (f *Field) expo(o *VoteTerm, v []float64) float64 {
	if f.alike {
		return f.eTrial[o.Trial] * f.eTaster[o.Taster]
	}
	return f.win[o.Taster].Expo(f.shift[o.Trial] - v[f.Own+f.Theta] - v[2*o.Taster])
}

// lnPrior returns the ln prior density of v without its constant,
// -sum ((v - mean)/sd)^2/2 - sum ln sd over the right dose and the tasters'
// offsets. The other SDs are the same at all nodes and left out.
func (f *Field) lnPrior(v []float64) float64 {
	var q float64
	mean, inv := f.Mean[:len(v)], f.inv[:len(v)]
	for i, x := range v {
		r := (x - mean[i]) * inv[i]
		q += r * r
	}
	return f.lnSDs - 0.5*q
}

// LnJoint returns the ln joint density of v and all scores, up to a constant
// that is the same for all nodes. It does what assemble does but for the
// derivatives: it is called for every importance draw.
func (f *Field) LnJoint(v []float64) float64 {
	f.doses(v)
	return f.lnPrior(v) + f.lnVotes(v) + f.lnMarks(v) + f.lnNotes(v)
}

// lnVotes returns the ln probability of the votes. Products are taken before
// the logarithm: each factor is at least lapseFloor, so 100 of them stay far
// above the smallest float.
func (f *Field) lnVotes(v []float64) float64 {
	if !f.Whole {
		return f.lnVotesTrusted(v)
	}
	lp, prod := 0.0, 1.0
	for i := range f.Votes {
		o := &f.Votes[i]
		prod *= f.win[o.Taster].ChanceAt(o.Vote, f.expo(o, v))
		if i%100 == 99 {
			lp += math.Log(prod)
			prod = 1
		}
	}
	return lp + math.Log(prod)
}

// lnVotesTrusted is lnVotes where some tasters count for less than a taster: their
// probabilities have the power of their trust.
func (f *Field) lnVotesTrusted(v []float64) float64 {
	lp := 0.0
	for i := range f.Votes {
		o := &f.Votes[i]
		lp += f.Trust[o.Taster] * math.Log(f.win[o.Taster].ChanceAt(o.Vote, f.expo(o, v)))
	}
	return lp
}

// lnMarks returns the ln density of the intensities,
// y ~ N(alpha + a_i + beta (e - theta), sy^2), with the ends censored. The
// taster's offset u_i is not in it: wanting more is not tasting less, which a_i
// stands for.
func (f *Field) lnMarks(v []float64) float64 {
	if len(f.Marks) == 0 {
		return 0
	}
	theta, alpha := v[f.Own+f.Theta], v[f.Own+f.Alpha]
	var lp, q, inside float64
	for i := range f.Marks {
		o := &f.Marks[i]
		m := alpha + v[2*o.Taster+1] + f.node.Beta*(f.shift[o.Trial]-theta)
		// the common case without a logarithm: the term in sy is the same for all of them and added once
		trust := f.Trust[o.Taster]
		if o.Y > 0 && o.Y < 10 {
			q += trust * (o.Y - m) * (o.Y - m)
			inside += trust
			continue
		}
		l, _, _ := lnMark(o.Y, m, f.node.Sy)
		lp += trust * l
	}
	return lp - 0.5*q/(f.node.Sy*f.node.Sy) - inside*f.lnSy
}
