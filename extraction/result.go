package extraction

import "math"

// Result is what a steep gives at the default figures.
type Result struct {
	// Steep is the steep it belongs to.
	Steep Steep
	// Passes are the results pass by pass.
	Passes []passResult
	// Yield is Y, the share of what is extractable that is in the liquid that is
	// kept, before the loss by heat.
	Yield byClass
	// Survival is S, what heat has left of it; 1 where nothing was lost.
	Survival byClass
	// Ceiling is u, the share that the solvent can ever carry, times the relative
	// potency from own trials.
	Ceiling byClass
	// Left is what stays behind in the spent material.
	Left spent
	// dryG is the dry matter, m (1-M).
	DryG float64
	// AsDriedG is m_eq, the mass at 10 % water.
	AsDriedG float64
	// ExtractML is the liquid to pour in, at 20 C; for material put into the
	// beer itself, the liquid that it brings.
	ExtractML float64
	// ExtractLowML and ExtractHighML are its 80 % limits, never of no width; both are
	// ExtractML for material put into the beer itself.
	ExtractLowML, ExtractHighML float64
	// Minutes is the time of all passes.
	Minutes float64
	// Update is what readings of the strength of the liquid taught; nil without any.
	// The yields of the water class are those after it.
	Update *SolidsUpdate
	// Warnings are sentences for the reader, in the order of the passes.
	Warnings []string
}

// passResult is what one pass gives. For direct methods the yield of a stage is
// what left the solids in it.
type passResult struct {
	// Yield is the share of all extractable that left in this pass, before the
	// loss by heat.
	Yield byClass
	// Kept is the same after the loss by heat.
	Kept byClass
	// ShareOfEquilibrium is the yield over that of the same pass at equilibrium.
	ShareOfEquilibrium byClass
	// RateTime is K, rate times reduced time, no unit.
	RateTime byClass
	// LiquidML is what was present during the pass, held liquid included.
	LiquidML float64
	// LiquidOutML is what came out, at 20 C.
	LiquidOutML float64
	// LiquidHeldML is what stayed in the material.
	LiquidHeldML float64
	// HeldMLPerG is the same per gram of dry matter: the figure to remember for
	// the material when HeldOrigin is Measured.
	HeldMLPerG float64
	// HeldOrigin says whether held liquid was measured, remembered or assumed.
	HeldOrigin origin
	// ReducedMinutes is tau, minutes at 80 C, slow live membranes counted in: by
	// class, for each has its own activation energy.
	ReducedMinutes byClass
	// rateFactor is the factor of agitation, bag and solvent on the rate.
	RateFactor float64
	// HottestC is the highest temperature of the pass.
	HottestC float64
	// Minutes is the time of the pass.
	Minutes float64
}

// spent is what stays behind, as shares of all that is extractable.
type spent struct {
	// Undissolved is still in the solids.
	Undissolved byClass
	// InHeldLiquid is dissolved in the liquid that they hold.
	InHeldLiquid byClass
	// LostByHeat was dissolved and is gone.
	LostByHeat byClass
	// HeldML is the liquid held, mL.
	HeldML float64
}

// everyClass is the class list of a full run.
var everyClass = [classCount]Class{Water, Aroma, Resin, Colour, Acid, small, Tannin}

// Run returns what the steep gives at the default figures. It errs as Check
// does.
func (s *Steep) Run() (Result, error) {
	p, err := newPlan(s)
	if err != nil {
		return Result{}, err
	}
	r := Result{Steep: *s, Passes: make([]passResult, len(p.passes)), DryG: p.dryG,
		AsDriedG: p.dryG / (1 - RefMoisture), Ceiling: s.ceilings()}
	d := centralDraw()
	o := p.run(&d, everyClass[:], r.Passes)
	if r.Update, err = s.update(); err != nil {
		return Result{}, err
	}
	r.revise(&o)
	r.ExtractML = o.outML
	if p.direct {
		r.ExtractML = s.broughtML(o.kept[Water])
	}
	r.ExtractLowML, r.ExtractHighML = p.extractLimits(r.ExtractML)
	r.Left = spent{Undissolved: o.solid, InHeldLiquid: o.dissolved, HeldML: o.heldML}
	for c := range r.Yield {
		for i := range r.Passes {
			r.Yield[c] += r.Passes[i].Yield[c]
		}
		// nothing released is nothing lost
		r.Survival[c] = 1
		if r.Yield[c] > 0 {
			// the two pots are integrated apart, and agree to a rounding only
			r.Survival[c] = min(1, o.kept[c]/r.Yield[c])
		}
		if lost := 1 - o.kept[c] - o.solid[c] - o.dissolved[c]; lost > 1e-12 { // less is rounding
			r.Left.LostByHeat[c] = lost
		}
	}
	for i := range r.Passes {
		r.Minutes += r.Passes[i].Minutes
	}
	r.Warnings = r.warnings()
	return r, nil
}

