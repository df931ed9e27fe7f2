package extraction

// Stage is one pass of a Train: liquid poured on, left for a while, drained.
type Stage struct {
	// VolumeML is what is poured on.
	VolumeML float64
	// HeldMLPerG is r, liquid held per gram of dry matter once drained.
	HeldMLPerG float64
	// Efficiency is e, the share of the way to equilibrium; nil = use RateTime.
	Efficiency *float64
	// RateTime is K, rate times reduced time, no unit.
	RateTime *float64
}

// Train is a series of passes on the same material described by its numbers
// alone, without forms, temperatures or classes. Steep is the same recursion
// with those filled in.
type Train struct {
	// DryG is the dry matter.
	DryG float64
	// OwnWaterML is H0, the material's own water; 0 for dried goods.
	OwnWaterML float64
	// KappaMLPerG is sorption, see Bath.
	KappaMLPerG float64
	// Washed is w, the share dissolved at once.
	Washed float64
	// Stages are the passes in order.
	Stages []Stage
}

// StageResult is what left in one pass.
type StageResult struct {
	// Yield is the share of all extractable that left.
	Yield float64
	// OutML is the liquid that left.
	OutML float64
	// HeldML is still on the material afterwards.
	HeldML float64
}

// Run returns the passes in order, by the recursion
//
//	L = V_i + H_{i-1};  T = S + B;  phi = L/(L + kappa m);  S* = (1-phi) T
//	S <- S* + (S-S*) exp(-K/phi)   or   S <- S - e (S-S*)
//	H_i = min(r_i m, L);  out = (T-S)(L-H_i)/L;  B <- (T-S) H_i/L
//
// starting from S = 1-w, B = w, H = H0. It errs for negative amounts, shares
// outside 0 to 1, and a stage with neither Efficiency nor RateTime.
func (t Train) Run() ([]StageResult, error) {
	if err := t.check(); err != nil {
		return nil, err
	}
	p := pot{1 - t.Washed, t.Washed}
	heldML := t.OwnWaterML
	results := make([]StageResult, len(t.Stages))
	for i, s := range t.Stages {
		liquidML := s.VolumeML + heldML
		phi := bathFraction(liquidML, t.KappaMLPerG*t.DryG)
		if s.Efficiency != nil {
			p = p.settle(*s.Efficiency, phi)
		} else {
			p = p.release(*s.RateTime, 0, phi)
		}
		heldML = min(s.HeldMLPerG*t.DryG, liquidML)
		p, results[i].Yield = p.drain(liquidML, heldML)
		results[i].OutML = liquidML - heldML
		results[i].HeldML = heldML
	}
	return results, nil
}

// check refuses a train that Run cannot compute.
func (t Train) check() error {
	err := firstError(checkNotNegative("dry matter", t.DryG, "g"), checkNotNegative("own water", t.OwnWaterML, "mL"),
		checkNotNegative("sorption", t.KappaMLPerG, "mL/g"), checkShare("washed share", t.Washed))
	for _, s := range t.Stages {
		if err != nil {
			return err
		}
		err = s.check()
	}
	return err
}

// check refuses a stage that Run cannot compute.
func (s Stage) check() error {
	err := firstError(checkNotNegative("volume", s.VolumeML, "mL"), checkNotNegative("held liquid", s.HeldMLPerG, "mL/g"))
	switch {
	case err != nil:
		return err
	case s.Efficiency != nil:
		return checkShare("stage efficiency", *s.Efficiency)
	case s.RateTime != nil:
		return checkNotNegative("rate times time", *s.RateTime, "")
	}
	return refuse("give e or ktau", "a pass has neither an efficiency nor a rate times time")
}

// EqualPasses are n passes with the same efficiency and the same ratio of held
// to present liquid, without sorption or washing.
type EqualPasses struct {
	// Efficiency is e of every pass.
	Efficiency float64
	// HeldRatio is rho = H/L, liquid that stays over liquid present.
	HeldRatio float64
	// Passes is n.
	Passes int
}

// Yield returns the closed form of the recursion, with a = 1-e:
//
//	Y = 1 - a^n - e rho (rho^n - a^n)/(rho - a);   rho = a: 1 - a^n - n e rho^n
//
// For e = 1 this is the handbook 1 - rho^n [8]. The first pass on dry material
// has another ratio than the later ones: use Train for those.
func (q EqualPasses) Yield() (float64, error) {
	if err := firstError(checkShare("stage efficiency", q.Efficiency), checkShare("held ratio", q.HeldRatio)); err != nil {
		return 0, err
	}
	if q.Passes < 0 {
		return 0, refuse("give the number of passes", "%d passes is negative", q.Passes)
	}
	// (rho^n - a^n)/(rho - a) as a sum has no special case at rho = a.
	a, quotient, aN := 1-q.Efficiency, 0.0, 1.0
	for range q.Passes {
		quotient = quotient*q.HeldRatio + aN
		aN *= a
	}
	return 1 - aN - q.Efficiency*q.HeldRatio*quotient, nil
}
