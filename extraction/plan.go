package extraction

// plan is a steep made ready to be computed many times: temperatures cut into
// pieces, words turned into factors. Computing writes to its pieces, so a plan
// serves one goroutine.
type plan struct {
	k80    float64
	washed float64
	// live is the rate factor while membranes live.
	live float64
	wet  WetMass
	dryG float64
	// ownML is the plant's own water that takes part.
	ownML  float64
	kappa  float64
	direct bool
	passes []passPlan
	// pieces are those of all passes in order.
	pieces []planPiece
}

// planPiece is a piece of heat with everything that does not vary between
// draws.
type planPiece struct {
	// minutes are times the live-membrane factor, where it applies.
	minutes  float64
	coldness float64
	// fade is kv times the true minutes, at the default half-life.
	fade [ClassCount]float64
	// reduced is the minutes at 80 C in the draw at hand.
	reduced float64
}

// passPlan is one pass of a plan.
type passPlan struct {
	// from and to bound its pieces.
	from, to int
	liquidML float64
	// loss is what boils off, mL.
	loss float64
	// rate is g times s_solv.
	rate    float64
	boiling bool
	// settled says that efficient replaces rate and heat.
	settled   bool
	efficient float64
	hottestC  float64
	endC      float64
	minutes   float64
	held      heldRule
}

// heldRule is how much liquid stays: a measured total, a measured outflow, or
// so much per gram of dry matter.
type heldRule struct {
	origin  Origin
	totalML *float64
	outML   *float64
	perG    float64
}

// newPlan checks the steep and makes it ready. Everything that does not vary from
// draw to draw is settled here: words become factors, temperatures become pieces,
// and measured volumes are taken to 20 C.
func newPlan(s *Steep) (plan, error) {
	if err := s.Check(); err != nil {
		return plan{}, err
	}
	row := &formRows[s.Form]
	wet := s.wet()
	p := plan{k80: row.K80, washed: row.Washed, live: row.Live, wet: wet, dryG: wet.DryG(),
		ownML: wet.OwnWaterML(), kappa: s.KappaMLPerG, direct: s.Method.IsDirect()}
	stages := s.stages()
	p.passes = make([]passPlan, len(stages))
	var few [32]piece
	alive := row.Live != 1
	for i := range stages {
		alive = p.addPass(s, &stages[i], &p.passes[i], appendHeat(few[:0], s, &stages[i]), alive)
	}
	if p.passes[0].settled {
		// An efficiency counts from nothing dissolved: what washes off at once is
		// part of the way to equilibrium.
		p.washed = 0
	}
	return p, p.checkLiquids()
}

// appendHeat adds the pieces of a pass.
func appendHeat(pieces []piece, s *Steep, p *Pass) []piece {
	if len(p.Curve) > 0 {
		return curvePieces(pieces, p.Curve)
	}
	start, _, _ := s.startC(p)
	law := Cooling{StartC: start, AmbientC: ambientC(p)}
	switch {
	case p.EndC != nil && p.isHeated(start):
		return appendPieces(pieces, straightLeg(start, *p.EndC, p.Minutes))
	case p.EndC != nil:
		law, _ = CoolingSpan{StartC: start, EndC: *p.EndC, AmbientC: law.AmbientC, Minutes: p.Minutes}.Cooling()
	case p.CoolingPerMin != nil:
		law.PerMin = *p.CoolingPerMin
	}
	return appendPieces(pieces, newtonLeg(law, p.Minutes))
}

// addPass fills one pass and returns whether membranes still live after it. The
// factor of live membranes goes into the minutes of a piece, so that a draw has
// one exponential per piece and no branch; the minutes that count for the loss
// by heat are the true ones.
func (p *plan) addPass(s *Steep, in *Pass, out *passPlan, heat []piece, alive bool) bool {
	boiling := s.isBoiling(in)
	out.hottestC, out.endC = endsOf(s, in)
	out.from = len(p.pieces)
	for _, h := range heat {
		alive = alive && h.tempC < liveMembraneC
		one := planPiece{minutes: h.minutes, coldness: h.coldness}
		for c := range one.fade {
			one.fade[c] = h.minutes * Class(c).LossRate(h.tempC, boiling)
		}
		if alive {
			one.minutes *= p.live
		}
		out.minutes += h.minutes
		p.pieces = append(p.pieces, one)
	}
	out.to = len(p.pieces)
	agitation := in.Agitation
	if agitation == Unstated && boiling {
		agitation = RollingBoil
	}
	abv, _ := s.abvPct(in)
	out.rate = agitation.RateFactor(out.hottestC, in.InBag) * SolventRateFactor(abv)
	out.boiling, out.loss = boiling, in.BoiledOffML
	out.liquidML = in.VolumeML
	if in.VolumeTempC != nil {
		out.liquidML = at20C(in.VolumeML, *in.VolumeTempC)
	}
	if in.Efficiency != nil {
		out.settled, out.efficient = true, *in.Efficiency
	}
	out.held = p.heldRule(s, in, out.endC)
	return alive
}

