package steeps

import (
	"hedgerow/extraction"
	"hedgerow/trials"
)

// OfDirect works out what a material put in itself gives up. A material that
// is still in is reckoned up to now.
func OfDirect(n *trials.Notebook, materials trials.Materials, a trials.Addition) (Yield, error) {
	s, m, err := materialSteep(materials, materialUse{key: a.MaterialKey, form: a.Form, method: a.Method, massG: *a.MassG, moisturePct: a.MoisturePct, moistureMeasured: true})
	if err != nil {
		return Yield{}, err
	}
	stage, err := treatmentOf(n, a)
	if err != nil {
		return Yield{}, err
	}
	pass, err := stage.extraction(a.Method)
	if err != nil {
		return Yield{}, err
	}
	if a.BoilOffL != nil {
		pass.BoiledOffML = *a.BoilOffL * 1000
	}
	s.Fermenting = a.Stage == trials.StagePrimary
	if s.Method != extraction.JuiceIn {
		s.Passes = []extraction.Pass{pass}
	}
	return yieldOf(s, m, a.Method)
}

// treatmentOf is how a material put in itself was treated, up to now if it is still in.
func treatmentOf(n *trials.Notebook, a trials.Addition) (Treatment, error) {
	t := Treatment{StartC: a.StartC, EndC: a.EndC, InBag: a.InBag, Agitation: a.Agitation, Minutes: contactMinutes(n, a)}
	if a.Curve == "" {
		return t, nil
	}
	var err error
	t.Curve, err = trials.ParseCurve(a.Curve)
	return t, err
}

// contactMinutes is how long a material was in: the time given, else until the
// batch was packaged or until now, at least a minute.
func contactMinutes(n *trials.Notebook, a trials.Addition) float64 {
	if a.Minutes != nil {
		return *a.Minutes
	}
	until := n.Now
	if p, ok := n.Packaged(a.BatchID); ok && p.At.Before(until) {
		until = p.At
	}
	return max(until.Sub(a.At).Minutes(), 1)
}
