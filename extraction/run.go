package extraction

import "math"

// draw is one set of the figures that are in doubt. The central draw gives the
// point values.
type draw struct {
	eaKJ float64
	// rate is a factor on k80, agitate one on g.
	rate, agitate float64
	// held is a factor on assumed held liquid, slip the relative error of a
	// measured one.
	held, slip float64
	// ceiling is u of this draw, capped at 1; run does not use it.
	ceiling ByClass
	// fadeBoil, fadeHot and fadeColo are factors on the loss rates of aroma at a
	// boil, of aroma in a hot stand, and of colour.
	fadeBoil, fadeHot, fadeColo float64
	// dryness is a factor on the as-dried equivalent.
	dryness ByClass
	// trials is the factor from own trials.
	trials ByClass
}

// centralDraw has every figure at its default.
func centralDraw() draw {
	ones := ByClass{1, 1, 1, 1}
	return draw{eaKJ: EaKJ, rate: 1, held: 1, agitate: 1, ceiling: ones, fadeBoil: 1, fadeHot: 1, fadeColo: 1,
		dryness: ones, trials: ones}
}

// outcome is what one draw of a plan gives.
type outcome struct {
	// kept is Y S, the share in the liquid that is kept.
	kept ByClass
	// solid is still in the spent material, dissolved in the liquid it holds.
	solid, dissolved ByClass
	outML, heldML    float64
}

// run computes the plan for one draw and the wanted classes. With detail it
// also fills one PassResult for each pass, and for that follows a second pot, one
// without loss by heat: Yield and ShareOfEquilibrium are about release alone.
//
// Passes of an extract follow the recursion that Train.Run documents. Direct
// methods drain nothing: their bath is the whole batch, so large that sorption
// (kappa up to 9 mL/g) changes it by one per cent at most and is left out unless
// a volume is given.
func (p *plan) run(d *draw, classes []Class, detail []PassResult) outcome {
	var o outcome
	var warm, cold [ClassCount]pot // with and without loss by heat
	for _, c := range classes {
		warm[c] = pot{1 - p.washed, p.washed}
		cold[c] = warm[c]
	}
	heldML := p.ownML
	for i := range p.passes {
		one := &p.passes[i]
		liquidML := max(one.liquidML+heldML-one.loss, 0)
		phi := 1.0
		if !p.direct || one.liquidML > 0 {
			phi = bathFraction(liquidML, p.kappa*p.dryG)
		}
		heldML = liquidML
		if !p.direct {
			heldML = one.held.of(liquidML, p.dryG, d.held, d.slip)
		}
		o.outML += liquidML - heldML
		tau := p.reduced(one, d.eaKJ)
		var r *PassResult
		if detail != nil {
			r = &detail[i]
			r.fill(one, liquidML, heldML, tau, p.dryG)
		}
		base := p.k80 * d.rate * d.agitate * one.rate
		for _, c := range classes {
			rate := base * classRows[c].RateFactor
			before := warm[c]
			warm[c] = p.step(one, warm[c], c, rate, tau, phi, d)
			if r != nil {
				start := cold[c]
				cold[c] = one.still(cold[c], rate*tau, phi)
				if p.direct && i == 0 {
					start, before = pot{solid: 1}, pot{solid: 1}
				}
				r.record(c, rate*tau, phi, start, cold[c], before, warm[c])
			}
			if p.direct {
				continue
			}
			var out float64
			warm[c], out = warm[c].drain(liquidML, heldML)
			o.kept[c] += out
			if r != nil {
				cold[c], r.Yield[c] = cold[c].drain(liquidML, heldML)
				r.Kept[c] = out
			}
		}
	}
	p.finish(&o, &warm, classes, heldML)
	return o
}

// finish settles what is in the beer and what is left behind.
func (p *plan) finish(o *outcome, warm *[ClassCount]pot, classes []Class, heldML float64) {
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
	if c == Water || c == Resin {
		return one.still(x, rate*tau, phi)
	}
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
