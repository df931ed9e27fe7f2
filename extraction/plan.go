package extraction

import "math"

// plan is a steep made ready to be computed many times: temperatures cut into
// pieces, words turned into factors. Computing writes to its pieces, so a plan
// serves one goroutine.
type plan struct {
	k80    float64
	washed float64
	// live is the rate factor while membranes live, aliveMin how long they still do.
	live, aliveMin float64
	wet            wetMass
	dryG           float64
	// ownML is the plant's own water that takes part.
	ownML float64
	kappa float64
	// soluble is the share of the dry matter that boiling water dissolves.
	soluble float64
	// pressedML is what the spent material would hold out of a screw press, mL.
	pressedML float64
	direct    bool
	passes    []passPlan
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
	fade [classCount]float64
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
	// weighed says that the strength of what came out was measured.
	weighed bool
}

// heldRule is how much liquid stays: a measured total, a measured outflow, the
// weight of the spent material, or so much per gram of dry matter.
type heldRule struct {
	origin  origin
	totalML *float64
	outML   *float64
	spentG  *float64
	perG    float64
	// sdLn is the sd of the logarithm of perG.
	sdLn float64
}

// newPlan checks the steep and makes it ready. Everything that does not vary from
// draw to draw is settled here: words become factors, temperatures become pieces,
// and measured volumes are taken to 20 C.
func newPlan(s *Steep) (plan, error) {
	if err := s.check(); err != nil {
		return plan{}, err
	}
	row := &formRows[s.Form]
	wet := s.wet()
	p := plan{k80: row.K80, washed: row.Washed, live: row.Live, wet: wet, dryG: wet.dryG(),
		ownML: wet.ownWaterML(), kappa: s.KappaMLPerG, soluble: s.soluble().Share, direct: s.Method.IsDirect()}
	p.pressedML = s.assumedHeld(ScrewPressed).perG * p.dryG
	stages := s.Stages()
	p.passes = make([]passPlan, len(stages))
	// on the stack: the pieces of most passes fit, and plans are made by the hundred
	var few [32]piece
	// a dead membrane lets everything through: after a day in liquid at the latest, and for good
	if row.Live != 1 {
		p.aliveMin = minutesADay
	}
	for i := range stages {
		p.addPass(s, &stages[i], &p.passes[i], appendHeat(few[:0], s, &stages[i]))
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
	start, _, _ := s.StartC(p)
	law := cooling{StartC: start, AmbientC: ambientC(p)}
	switch {
	case p.EndC != nil && p.isHeated(start):
		return appendPieces(pieces, straightLeg(start, *p.EndC, p.Minutes))
	case p.EndC != nil:
		// check has refused ends that no cooling joins
		law, _ = coolingSpan{StartC: start, EndC: *p.EndC, AmbientC: law.AmbientC, Minutes: p.Minutes}.cooling()
	case p.CoolingPerMin != nil:
		law.PerMin = *p.CoolingPerMin
	}
	return appendPieces(pieces, newtonLeg(law, p.Minutes))
}

// addPass fills one pass. The factor of live membranes goes into the minutes of a
// piece, so that a draw has one exponential per piece and no branch; the minutes
// that count for the loss by heat are the true ones.
func (p *plan) addPass(s *Steep, in *Pass, out *passPlan, heat []piece) {
	boiling := s.IsBoiling(in)
	out.hottestC, out.endC = s.Ends(in)
	out.from = len(p.pieces)
	for _, h := range heat {
		if h.tempC >= liveMembraneC {
			p.aliveMin = 0
		}
		out.minutes += h.minutes
		// A piece in which the membranes die is two: release changes its rate there,
		// and loss does not.
		alive := min(h.minutes, p.aliveMin)
		p.aliveMin -= alive
		if alive > 0 {
			p.appendPiece(h, alive, p.live, boiling)
		}
		if alive < h.minutes || h.minutes == 0 {
			p.appendPiece(h, h.minutes-alive, 1, boiling)
		}
	}
	out.to = len(p.pieces)
	// nobody stirs a rolling boil, and nobody needs to
	agitation := in.Agitation
	if agitation == unstated && boiling {
		agitation = rollingBoil
	}
	abv, _ := s.abvPct(in)
	out.rate = agitation.rateFactor(out.hottestC, in.InBag) * solventRateFactor(abv)
	out.boiling, out.loss = boiling, in.BoiledOffML
	out.liquidML = in.VolumeML
	if in.VolumeTempC != nil {
		// jugs are read hot and added up at 20 C: 4 % of a litre at 96 C is no reading error
		out.liquidML = at20C(in.VolumeML, *in.VolumeTempC)
	}
	if in.Efficiency != nil {
		out.settled, out.efficient = true, *in.Efficiency
	}
	out.held = p.heldRule(s, in, out.endC)
	out.weighed = in.Solids != nil && !p.direct
}

// appendPiece adds so many minutes of a piece of heat, at a factor on the rate.
func (p *plan) appendPiece(h piece, minutes, factor float64, boiling bool) {
	one := planPiece{minutes: minutes * factor, coldness: h.coldness}
	for c := range one.fade {
		one.fade[c] = minutes * Class(c).lossRate(h.tempC, boiling)
	}
	p.pieces = append(p.pieces, one)
}

// Ends returns the highest and the last temperature of a pass. Newton's law and
// straight lines are monotone, so the highest is one of the readings.
func (s *Steep) Ends(in *Pass) (hottestC, endC float64) {
	if n := len(in.Curve); n > 0 {
		hottestC = in.Curve[0].TempC
		for _, r := range in.Curve {
			hottestC = max(hottestC, r.TempC)
		}
		return hottestC, in.Curve[n-1].TempC
	}
	start, _, ok := s.StartC(in)
	// only a pass with an efficiency has no temperature, and its rate is never used
	if !ok {
		return roomC, roomC
	}
	endC = start
	if in.EndC != nil {
		endC = *in.EndC
	} else if in.CoolingPerMin != nil {
		endC = cooling{start, ambientC(in), *in.CoolingPerMin}.at(in.Minutes)
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
		// it is usually measured as it runs off, at the temperature at which the pass ended
		tempC := endC
		if in.RecoveredTempC != nil {
			tempC = *in.RecoveredTempC
		}
		return heldRule{origin: Measured, outML: new(at20C(*in.RecoveredML, tempC))}
	case in.HeldML != nil:
		return heldRule{origin: Measured, totalML: in.HeldML}
	case in.SpentG != nil:
		return heldRule{origin: Measured, spentG: in.SpentG}
	}
	return s.assumedHeld(in.Separation)
}

// assumedHeld is the held liquid of a separation that was not measured: what was
// measured before for the material, else that of its kind. Squeezing never keeps
// more than draining did, nor the press more than the hand.
func (s *Steep) assumedHeld(by Separation) heldRule {
	if by == LeftIn {
		return heldRule{origin: assumed}
	}
	if r := s.Remembered.of(by); r != nil {
		return heldRule{origin: Remembered, perG: *r, sdLn: ownHeldSDLn}
	}
	rule := heldRule{origin: assumed, perG: s.Kind.HeldMLPerG(by), sdLn: kindRows[s.Kind].HeldSDLn}
	for _, milder := range []Separation{Drained, Squeezed} {
		if r := s.Remembered.of(milder); r != nil && milder < by && *r < rule.perG {
			rule.perG, rule.sdLn = *r, ownHeldSDLn
		}
	}
	return rule
}

// waterGPerML is the density of water at 20 C [17].
const waterGPerML = 0.99820123

// mostHeldSD cuts the draws of a held liquid, in standard deviations.
const mostHeldSD = 2.5

// of returns the liquid that stays in the material out of liquidML present. The
// draw has a normal score for assumed figures and a relative error for measured
// ones.
func (h *heldRule) of(liquidML, insolubleG, dryG float64, d *draw) float64 {
	held := h.perG * dryG
	switch {
	case h.outML != nil:
		held = liquidML - *h.outML*(1+d.slip)
	case h.totalML != nil:
		held = *h.totalML * (1 + d.slip)
	case h.spentG != nil:
		held = (*h.spentG - insolubleG) / waterGPerML * (1 + d.slip)
	case d.held != 0:
		// log-normal tails are long: far out the material would hold more than anyone pours on
		held *= math.Exp(h.sdLn * min(max(d.held, -mostHeldSD), mostHeldSD))
	}
	// two readings with errors of their own may ask for more than there is, or for less than nothing
	return min(max(held, 0), liquidML)
}

// recoverySlack is by how much recovered liquid may exceed what was there
// before it is called impossible: reading errors of two jugs, a judgement.
const recoverySlack = 0.03

// checkLiquids refuses more liquid out than in, pass by pass, and spent material
// lighter than what never dissolves of it. It needs the held liquid of the passes
// before, which is why it is not a part of Check's first look at each pass.
func (p *plan) checkLiquids() error {
	l, d := p.liquidAtStart(), centralDraw()
	for i := range p.passes {
		one := &p.passes[i]
		p.pour(&l, i, p.k80*one.rate, &d)
		if err := p.checkHeldRule(&one.held, &l); err != nil {
			return inPass(i+1, len(p.passes), err)
		}
	}
	return nil
}

// checkHeldRule refuses what was measured at the end of a pass if it cannot be.
func (p *plan) checkHeldRule(h *heldRule, l *liquidState) error {
	const again = "measure again, or check which figure is which"
	most := l.liquidML * (1 + recoverySlack)
	// what has dissolved is no longer in the spent material, and is not weighed with it
	insolubleG := p.dryG * (1 - p.soluble*(1-l.solids.solid))
	switch {
	case h.outML != nil && *h.outML > most:
		return Refuse(again, "%s mL came out of %s mL (both at 20 C)", number(*h.outML), number(l.liquidML))
	case h.totalML != nil && *h.totalML > most:
		return Refuse(again, "%s mL held is more than the %s mL present", number(*h.totalML), number(l.liquidML))
	case h.spentG != nil && *h.spentG < insolubleG*(1-recoverySlack):
		return Refuse("weigh it wet, straight after the pass", "spent material of %s g is lighter than the %s g that never "+
			"dissolve", number(*h.spentG), number(insolubleG))
	}
	return nil
}
