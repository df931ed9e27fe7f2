package extraction

import "math"

// draw is one set of the figures that are in doubt. The central draw gives the
// point values.
type draw struct {
	// eaOffKJ is added to the activation energy of every class.
	eaOffKJ float64
	// rate is a factor on k80, agitate one on g.
	rate, agitate float64
	// held is the normal score of an assumed held liquid, slip the relative error of
	// a measured one.
	held, slip float64
	// ceiling is u of this draw, capped at 1; run does not use it.
	ceiling byClass
	// fadeBoil, fadeHot and fadeColo are factors on the loss rates of aroma at a
	// boil, of aroma in a hot stand, and of colour.
	fadeBoil, fadeHot, fadeColo float64
	// dryness is a factor on the as-dried equivalent.
	dryness byClass
	// trials is the factor from own trials.
	trials byClass
	// soluble and reading are the normal scores of the soluble share and of a measured
	// strength.
	soluble, reading float64
}

// centralDraw has every figure at its default.
func centralDraw() draw {
	ones := byClass{1, 1, 1, 1, 1, 1, 1}
	return draw{rate: 1, agitate: 1, ceiling: ones, fadeBoil: 1, fadeHot: 1, fadeColo: 1,
		dryness: ones, trials: ones}
}

// outcome is what one draw of a plan gives.
type outcome struct {
	// kept is Y S, the share in the liquid that is kept.
	kept byClass
	// solid is still in the spent material, dissolved in the liquid it holds.
	solid, dissolved byClass
	outML, heldML    float64
	// weighed is the share of the water class in the passes whose strength was
	// measured, weighedML their liquid.
	weighed, weighedML float64
}

// run computes the plan for one draw and the wanted classes. With detail it
// also fills one passResult for each pass, and for that follows a second pot, one
// without loss by heat: Yield and ShareOfEquilibrium are about release alone.
//
// Passes of an extract follow the recursion of the pot, with the volume of what
// has dissolved added to the liquid of its pass. Direct methods drain nothing:
// their bath is the whole batch, so large that sorption (kappa up to 9 mL/g)
// changes it by one per cent at most and is left out unless a volume is given.
func (p *plan) run(d *draw, classes []Class, detail []passResult) outcome {
	var o outcome
	var warm, cold [classCount]pot // with and without loss by heat
	for _, c := range classes {
		warm[c] = pot{1 - p.washed, p.washed}
		cold[c] = warm[c]
	}
	l := p.liquidAtStart()
	for i := range p.passes {
		one := &p.passes[i]
		base := p.k80 * d.rate * d.agitate * one.rate
		p.pour(&l, i, base, d)
		liquidML, heldML, phi := l.liquidML, l.heldML, l.phi
		o.outML += liquidML - heldML
		if one.weighed {
			o.weighedML += liquidML - heldML
		}
		var r *passResult
		if detail != nil {
			r = &detail[i]
			r.fill(one, liquidML, heldML, p.dryG)
		}
		// NaN equals nothing, so that the first class works tau out; classes of one energy then share it
		eaKJ, tau := math.NaN(), 0.0
		for _, c := range classes {
			if ea := classRows[c].EaKJ + d.eaOffKJ; ea != eaKJ {
				eaKJ, tau = ea, p.reduced(one, ea)
			}
			rate := base * classRows[c].RateFactor
			before := warm[c]
			warm[c] = p.step(one, warm[c], c, rate, tau, phi, d)
			if r != nil {
				start := cold[c]
				cold[c] = one.still(cold[c], rate*tau, phi)
				// what is washed off at once is in the beer already: a direct stage counts from the whole plant
				if p.direct && i == 0 {
					start, before = pot{solid: 1}, pot{solid: 1}
				}
				r.ReducedMinutes[c] = tau
				r.record(c, rate*tau, phi, start, cold[c], before, warm[c])
			}
			// nothing is drained: the bath of the next stage is the same beer
			if p.direct {
				continue
			}
			var out float64
			warm[c], out = warm[c].drain(liquidML, heldML)
			o.kept[c] += out
			if c == Water && one.weighed {
				o.weighed += out
			}
			if r != nil {
				cold[c], r.Yield[c] = cold[c].drain(liquidML, heldML)
				r.Kept[c] = out
			}
		}
	}
	p.finish(&o, &warm, classes, l.heldML)
	return o
}

