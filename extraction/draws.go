package extraction

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Draws says how many random draws to take and from which seed. The same seed
// and inputs give the same figures on every machine. The zero value takes
// defaultDraws from seed 0.
type Draws struct {
	N    int
	Seed uint64
}

// The number of draws: the 80 % limits of a dose then repeat to about 1 %.
const (
	defaultDraws = 10000
	maxDraws     = 1000000
)

// count returns how many draws to take. It errs outside 2 to a million.
func (d Draws) count() (int, error) {
	if d.N == 0 {
		return defaultDraws, nil
	}
	if d.N < 2 || d.N > maxDraws {
		return 0, Refuse("10000 is plenty", "%d draws is outside 2 to %d", d.N, maxDraws)
	}
	return d.N, nil
}

// Spreads of the model's own figures; sd of ln unless the name says otherwise.
const (
	eaSDKJ      = 9.0 // sd of the eight midpoints behind EaKJ
	soluteSDLn  = 0.9 // sd of ln k80 over seven published rates of 0.3 to 2 mm pieces is 0.91
	sizeSDLn    = 0.3 // judgement
	agitateSDLn = 0.5 // judgement
	// ownHeldSDLn is that of a held liquid once measured for the material.
	ownHeldSDLn = 0.10
)

// Bounds and spreads of the draws that have no default of their own.
const (
	eaMostOffKJ = 25.0  // an activation energy further off is not credible; read range 7 to 77
	moistureSD  = 0.015 // of a moisture not measured: limits for dried spice are 8 to 14 %

	// measuredSD is the sd of a measured volume as a share of it: a kitchen jug,
	// a judgement.
	measuredSD = 0.02
)

// shared are the normal scores of what all methods for one material have in
// common: the solute, its temperature law, its ceiling, how the material holds
// liquid, and how it fades. They are drawn once so that a difference between
// methods is not blurred by what they share.
type shared struct {
	solute, ea, held, boil, hot, colour, fresh, moisture float64
	size                                                 [formCount]float64
	ceiling                                              byClass
}

// own are the normal scores of one method in one draw.
type own struct {
	agitate, slip float64
	trials        byClass
	// soluble and reading are those of what a strength was measured against.
	soluble, reading float64
}

// draw fills the shared scores; size is drawn for the forms in use only, since
// the doubt about a size law is that of one form.
func (s *shared) draw(r *rand.Rand, forms []Form) {
	s.solute, s.ea, s.held = r.NormFloat64(), r.NormFloat64(), r.NormFloat64()
	s.boil, s.hot, s.colour = r.NormFloat64(), r.NormFloat64(), r.NormFloat64()
	s.fresh, s.moisture = r.NormFloat64(), r.NormFloat64()
	for _, f := range forms {
		s.size[f] = r.NormFloat64()
	}
	for c := range s.ceiling {
		s.ceiling[c] = r.NormFloat64()
	}
}

// draw fills the scores of one method; trials and readings are scored where there
// are any.
func (o *own) draw(r *rand.Rand, of *Candidate) {
	o.agitate, o.slip = r.NormFloat64(), r.NormFloat64()
	for c, t := range of.trials {
		if t != nil {
			o.trials[c] = r.NormFloat64()
		}
	}
	if of.update != nil {
		o.soluble, o.reading = r.NormFloat64(), r.NormFloat64()
	}
}

// formsOf returns the forms of the candidates, each once, in order.
func formsOf(candidates []Candidate) []Form {
	var forms []Form
	for i := range candidates {
		if !slices.Contains(forms, candidates[i].form) {
			forms = append(forms, candidates[i].form)
		}
	}
	return forms
}

// newRand returns the generator of a seed.
func newRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15)) }

// Candidate is a steep with its mix, ready to be drawn many times.
type Candidate struct {
	plan     plan
	form     Form
	asDriedG float64
	// ceiling is u without own trials, which are drawn on their own, ceilingSD the sd
	// of its logarithm.
	ceiling   byClass
	ceilingSD byClass
	trials    [classCount]*LnNormal
	broughtML float64
	addedML   *float64
	topUpML   float64
	intoL     float64
	// perL is the product of later changes of volume.
	perL    float64
	isFresh bool
	// drySDLn is the doubt about the dry matter where the moisture is a default or
	// from a table, sd of ln(1 - M); 0 where it was measured or typed.
	drySDLn float64
	// update is what readings of the strength taught, nil without any.
	update *SolidsUpdate
}

// NewCandidate checks a steep and its mix and makes them ready.
func NewCandidate(s *Steep, m Mix) (Candidate, error) {
	c, err := bareCandidate(s, m)
	if err == nil {
		c.update, err = s.update()
	}
	return c, err
}

