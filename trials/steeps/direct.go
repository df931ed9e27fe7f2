package steeps

import (
	"hedgerow/extraction"
	"hedgerow/trials"
)

// ofDirect works out what a material put in itself gives up.
func (s *Steeper) ofDirect(a trials.Addition) (Yield, error) {
	steep, m, err := materialSteep(s.materials,
		materialUse{key: a.MaterialKey, form: a.Form, method: a.Method, massG: *a.MassG,
			moisturePct: a.MoisturePct, moistureMeasured: true})
	if err != nil {
		return Yield{}, err
	}
	treatment, err := s.treatmentOf(a)
	if err != nil {
		return Yield{}, err
	}
	pass, err := treatment.extraction(a.Method)
	if err != nil {
		return Yield{}, err
	}
	if a.BoilOffL != nil {
		pass.BoiledOffML = *a.BoilOffL * 1000
	}
	steep.Fermenting = a.Stage == trials.StagePrimary
	// juice is all out at once: there is nothing to wait for
	if steep.Method != extraction.JuiceIn {
		steep.Passes = []extraction.Pass{pass}
	}
	if !a.IsPlant() {
		return s.yieldOf(steep, m, a.Method)
	}
	by, err := separationOf(a)
	if err != nil {
		return Yield{}, err
	}
	// before the run, for it writes kind, moisture and soluble share into the steep
	use := plantUseOf(s.materials, &steep, m, a.Form, by)
	y, err := s.yieldOf(steep, m, a.Method)
	if err != nil {
		return y, err
	}
	i := immersionOf(steep, use, y.Result)
	y.Immersion = &i
	return y, nil
}

// separationOf is how a plant put straight in is parted from the beer; one that is
// not taken out counts as left in.
func separationOf(a trials.Addition) (extraction.Separation, error) {
	if _, out := a.TakenOut(); !out {
		return extraction.LeftIn, nil
	}
	switch a.OutBy {
	case "":
		return extraction.Drained, nil
	// in a record this word is the screw press; ParseSeparation takes it as people say it, for by hand
	case trials.SeparationPressed:
		return extraction.ScrewPressed, nil
	}
	by, err := extraction.ParseSeparation(a.OutBy)
	return by, trials.ProblemOf(err)
}

// treatmentOf is how a material put in itself was treated, up to now if it is still in.
func (s *Steeper) treatmentOf(a trials.Addition) (Treatment, error) {
	t := Treatment{StartC: a.StartC, EndC: a.EndC, InBag: a.InBag, Agitation: a.Agitation,
		Minutes: contactMinutes(s.index, a)}
	if a.Curve == "" {
		return t, nil
	}
	var err error
	t.Curve, err = trials.KeptCurve(a.Curve)
	return t, err
}

// contactMinutes is how long a material was in: until it came out, else until the
// batch was packaged or until now.
func contactMinutes(x *trials.Index, a trials.Addition) float64 {
	until := x.Now
	if p, ok := x.Packaged(a.BatchID); ok && p.At.Before(until) {
		until = p.At
	}
	return a.ContactMinutes(until)
}