// liquidState is the liquid of a steep pass by pass.
type liquidState struct {
	// liquidML is what was there before the pass was parted, heldML what stays.
	liquidML, heldML float64
	phi              float64
	// solids is all that water dissolves: its volume is in liquidML.
	solids pot
}

// liquidAtStart is the plant with its own water.
func (p *plan) liquidAtStart() liquidState {
	return liquidState{heldML: p.ownML, solids: pot{1 - p.washed, p.washed}}
}

// pour takes the liquid through pass i; base is the rate of the water class at 80 C
// in this pass. What dissolves takes up room, so that the solids are followed even
// where another class is asked for.
func (p *plan) pour(l *liquidState, i int, base float64, d *draw) {
	one := &p.passes[i]
	l.liquidML = max(one.liquidML+l.heldML-one.loss, 0)
	l.phi = 1
	if !p.direct || one.liquidML > 0 {
		l.phi = bathFraction(l.liquidML, p.kappa*p.dryG)
	}
	if p.direct {
		l.heldML = l.liquidML
		return
	}
	if p.soluble > 0 {
		before := l.solids.solid
		if i == 0 {
			before = 1 // what is washed off at once is given in the first pass
		}
		tau := p.reduced(one, classRows[Water].EaKJ+d.eaOffKJ)
		l.solids = one.still(l.solids, base*classRows[Water].RateFactor*tau, l.phi)
		l.liquidML += apparentMLPerG * p.soluble * p.dryG * (before - l.solids.solid)
	}
	// what has dissolved is no longer there to hold liquid or to be weighed
	insolubleG := p.dryG * (1 - p.soluble*(1-l.solids.solid))
	l.heldML = one.held.of(l.liquidML, insolubleG, p.dryG, d)
	l.solids, _ = l.solids.drain(l.liquidML, l.heldML)
}

// finish settles what is in the beer and what is left behind.
func (p *plan) finish(o *outcome, warm *[classCount]pot, classes []Class, heldML float64) {
	for _, c := range classes {
		o.solid[c] = warm[c].solid
		if p.direct {
			o.kept[c] = warm[c].dissolved
			continue
		}
		o.dissolved[c] = warm[c].dissolved
	}
	o.heldML = heldML
	if p.direct {
		o.outML, o.heldML = heldML, 0
	}
}

// reduced fills the minutes at 80 C of the pieces of a pass and returns their
// sum, tau.
func (p *plan) reduced(one *passPlan, eaKJ float64) float64 {
	tau, b := 0.0, -eaKJ*1000/gasConstant
	for i := one.from; i < one.to; i++ {
		piece := &p.pieces[i]
		piece.reduced = piece.minutes * math.Exp(b*piece.coldness)
		tau += piece.reduced
	}
	return tau
}

// still releases over a pass without loss by heat; k is rate times tau.
func (one *passPlan) still(x pot, k, phi float64) pot {
	if one.settled {
		return x.settle(one.efficient, phi)
	}
	return x.release(k, 0, phi)
}

// step releases over a pass with the loss by heat of class c. Release and loss
// have different temperature laws, so that their ratio moves along a curve; over
// one piece it is taken as constant, which costs less than 1e-4 of the class.
func (p *plan) step(one *passPlan, x pot, c Class, rate, tau, phi float64, d *draw) pot {
	// only these two fade: the others need one release for the whole pass, not one for each piece
	if c != Aroma && c != Colour {
		return one.still(x, rate*tau, phi)
	}
	// an efficiency says how far, not when: all of it is out at once and fades for the whole pass
	if one.settled {
		x = x.settle(one.efficient, phi)
		rate = 0
	}
	fade := d.fade(c, one.boiling)
	for i := one.from; i < one.to; i++ {
		piece := &p.pieces[i]
		x = x.release(rate*piece.reduced, fade*piece.fade[c], phi)
	}
	return x
}

// fade returns the factor of this draw on the loss rate of a class.
func (d *draw) fade(c Class, boiling bool) float64 {
	switch {
	case c == Colour:
		return d.fadeColo
	case boiling:
		return d.fadeBoil
	}
	return d.fadeHot
}
