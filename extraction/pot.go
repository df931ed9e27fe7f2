package extraction

import "math"

// pot is where the extractable part of one class is: still in the solids, or
// dissolved in the liquid that is on or in them. Both are shares of all that
// the material held; what has been drained off is no longer counted.
type pot struct{ solid, dissolved float64 }

// release returns the pot after a piece of time in which the rate integrates
// to k, the heat loss of dissolved solute to loss (both without unit), in a
// bath of fraction phi (see Bath.Fraction):
//
//	dS/dt = -(k/phi) (S - (1-phi)(S+B)),   dB/dt = -dS/dt - loss B
//
// The solution is exact for a constant ratio of k to loss.
func (p pot) release(k, loss, phi float64) pot {
	switch {
	// without liquid everything goes back into the plant, however long it stands
	case phi <= 0:
		return pot{solid: p.solid + p.dissolved}
	case loss == 0:
		total := p.solid + p.dissolved
		rest := (1 - phi) * total
		s := rest + (p.solid-rest)*math.Exp(-k/phi)
		return pot{s, total - s}
	case phi == 1:
		return p.releaseFading(k, loss)
	}
	return p.releaseSorbed(k, loss, phi)
}

// releaseFading solves release for phi = 1, two first-order steps in a row:
//
//	B(t) = B e^{-v} + S k/(v-k) (e^{-k} - e^{-v}),   S(t) = S e^{-k}
func (p pot) releaseFading(k, loss float64) pot {
	if p.solid < 1e-14 {
		// Nothing is left to release: most draws get here before the last piece.
		return pot{p.solid, p.dissolved * decay(loss)}
	}
	ek := math.Exp(-k)
	ev := decay(loss)
	// (e^-k - e^-v)/(v-k) without cancellation when the two rates are close.
	var mean float64
	if d := loss - k; math.Abs(d) > 0.03 {
		mean = (ek - ev) / d
	} else {
		mean = ek * (1 - d/2*(1-d/3*(1-d/4*(1-d/5*(1-d/6)))))
	}
	return pot{p.solid * ek, p.dissolved*ev + p.solid*k*mean}
}

// decay returns exp(-v). The loss in one piece of a curve is small, and a short
// series, exact to 1e-13 below 0.02, is several times faster there.
func decay(v float64) float64 {
	if v < 0.02 {
		return 1 - v*(1-v/2*(1-v/3*(1-v/4*(1-v/5))))
	}
	return math.Exp(-v)
}

// releaseSorbed solves release for 0 < phi < 1 by the exponential of the two by
// two system with a = k, b = k(1-phi)/phi, v = loss: its eigenvalues are real
// and not above zero, l1 l2 = a v and l1 + l2 = -(a+b+v).
func (p pot) releaseSorbed(k, loss, phi float64) pot {
	a, b := k, k*(1-phi)/phi
	sum := a + b + loss
	half := math.Sqrt(max(sum*sum-4*a*loss, 0)) / 2
	if sum == 0 {
		return p
	}
	// by the product of the two: their difference would lose all digits where the loss is small
	slow := -a * loss / (sum/2 + half)
	fast := -(sum/2 + half)
	es, ef := math.Exp(slow), math.Exp(fast)
	slope := es // (es - ef)/(slow - fast)
	// two equal rates have no difference to divide by; the limit is the exponential itself
	if half > 1e-9 {
		slope = (es - ef) / (2 * half)
	}
	// exp(M) = ef I + slope (M - fast I)
	return pot{
		solid:     ef*p.solid + slope*((-a-fast)*p.solid+b*p.dissolved),
		dissolved: ef*p.dissolved + slope*(a*p.solid+(-b-loss-fast)*p.dissolved),
	}
}

// settle returns the pot after a stage of efficiency e: S - e (S - S*), with
// S* = (1-phi)(S+B) the equilibrium. Efficiency 1 is equilibrium.
func (p pot) settle(e, phi float64) pot {
	total := p.solid + p.dissolved
	s := p.solid - e*(p.solid-(1-phi)*total)
	return pot{s, total - s}
}

// drain parts the liquid: held of liquid mL stay with the solids. It returns
// the pot that stays and the share that left. The liquid in the solids has the
// strength of the liquid that leaves (constant underflow [8]).
func (p pot) drain(liquidML, heldML float64) (left pot, out float64) {
	if liquidML <= 0 {
		return p, 0
	}
	kept := min(heldML/liquidML, 1)
	return pot{p.solid, p.dissolved * kept}, p.dissolved * (1 - kept)
}

// bathFraction returns V/(V+s), and 1 when there is neither liquid nor sorption.
func bathFraction(volumeML, sorbedML float64) float64 {
	if sorbedML == 0 {
		return 1
	}
	return volumeML / (volumeML + sorbedML)
}
