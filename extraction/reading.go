package extraction

import (
	"math"

	"hedgerow/trials/figure"
)

// SolidsReading is the strength of the liquid that came out of a pass, measured.
type SolidsReading struct {
	// GPerL are its dissolved solids, g per litre.
	GPerL float64
	// U is the standard uncertainty of GPerL.
	U float64
}

// hasReading reports whether the strength of any pass was measured.
func (s *Steep) hasReading() bool {
	for i := range s.Passes {
		if s.Passes[i].Solids != nil {
			return true
		}
	}
	return false
}

// leastSpread is the least sd of the logarithm of an expected yield: a steep that
// cannot but be complete still leaves this much to its stirring and cutting. A
// judgement.
const leastSpread = 0.01

// evidence is what the readings of a steep say, or none: nothing ran off, or nothing
// was in it. The candidate must have no update yet.
func (c *Candidate) evidence(s *Steep) (SolidsEvidence, bool) {
	d := centralDraw()
	detail := make([]passResult, len(c.plan.passes))
	o := c.plan.run(&d, []Class{Water}, detail)
	e := SolidsEvidence{Share: s.soluble().Share, ShareSDLn: s.soluble().SDLn, Yield: o.weighed}
	var grams, doubt float64
	volume := measuredSD
	for i := range s.Passes {
		r := s.Passes[i].Solids
		if r == nil {
			continue
		}
		// One instrument and one factor read them all: their doubts add up.
		litres := detail[i].LiquidOutML / 1000
		grams, doubt = grams+r.GPerL*litres, doubt+r.U*litres
		if detail[i].HeldOrigin != Measured {
			volume = c.volumeSDLn(o.weighedML)
		}
	}
	if e.Yield <= 0 || grams <= 0 || e.Share <= 0 || e.ShareSDLn <= 0 || c.plan.dryG <= 0 {
		return e, false
	}
	e.PerDry, e.PerDrySDLn = grams/c.plan.dryG, math.Hypot(doubt/grams, volume)
	e.YieldSDLn = max(c.yieldSDLn(), leastSpread)
	e.MostYield = max(c.mostYield(), e.Yield)
	return e, true
}

// volumeSDLn is the sd of the logarithm of the liquid of the measured passes, ml at
// the best figures.
func (c *Candidate) volumeSDLn(ml float64) float64 {
	d := centralDraw()
	d.held, d.slip = 1, measuredSD
	less := c.plan.run(&d, nil, nil).weighedML
	if less <= 0 || ml <= 0 {
		return 1 // of a liquid that may not have run off at all nothing is known
	}
	return max(math.Abs(math.Log(less/ml)), measuredSD)
}

// yieldSDLn is the sd of the logarithm of the yield of the measured passes before
// anything was measured.
func (c *Candidate) yieldSDLn() float64 {
	var yields []float64
	d, classes := centralDraw(), []Class{Water}
	for _, row := range stratifiedScores() {
		sc, o := row.scores(c.form, Water)
		c.figures(&sc, &o, classes, &d)
		if y := c.plan.run(&d, classes, nil).weighed; y > 0 {
			yields = append(yields, y)
		}
	}
	if len(yields) < 2 {
		return 0
	}
	return sdLn(yields)
}

// mostYield is the yield of the measured passes with every pass at equilibrium.
func (c *Candidate) mostYield() float64 {
	full := c.plan
	// Copied, for the plan of the candidate goes on being drawn
	full.passes = append([]passPlan(nil), c.plan.passes...)
	for i := range full.passes {
		full.passes[i].settled, full.passes[i].efficient = true, 1
	}
	d := centralDraw()
	return full.run(&d, []Class{Water}, nil).weighed
}

// update weighs what was measured of a steep against what was expected; nil where
// nothing was. It expects a steep that Check accepts.
func (s *Steep) update() (*SolidsUpdate, error) {
	if !s.hasReading() {
		return nil, nil
	}
	if s.Known != nil {
		return s.Known, nil
	}
	c, err := bareCandidate(s, Mix{IntoL: 1})
	if err != nil {
		return nil, err
	}
	e, ok := c.evidence(s)
	if !ok {
		return nil, nil
	}
	u, err := e.Update()
	return &u, err
}

// revise puts the yields after a reading in the place of those before it: what came
// out more of the measured passes did not stay undissolved.
func (r *Result) revise(o *outcome) {
	u := r.Update
	if u == nil {
		return
	}
	times := u.NewYield / u.Yield
	for i := range r.Passes {
		if r.Steep.Passes[i].Solids == nil {
			continue
		}
		p := &r.Passes[i]
		p.Yield[Water] *= times
		p.Kept[Water] *= times
		p.ShareOfEquilibrium[Water] = min(1, p.ShareOfEquilibrium[Water]*times)
	}
	o.kept[Water] += u.NewYield - u.Yield
	// What is left over is said to be undissolved: water solubles are not lost by heat.
	o.solid[Water] = max(0, 1-o.kept[Water]-o.dissolved[Water])
}

// readSolids are the dissolved solids of an extract of which readings were taken: as
// measured where that was done, by what they taught elsewhere.
func (r *Result) readSolids() figure.Estimate {
	var grams, doubt float64
	for i, p := range r.Passes {
		if c := r.Steep.Passes[i].Solids; c != nil {
			grams, doubt = grams+c.GPerL*p.LiquidOutML/1000, doubt+c.U*p.LiquidOutML/1000
			continue
		}
		g := r.Update.NewShare * r.DryG * p.Yield[Water]
		grams, doubt = grams+g, doubt+g*r.Update.NewShareSDLn
	}
	return figure.Between(grams, max(grams-normal95*doubt, 0), grams+normal95*doubt, 0.95)
}

// Unread is a steep without readings of its strength, with what they taught of the
// plant: of a changed steep they would not be true.
func (s *Steep) Unread() *Steep {
	if !s.hasReading() {
		return s
	}
	bare := s.Copied()
	if u, err := s.update(); err == nil && u != nil {
		bare.Soluble = &SolubleFigure{Share: u.NewShare, SDLn: u.NewShareSDLn}
	}
	for i := range bare.Passes {
		bare.Passes[i].Solids = nil
	}
	return &bare
}