// endsOf returns the highest and the last temperature of a pass. Newton's law and
// straight lines are monotone, so the highest is one of the readings.
func endsOf(s *Steep, in *Pass) (hottestC, endC float64) {
	if n := len(in.Curve); n > 0 {
		hottestC = in.Curve[0].TempC
		for _, r := range in.Curve {
			hottestC = max(hottestC, r.TempC)
		}
		return hottestC, in.Curve[n-1].TempC
	}
	start, _, ok := s.startC(in)
	if !ok {
		return roomC, roomC
	}
	endC = start
	if in.EndC != nil {
		endC = *in.EndC
	} else if in.CoolingPerMin != nil {
		endC = Cooling{start, ambientC(in), *in.CoolingPerMin}.At(in.Minutes)
	}
	return max(start, endC), endC
}

// heldRule chooses between what was measured in this pass, what is remembered
// for the material, and the default. Recovered liquid comes first, for it is the
// extract itself that was measured; wet spent material comes last, for the dry
// part of its weight has to be guessed.
func (p *plan) heldRule(s *Steep, in *Pass, endC float64) heldRule {
	switch {
	case in.RecoveredML != nil:
		tempC := endC
		if in.RecoveredTempC != nil {
			tempC = *in.RecoveredTempC
		}
		return heldRule{origin: Measured, outML: new(at20C(*in.RecoveredML, tempC))}
	case in.HeldML != nil:
		return heldRule{origin: Measured, totalML: in.HeldML}
	case in.SpentG != nil:
		return heldRule{origin: Measured, totalML: new(max(0, (*in.SpentG-p.residueG())/waterGPerML))}
	}
	if r := s.Remembered.of(in.Separation); r != nil {
		return heldRule{origin: Remembered, perG: *r}
	}
	return heldRule{origin: Assumed, perG: in.Separation.HeldMLPerG()}
}

// waterGPerML is the density of water at 20 C [17].
const waterGPerML = 0.99820123

// solidsShare is the part of the dry matter that dissolves with the water
// class, 0.15 to 0.45: common practice, no source; a third is read for tea and
// hops.
const (
	solidsShare     = 0.30
	solidsHalfWidth = 0.15
)

// residueG is the dry weight of spent material whose solubles are gone.
func (p *plan) residueG() float64 { return p.dryG * (1 - solidsShare) }

// of returns the liquid that stays in the material out of liquidML present.
// spread multiplies assumed figures, slip is added to measured ones as a share
// of themselves.
func (h *heldRule) of(liquidML, dryG, spread, slip float64) float64 {
	switch {
	case h.outML != nil:
		return min(max(liquidML-*h.outML*(1+slip), 0), liquidML)
	case h.totalML != nil:
		return min(max(*h.totalML*(1+slip), 0), liquidML)
	}
	return min(h.perG*spread*dryG, liquidML)
}

// recoverySlack is by how much recovered liquid may exceed what was there
// before it is called impossible: reading errors of two jugs, a judgement.
const recoverySlack = 0.03

// checkLiquids refuses more liquid out than in, pass by pass. It needs the held
// liquid of the passes before, which is why it is not a part of Check's first
// look at each pass.
func (p *plan) checkLiquids() error {
	heldML := p.ownML
	for i := range p.passes {
		one := &p.passes[i]
		liquidML := max(one.liquidML+heldML-one.loss, 0)
		if out := one.held.outML; out != nil && *out > liquidML*(1+recoverySlack) {
			return inPass(i+1, len(p.passes), refuse("measure again, or check which figure is which",
				"%s mL came out of %s mL (both at 20 C)", number(*out), number(liquidML)))
		}
		if total := one.held.totalML; total != nil && *total > liquidML*(1+recoverySlack) {
			return inPass(i+1, len(p.passes), refuse("measure again, or check which figure is which",
				"%s mL held is more than the %s mL present", number(*total), number(liquidML)))
		}
		heldML = one.held.of(liquidML, p.dryG, 1, 0)
	}
	return nil
}
