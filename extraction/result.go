package extraction

import "math"

// Result is what a steep gives at the default figures.
type Result struct {
	Steep    Steep
	Passes   []PassResult
	Yield    ByClass // Y, share of what is extractable in the liquid that is kept, before loss by heat
	Survival ByClass // S, what heat has left of it
	Ceiling  ByClass // u, share that the solvent can ever carry, own trials included
	Left     Spent
	DryG     float64 // dry matter
	AsDriedG float64 // m_eq
	// ExtractML is the liquid to pour in, at 20 C; for material put into the
	// beer itself, the liquid that it brings.
	ExtractML float64
	Minutes   float64
	Warnings  []string
}

// PassResult is what one pass gives. For direct methods the yield of a stage is
// what left the solids in it.
type PassResult struct {
	Yield              ByClass // before loss by heat
	Kept               ByClass // after it
	ShareOfEquilibrium ByClass // yield over that of the same pass at equilibrium
	RateTime           ByClass // K, rate times reduced time, no unit
	LiquidML           float64 // present during the pass
	LiquidOutML        float64
	LiquidHeldML       float64
	HeldMLPerG         float64 // per gram of dry matter
	HeldOrigin         Origin
	ReducedMinutes     float64 // tau, minutes at 80 C; slow live membranes counted in
	RateFactor         float64 // agitation, bag and solvent
	HottestC           float64
	Minutes            float64
}

// Spent is what stays behind, as shares of all that is extractable.
type Spent struct {
	Undissolved  ByClass // in the solids
	InHeldLiquid ByClass // in the liquid they hold
	LostByHeat   ByClass
	HeldML       float64
}

// everyClass is the class list of a full run.
var everyClass = [...]Class{Water, Aroma, Resin, Colour}

// Run returns what the steep gives at the default figures. It errs as Check
// does.
func (s *Steep) Run() (Result, error) {
	p, err := newPlan(s)
	if err != nil {
		return Result{}, err
	}
	r := Result{Steep: *s, Passes: make([]PassResult, len(p.passes)), DryG: p.dryG,
		AsDriedG: p.dryG / (1 - RefMoisture), Ceiling: s.ceilings()}
	d := centralDraw()
	o := p.run(&d, everyClass[:], r.Passes)
	r.ExtractML = o.outML
	if p.direct {
		r.ExtractML = s.broughtML()
	}
	r.Left = Spent{Undissolved: o.solid, InHeldLiquid: o.dissolved, HeldML: o.heldML}
	for c := range r.Yield {
		for i := range r.Passes {
			r.Yield[c] += r.Passes[i].Yield[c]
		}
		r.Survival[c] = 1
		if r.Yield[c] > 0 {
			r.Survival[c] = min(1, o.kept[c]/r.Yield[c])
		}
		r.Left.LostByHeat[c] = max(0, 1-o.kept[c]-o.solid[c]-o.dissolved[c])
	}
	for i := range r.Passes {
		r.Minutes += r.Passes[i].Minutes
	}
	r.Warnings = r.warnings()
	return r, nil
}

// Kept returns Y S of a class: the share of what is extractable that is in the
// liquid after the loss by heat.
func (r *Result) Kept(c Class) float64 { return r.Yield[c] * r.Survival[c] }

// ceilings returns u by class for the strength of the liquid, weighed by volume
// over the passes, times the relative potency from own trials.
func (s *Steep) ceilings() ByClass {
	stages := s.stages()
	spirit, volume := 0.0, 0.0
	for i := range stages {
		abv, _ := s.abvPct(&stages[i])
		v := max(stages[i].VolumeML, 1e-9)
		spirit, volume = spirit+abv*v, volume+v
	}
	var u ByClass
	for c := range u {
		u[c] = Class(c).Ceiling(spirit / volume)
		if t := s.OwnTrials[c]; t != nil {
			u[c] *= math.Exp(t.Ln)
		}
	}
	return u
}

// juiceMLPerG is the volume that dissolved sugar takes in juice, mL per gram;
// from memory of the apparent specific volume of sucrose, 0.62.
const juiceMLPerG = 0.62

// broughtML returns the liquid that material put into the beer brings: its own
// water, and for juice and puree the volume of the solids as well.
func (s *Steep) broughtML() float64 {
	w := s.wet()
	if s.Form == Juice || s.Form == Puree || s.Method == JuiceIn || s.Method == PureeIn {
		return w.MassG*w.Moisture + w.DryG()*juiceMLPerG
	}
	return w.OwnWaterML()
}

// fill records what all classes of a pass have in common.
func (r *PassResult) fill(one *passPlan, liquidML, heldML, tau, dryG float64) {
	r.LiquidML, r.LiquidHeldML, r.LiquidOutML = liquidML, heldML, liquidML-heldML
	r.HeldOrigin = one.held.origin
	if dryG > 0 {
		r.HeldMLPerG = heldML / dryG
	}
	r.ReducedMinutes, r.RateFactor = tau, one.rate
	r.HottestC, r.Minutes = one.hottestC, one.minutes
}

// record notes the release of one class in a pass: pots without loss before and
// after, and with loss before and after, none drained yet.
func (r *PassResult) record(c Class, k, phi float64, cold0, cold1, warm0, warm1 pot) {
	r.RateTime[c] = k
	r.Yield[c] = cold1.dissolved - cold0.dissolved
	r.Kept[c] = warm1.dissolved - warm0.dissolved
	r.ShareOfEquilibrium[c] = 1
	if most := phi * (cold1.solid + cold1.dissolved); most > 1e-12 {
		r.ShareOfEquilibrium[c] = min(1, cold1.dissolved/most)
	}
}