// bareCandidate is NewCandidate without what readings taught.
func bareCandidate(s *Steep, m Mix) (Candidate, error) {
	p, err := newPlan(s)
	if err != nil {
		return Candidate{}, err
	}
	if err := firstError(m.check(), checkNotNegative("top-up", m.TopUpML, "mL")); err != nil {
		return Candidate{}, err
	}
	d := centralDraw()
	// at the defaults, once for all draws: the liquid that a plant brings is small beside the batch it
	// goes into
	released := p.run(&d, []Class{Water}, nil).kept[Water]
	// trials are drawn with a doubt of their own: left in the ceiling they would count twice
	bare := *s
	bare.OwnTrials = [classCount]*LnNormal{}
	strength, ceilingSD := s.MeanABVPct(), byClass{}
	for class := range ceilingSD {
		ceilingSD[class] = Class(class).ceilingSDLn(strength)
	}
	moisture, given := s.moisture()
	drySDLn := 0.0
	// only a moisture that nobody measured is in doubt. What counts is the dry matter, 1 - M, so that
	// the same error weighs more in wet material.
	if !given || s.MoistureOrigin == Catalogue || s.MoistureOrigin == assumed {
		drySDLn = moistureSD / (1 - moisture)
	}
	return Candidate{plan: p, form: s.Form, asDriedG: p.dryG / (1 - RefMoisture), ceiling: bare.ceilings(),
		ceilingSD: ceilingSD, trials: s.OwnTrials, broughtML: s.broughtML(released), addedML: m.AddedML,
		topUpML: m.TopUpML, intoL: m.IntoL,
		perL: m.concentration(), isFresh: p.wet.Moisture > freshMoisture, drySDLn: drySDLn}, nil
}

// figures turns scores into the figures of one draw. Rates, held liquid, half-
// lives, dry matter and ceilings are log-normal about their defaults, the
// activation energy normal between bounds; ceilings are capped at 1, as
// nothing gives up more than it has.
func (c *Candidate) figures(s *shared, o *own, classes []Class, d *draw) {
	// cut, for a normal score far out would ask for an energy that no plant has
	d.eaOffKJ = min(max(eaSDKJ*s.ea, -eaMostOffKJ), eaMostOffKJ)
	d.rate = math.Exp(soluteSDLn*s.solute + sizeSDLn*s.size[c.form])
	d.held = s.held
	d.slip = measuredSD * o.slip
	d.soluble, d.reading = o.soluble, o.reading
	d.agitate = math.Exp(agitateSDLn * o.agitate)
	for _, class := range classes {
		switch class {
		case Aroma:
			d.fadeBoil, d.fadeHot = math.Exp(aromaBoilSDLn*s.boil), math.Exp(aromaHotSDLn*s.hot)
		case Colour:
			d.fadeColo = math.Exp(colourSDLn * s.colour)
		}
		row := &classRows[class]
		// not more than all there is, and trials apart: they may say that the default was too low
		d.ceiling[class] = min(1, c.ceiling[class]*math.Exp(c.ceilingSD[class]*s.ceiling[class]))
		ln := -c.drySDLn * s.moisture
		if c.isFresh {
			ln += row.FreshSDLn * s.fresh
		}
		d.dryness[class] = math.Exp(ln)
		d.trials[class] = 1
		if t := c.trials[class]; t != nil {
			d.trials[class] = math.Exp(t.Ln + t.SDLn*o.trials[class])
		}
	}
}

// dose returns kept shares and effective doses of one draw. Here the ceiling of
// the draw is u itself, already capped. An amount that was measured as it was
// poured in stays what it is in every draw; what varies is the share of the
// extract that it was.
func (c *Candidate) dose(d *draw, classes []Class) (kept, gPerL byClass) {
	o := c.plan.run(d, classes, nil)
	if c.update != nil && slices.Contains(classes, Water) {
		o.kept[Water] += c.update.drawn(o.weighed, d.soluble, d.reading) - o.weighed
	}
	liquidML := o.outML
	if c.plan.direct {
		liquidML = c.broughtML
	}
	liquidML += c.topUpML
	share, addedML := 1.0, liquidML
	if c.addedML != nil {
		addedML = *c.addedML
		share = 0
		// nothing ran off in this draw: what was poured in was not extract
		if liquidML > 0 {
			share = min(1, addedML/liquidML)
		}
	}
	factor := c.asDriedG * share * c.perL / (c.intoL + addedML/1000)
	for _, class := range classes {
		kept[class] = o.kept[class]
		gPerL[class] = factor * d.dryness[class] * d.ceiling[class] * d.trials[class] * o.kept[class]
	}
	return kept, gPerL
}

// IsFresh reports whether the material went in fresh, so that drying cost it nothing.
func (c *Candidate) IsFresh() bool { return c.isFresh }

// Together draws the effective doses of several steeps of one material, g per litre of
// one class: samples[i][j] is draw j of candidate i. The figures that the steeps share
// are drawn once for all of them. Agitation and measuring errors are drawn for each,
// unless all are in the same hands: then they too are drawn once, as of candidate 0.
// It errs for a class or a number of draws that there is not.
func Together(class Class, candidates []Candidate, draws Draws, sameHands bool) ([][]float64, error) {
	n, err := draws.count()
	if err != nil {
		return nil, err
	}
	if class < 0 || class >= classCount {
		return nil, Refuse("choose one of the solute classes", "class %d is not in the table", int(class))
	}
	samples := make([][]float64, len(candidates))
	for i := range samples {
		samples[i] = make([]float64, n)
	}
	rng, d, classes := newRand(draws.Seed), centralDraw(), everyClass[class:class+1]
	// drawn in one loop for all methods: a rate that all share must move all of them in the same draw
	var s shared
	var o own
	forms := formsOf(candidates)
	for j := range n {
		s.draw(rng, forms)
		for i := range candidates {
			if i == 0 || !sameHands {
				o.draw(rng, &candidates[i])
			}
			candidates[i].figures(&s, &o, classes, &d)
			_, g := candidates[i].dose(&d, classes)
			samples[i][j] = g[class]
		}
	}
	return samples, nil
}
