package doseresponse

import (
	"math/rand/v2"
	"slices"
	"sync"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
	"hedgerow/report/wishes"
)

// Options choose how a study is fitted; the zero value is the full method.
type Options struct {
	// Method is the method whose right dose is asked for; nil takes the one
	// brewed most.
	Method *string
	// Approximate leaves out the importance correction: faster by half,
	// good for decisions, up to 0.12 ln units off in the interval when all
	// answers lie on one side ([1] section 2).
	Approximate bool
	// FreshTasters forgets what earlier studies taught about the tasters.
	FreshTasters bool
	// plain leaves out what is made for the edges: wrong claims, camps, answers that
	// ignore the dose. The check rows are about the model without them.
	plain bool
	// Seed of the importance draws; 0 takes a fixed one.
	Seed uint64
}

// seed is the default seed of the draws; its value means nothing.
const seed = 20_25

// A Posterior is what a study says about the right dose. Its methods are
// safe for concurrent use.
type Posterior struct {
	study  evidence.Study // as fitted: ordered, and without what was forgotten
	prob   *field.Problem
	prior  field.LnPrior
	points []field.Point
	draws  *field.Sample // all, weighted
	kept   *field.Sample // some, equally weighted

	strays []float64 // chance of each taster to score at random
	heard  *hearing  // what came of other brewers' trials; nil without any

	psiQ  band    // panel mean of the right ln doses, relative
	psiSD float64 // its SD
	best  float64 // relative ln dose with the largest share of "just right"

	right90 band      // the dose asked for, before it is moved to the best
	aims    []float64 // relative ln dose of the target intensity, one a draw

	windows []field.Window // of a fresh brew, one a taster for each point
	tastes  []float64      // exp(-kappa t) of each kept draw and taster

	// What several answers rest on, worked out when it is first asked for.
	steepOnce func() []steepness
	ruleOnce  func() ruling
	avoidOnce func() []wishes.Keeping
	bothOnce  func() Window
	campsOnce func() campSplit
	nearOnce  func() wishes.Liking
}

// Fit returns the posterior of a study. It returns ErrNotEnough when there
// are neither claims nor scores, and an *InputError for a value outside its
// range. The same study and options give the same posterior, in whatever order
// claims, trials and scores are listed.
func Fit(s evidence.Study, o Options) (*Posterior, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	s = s.Ordered()
	// before the problem is laid out, or the remembered SDs would already be in its priors
	if o.FreshTasters {
		s.Remembered = nil
	}
	if o.Seed == 0 {
		o.Seed = seed
	}
	if s.Shared() {
		return fitShared(s, o)
	}
	prior, ok := field.ClaimPrior(s)
	if !ok {
		return nil, evidence.ErrNotEnough
	}
	return infer(s, o, beliefs{about: prior, parts: field.ClaimParts(s)}), nil
}

// beliefs are what is brought to the own trials: the prior of the right ln dose, about
// where it is and its parts, and trials of others at which the own panel scored.
type beliefs struct {
	about  field.LnPrior
	parts  []field.PriorPart
	guests []evidence.Trial
	// strays are the chances of tasters to score at random, by name; nil: to be found.
	strays map[string]float64
}

// infer returns the posterior of a study of own trials alone, which is in order.
func infer(s evidence.Study, o Options, b beliefs) *Posterior {
	all := s
	all.Trials = slices.Concat(s.Trials, b.guests)
	prob := field.NewProblem(all, b.about, o.Method)
	p := &Posterior{study: s, prob: prob, prior: b.about}
	f := field.NewField(prob)
	// a target needs the slope of the intensities even where none were scored
	nodes, flat := p.grid(o, b.parts)
	p.points = field.Laplace(f, nodes, flat)
	p.strays = make([]float64, len(prob.Tasters))
	if !o.plain {
		p.doubt(f, b, func() { p.points = field.Laplace(f, nodes, flat) })
	}
	rng := rand.New(rand.NewPCG(o.Seed, 1))
	if o.Approximate {
		// the draws are equally weighted already: resampling would only repeat some of them
		p.kept = field.Gaussian(prob, p.points, field.KeptDraws, rng)
		p.draws = p.kept
	} else {
		p.draws = field.Importance(f, p.points, field.DefaultDraws, rng)
		p.kept = p.draws.Resample(prob, field.KeptDraws)
	}
	p.setWindows()
	p.setTastes()
	p.setPsi()
	p.decide()
	p.steepOnce = sync.OnceValue(p.weighSteepness)
	p.ruleOnce = sync.OnceValue(p.rule)
	p.avoidOnce = sync.OnceValue(p.weighAvoid)
	p.bothOnce = sync.OnceValue(p.weighBoth)
	p.campsOnce = sync.OnceValue(p.weighCamps)
	p.nearOnce = sync.OnceValue(p.weighNear)
	return p
}

// suspected returns the chance of each taster to score at random.
func (b beliefs) suspected(f *field.Field, at []field.Point) []float64 {
	if b.strays == nil {
		return suspect(f, at)
	}
	list := make([]float64, len(f.Tasters))
	for i, name := range f.Tasters {
		list[i] = b.strays[name]
	}
	return list
}

// scored reports whether an own dosed beer has a vote or an intensity, or somebody
// dosed a glass to taste.
func (p *Posterior) scored() bool { return len(p.prob.OwnTrials())+len(p.prob.Series) > 0 }

// grid returns the nodes of the grid: the ordinary ones by family, and those in
// which the answers ignore the dose.
func (p *Posterior) grid(o Options, prior []field.PriorPart) ([]field.Family, field.Family) {
	marks := len(p.prob.Marks) > 0 || p.study.TargetIntensity != nil
	if o.plain {
		part := []field.PriorPart{{LnPrior: field.LnPrior{Mean: 0, Sd: p.prior.Sd}, Weight: 1}}
		return field.Families(part, []field.Weighted{{Value: 0.2, Weight: 0.5}, {Value: 0.45, Weight: 0.5}}, marks), nil
	}
	parts := slices.Clone(prior)
	for i := range parts {
		parts[i].Mean -= p.prob.Origin
	}
	var flat field.Family
	// an intensity aimed at where intensities have no slope would be at no dose
	if len(p.prob.Beers) > 0 && p.study.TargetIntensity == nil {
		flat = field.Ignoring(parts, marks)
	}
	return field.Families(parts, field.Taus(), marks), flat
}