// kept returns Y S of a class: the share of what is extractable that is in the
// liquid after the loss by heat.
func (r *Result) kept(c Class) float64 { return r.Yield[c] * r.Survival[c] }

// ceilings returns u by class for the strength of the liquid, weighed by volume
// over the passes, times the relative potency from own trials. Potency shifts u
// because a trial tells how much of the material counts, not how fast it comes
// out; the product may exceed 1, when the default u was too low.
func (s *Steep) ceilings() byClass {
	strength := s.MeanABVPct()
	var u byClass
	for c := range u {
		u[c] = Class(c).Ceiling(strength)
		if t := s.OwnTrials[c]; t != nil {
			u[c] *= math.Exp(t.Ln)
		}
	}
	return u
}

// MeanABVPct is the strength of the liquid, % vol, weighed by volume over the
// passes.
func (s *Steep) MeanABVPct() float64 {
	stages := s.Stages()
	spirit, volume := 0.0, 0.0
	for i := range stages {
		abv, _ := s.abvPct(&stages[i])
		// juice and puree are poured on nothing: their strength must come out all the same, not 0/0
		v := max(stages[i].VolumeML, 1e-9)
		spirit, volume = spirit+abv*v, volume+v
	}
	return spirit / volume
}

// leastWidth is the least half-width of the liquid recovered, as a share of what was
// poured on: no jug is read better. A judgement.
const leastWidth = 0.02

// extractLimits returns the 80 % limits of the liquid that is recovered, about
// outML. Where nothing runs off at the best figures a little may all the same, at
// most what the press would give.
func (p *plan) extractLimits(outML float64) (lowML, highML float64) {
	if p.direct {
		return outML, outML
	}
	poured := 0.0
	for i := range p.passes {
		poured += p.passes[i].liquidML
	}
	lowML, highML = outML-leastWidth*poured, outML+leastWidth*poured
	for _, z := range [...]float64{-normal80, normal80} {
		// the liquid that runs off falls as the held rises, so that two runs at the ends stand for ten
		// thousand draws
		d := centralDraw()
		d.held, d.slip = z, z*measuredSD
		o := p.run(&d, nil, nil)
		lowML, highML = min(lowML, o.outML), max(highML, o.outML)
	}
	if outML <= 0 {
		o := p.run(new(centralDraw()), nil, nil)
		highML = max(leastWidth*poured, o.heldML-p.pressedML)
	}
	return max(lowML, 0), highML
}

// juiceMLPerG is the volume that dissolved sugar takes in juice, mL per gram;
// from memory of the apparent specific volume of sucrose, 0.62.
const juiceMLPerG = 0.62

// broughtML returns the liquid that material put into the beer brings once a share
// of its solubles has come out: its own water and the volume of those solids (see
// Soak); for juice and puree that of all solids. Volume and gravity of wort are read
// once the plant is out of it: what it brought is in those readings.
func (s *Steep) broughtML(released float64) float64 {
	w := s.wet()
	if s.Method == Boil || s.Method == FlameOut {
		return 0
	}
	switch {
	case s.Form == Juice || s.Form == Puree || s.Method == JuiceIn || s.Method == PureeIn:
		return w.MassG*w.Moisture + w.dryG()*juiceMLPerG
	}
	b, _ := Soak{MassG: w.MassG, Moisture: w.Moisture, SolidsPerDry: min(s.soluble().Share*released, 1)}.Balance()
	return 1000 * b.MixL // mass and moisture were checked before
}

// fill records what all classes of a pass have in common.
func (r *passResult) fill(one *passPlan, liquidML, heldML, dryG float64) {
	r.LiquidML, r.LiquidHeldML, r.LiquidOutML = liquidML, heldML, liquidML-heldML
	r.HeldOrigin = one.held.origin
	if dryG > 0 {
		r.HeldMLPerG = heldML / dryG
	}
	r.RateFactor = one.rate
	r.HottestC, r.Minutes = one.hottestC, one.minutes
}

// record notes the release of one class in a pass: pots without loss before and
// after, and with loss before and after, none drained yet. The share of
// equilibrium is dissolved/(phi (S+B)); draining multiplies the yield and the
// yield at equilibrium alike, so it is also the ratio of the two. With nothing
// left to dissolve it is 1.
func (r *passResult) record(c Class, k, phi float64, cold0, cold1, warm0, warm1 pot) {
	r.RateTime[c] = k
	r.Yield[c] = cold1.dissolved - cold0.dissolved
	r.Kept[c] = warm1.dissolved - warm0.dissolved
	r.ShareOfEquilibrium[c] = 1
	if most := phi * (cold1.solid + cold1.dissolved); most > 1e-12 {
		r.ShareOfEquilibrium[c] = min(1, cold1.dissolved/most)
	}
}
