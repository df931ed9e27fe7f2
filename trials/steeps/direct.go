package steeps

import (
	"slices"
	"time"

	"hedgerow/extraction"
	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// ofDirect works out what a material put in itself gives up by a moment.
func (s *Steeper) ofDirect(a trials.Addition, by time.Time) (Yield, error) {
	steep, m, err := materialSteep(s.materials,
		materialUse{key: a.MaterialKey, form: a.Form, method: a.Method, massG: *a.MassG,
			moisturePct: a.MoisturePct, moistureMeasured: true})
	if err != nil {
		return Yield{}, err
	}
	treatment, err := s.treatmentOf(a, by)
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
	if lies(a.Method) {
		pass.ABVPct = s.beerPct(a.BatchID, by)
	}
	steep.Fermenting = a.Stage == trials.StagePrimary
	// juice is all out at once: there is nothing to wait for
	if steep.Method != extraction.JuiceIn {
		steep.Passes = []extraction.Pass{pass}
	}
	if !a.IsPlant() {
		return s.yieldOf(steep, m, a.Method)
	}
	parted, err := separationOf(a)
	if err != nil {
		return Yield{}, err
	}
	// before the run, for it writes kind, moisture and soluble share into the steep
	use := plantUseOf(s.materials, &steep, m, a.Form, parted, s.learned(bag{m.Key, a.Lot}, a.At))
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

// treatmentOf is how a material put in itself was treated up to a moment.
func (s *Steeper) treatmentOf(a trials.Addition, by time.Time) (Treatment, error) {
	t := Treatment{StartC: a.StartC, EndC: a.EndC, InBag: a.InBag, Agitation: a.Agitation,
		Minutes: contactMinutes(s.index, a, by)}
	if t.StartC == nil && a.Curve == "" && a.IsPlant() && !a.InWort() {
		t.StartC = loggedTempC(s.index, a, a.At.Add(time.Duration(t.Minutes*float64(time.Minute))))
	}
	if a.Curve == "" {
		return t, nil
	}
	curve, err := trials.KeptCurve(a.Curve)
	t.Curve = cutAt(curve, t.Minutes)
	return t, err
}

// cutAt is a curve up to a moment, the temperature straight between two readings; one
// that ends before it is left as it is.
func cutAt(curve []figure.CurvePoint, minutes float64) []figure.CurvePoint {
	for i, p := range curve {
		if p.Minutes < minutes {
			continue
		}
		if i == 0 {
			return append(curve[:0:0], p, figure.CurvePoint{Minutes: p.Minutes + minutes, TempC: p.TempC})
		}
		last := curve[i-1]
		share := (minutes - last.Minutes) / (p.Minutes - last.Minutes)
		return append(slices.Clone(curve[:i]),
			figure.CurvePoint{Minutes: minutes, TempC: last.TempC + share*(p.TempC-last.TempC)})
	}
	return curve
}

// contactMinutes is how long a material was in by a moment: until it came out or the
// batch was packaged, if that was before.
func contactMinutes(x *trials.Index, a trials.Addition, by time.Time) float64 {
	if p, ok := x.Packaged(a.BatchID); ok && p.At.Before(by) {
		by = p.At
	}
	minutes := a.ContactMinutes(by)
	if a.IsPlant() && !a.InWort() {
		// A time that was given is over only once it has passed.
		minutes = max(min(minutes, by.Sub(a.At).Minutes()), 1)
	}
	return minutes
}
