package doseresponse

// A Window is where two tastes go together: the doses at which a beer is just
// right for the one and within the bounds of the other.
type Window struct {
	DoseGPerL float64 `json:"dose_g_per_l"` // most likely to be both
	// PBoth is 0.9 of its largest, or more, from low to high.
	LowGPerL  float64 `json:"low_g_per_l"`
	HighGPerL float64 `json:"high_g_per_l"`
	PBoth     float64 `json:"p_both"` // share that finds it right and within, at the dose
	// PWithinAtRightDose is the chance to be within at the right dose by itself.
	PWithinAtRightDose float64 `json:"p_within_at_right_dose"`
	// PRight is the share of "just right" at the dose of the window.
	PRight float64 `json:"-"`
}

// The doses that a window is looked for at: windowSteps over the posterior and
// windowBeyond on either side, ln.
const (
	windowSteps  = 80
	windowBeyond = 0.7
)

// windowWith returns the window in which P(right at x) within(x) is largest, x
// being the relative ln dose down to lo if that lies lower.
func (p *Posterior) windowWith(within func(x float64) float64, lo float64) Window {
	lo = min(lo, p.psiQ.low) - windowBeyond
	step := (max(p.psiQ.high, p.best) + windowBeyond - lo) / windowSteps
	both := make([]float64, windowSteps+1)
	look, top := p.newScan(), 0
	for k := range both {
		x := lo + float64(k)*step
		both[k] = look.at(x).mean(scanStride/2) * within(x)
		if both[k] > both[top] {
			top = k
		}
	}
	first, last := top, top
	for first > 0 && both[first-1] >= nearBest*both[top] {
		first--
	}
	for last < windowSteps && both[last+1] >= nearBest*both[top] {
		last++
	}
	at := lo + float64(top)*step
	right := p.rightShare(at)
	return Window{DoseGPerL: p.dose(at), LowGPerL: p.dose(lo + float64(first)*step),
		HighGPerL: p.dose(lo + float64(last)*step), PBoth: right * within(at), PRight: right,
		PWithinAtRightDose: within(p.best)}
}

// bestBoth returns the window of the tastes to avoid; ok is false when there are
// none. A taste that no dose keeps cannot choose a dose, but counts in the chance.
func (p *Posterior) bestBoth() (w Window, ok bool) {
	if len(p.study.Avoid) == 0 {
		return Window{}, false
	}
	return p.bothOnce(), true
}

// weighBoth works out bestBoth.
func (p *Posterior) weighBoth() Window {
	product := func(x float64, all bool) float64 {
		chance := 1.0
		for _, k := range p.avoidOnce() {
			if k.Kept || all {
				chance *= k.Within(x)
			}
		}
		return chance
	}
	limit, ok := p.avoidLimit()
	if !ok {
		limit = p.psiQ.low
	}
	w := p.windowWith(func(x float64) float64 { return product(x, false) }, limit)
	w.PBoth = w.PRight * product(p.relative(w.DoseGPerL), true)
	w.PWithinAtRightDose = product(p.best, true)
	return w
}

// conflictAbove is the share of "too much" of another taste, at the right dose of
// this one, from which on the two cannot both be had.
const conflictAbove = 0.5

// Beside returns the window with another taste of the same beers, which is within
// its bounds where it is not too much. It does so where at the right dose of this
// taste most find too much of the other; conflict is false elsewhere.
func (p *Posterior) Beside(other *Posterior) (w Window, conflict bool) {
	within := func(x float64) float64 {
		_, _, much := other.votesAt(other.relative(p.dose(x)))
		return 1 - much
	}
	if within(p.best) >= 1-conflictAbove {
		return Window{}, false
	}
	return p.windowWith(within, p.relative(other.dose(other.psiQ.low))), true
}
