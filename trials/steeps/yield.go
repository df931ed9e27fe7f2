package steeps

import (
	"slices"

	"hedgerow/dilution"
	"hedgerow/extraction"
	"hedgerow/trials"
)

// Yield is what a material gave up: the liquid to pour, what it carries, and
// how sure that is.
type Yield struct {
	MaterialKey string
	Method      string
	Class       int     // solute class that counts for the material
	MassG       float64 // material as weighed that stands behind it
	LiquidL     float64 // extract to pour, litres at 20 C; 0 for a material put in itself
	LiquidHalfL float64 // half-width of LiquidL
	SolidsGPerL float64 // dissolved solids of the liquid
	SolidsHalf  float64 // half-width of SolidsGPerL
	// Grams is fully extracted, as-dried material in the liquid (or in the
	// beer), by solute class, with its 95 % interval.
	Grams    [trials.ClassCount]dilution.Estimate
	Result   extraction.Result
	Figures  []extraction.Provenance // every input with where it comes from
	Warnings []string
}

// Scaled is the part of the yield that was poured in.
func (y Yield) Scaled(share float64) Yield {
	y.MassG *= share
	for c := range y.Grams {
		g := &y.Grams[c]
		g.Value, g.Low, g.High, g.U = g.Value*share, g.Low*share, g.High*share, g.U*share
	}
	return y
}

// OfExtract works out what an extract gives.
func OfExtract(n *trials.Notebook, materials trials.Materials, x trials.Extract) (Yield, error) {
	s, m, err := steepOf(n, materials, x)
	if err != nil {
		return Yield{}, err
	}
	if len(x.Passes) == 0 {
		return Yield{}, &trials.Problem{Code: trials.NotEnough, Message: "extract " + x.Name + " has no pass yet",
			Hint: `hedgerow extract pass ` + x.Name + ` "400mL 96C>60C 30min drained"`}
	}
	s.Remembered = remembered(n, materials, x)
	if s.SolidsGPerL = x.SolidsGPerL; s.SolidsGPerL == nil {
		if s.SolidsGPerL, err = measuredSolids(s, x.Passes); err != nil {
			return Yield{}, err
		}
	}
	return yieldOf(s, m, x.Method)
}

// steepOf turns an extract into the steep of package extraction.
func steepOf(n *trials.Notebook, materials trials.Materials, x trials.Extract) (extraction.Steep, trials.Material, error) {
	s, m, err := materialSteep(materials, materialUse{key: x.MaterialKey, form: x.Form, method: x.Method, massG: x.MassG, moisturePct: x.MoisturePct, moistureMeasured: true})
	if err != nil {
		return s, m, err
	}
	for _, p := range x.Passes {
		pass, err := passOf(p, x.SpiritPct)
		if err != nil {
			return s, m, err
		}
		s.Passes = append(s.Passes, pass)
	}
	return s, m, nil
}

// materialUse is a material, its form and method, and how much of it.
type materialUse struct {
	key, form, method string
	massG             float64
	moisturePct       *float64
	moistureMeasured  bool // moisturePct is of this very lot
}

// materialSteep fills in what does not depend on passes.
func materialSteep(materials trials.Materials, u materialUse) (extraction.Steep, trials.Material, error) {
	m, err := materials.Find(u.key)
	if err != nil {
		return extraction.Steep{}, m, err
	}
	form, err := extraction.FormFor(extraction.FormWords{Word: u.form, HardKind: m.HardWhole})
	if err != nil {
		return extraction.Steep{}, m, trials.ProblemOf(err)
	}
	method, err := extraction.ParseMethod(u.method)
	if err != nil {
		return extraction.Steep{}, m, trials.ProblemOf(err)
	}
	moisture, err := materials.Moisture(m, u.form, u.moisturePct)
	if err != nil {
		return extraction.Steep{}, m, err
	}
	s := extraction.Steep{Method: method, Form: form, MassG: u.massG, Moisture: &moisture.Value}
	switch {
	case moisture.Origin == trials.OriginCatalogue:
		s.MoistureOrigin = extraction.Catalogue
	case u.moistureMeasured:
		s.MoistureOrigin = extraction.Measured
	}
	return s, m, nil
}

// passOf turns a pass as logged into one of package extraction.
func passOf(p trials.Pass, spiritPct *float64) (extraction.Pass, error) {
	out := extraction.Pass{
		VolumeML: p.VolumeL * 1000, VolumeTempC: p.VolumeTempC, EndC: p.EndC,
		Minutes: p.Minutes, Boiling: p.Agitation == "boiling", InBag: p.InBag, ABVPct: spiritPct,
		RecoveredML: millilitres(p.RecoveredL), HeldML: millilitres(p.HeldL), SpentG: p.SpentG, Efficiency: p.Efficiency,
	}
	if p.IsHeated() {
		out.StartC = &p.StartC
	}
	// A cold steep that ends warmer than the room it stood in was not in that
	// room: its temperature is taken as straight between start and end.
	if p.Curve != "" {
		curve, err := trials.ParseCurve(p.Curve)
		if err != nil {
			return out, err
		}
		out.Curve = keptTo(curve, p.Minutes)
	}
	var err error
	if p.Agitation != "" {
		if out.Agitation, err = extraction.ParseAgitation(p.Agitation); err != nil {
			return out, trials.ProblemOf(err)
		}
	}
	out.Separation, err = extraction.ParseSeparation(p.Separation)
	if p.Separation == trials.SeparationPressed {
		out.Separation = extraction.ScrewPressed
	}
	return out, trials.ProblemOf(err)
}

// millilitres turns optional litres into millilitres.
func millilitres(l *float64) *float64 {
	if l == nil {
		return nil
	}
	ml := *l * 1000
	return &ml
}

// remembered is the held liquid last measured for the material of x in an
// earlier extract, by separation.
func remembered(n *trials.Notebook, materials trials.Materials, x trials.Extract) extraction.HeldFigures {
	var held extraction.HeldFigures
	earlier := slices.Clone(n.Extracts)
	slices.SortStableFunc(earlier, func(a, b trials.Extract) int { return a.MadeAt.Compare(b.MadeAt) })
	for _, e := range earlier {
		if e.MaterialKey != x.MaterialKey || e.ID == x.ID || !e.MadeAt.Before(x.MadeAt) || len(e.Passes) == 0 {
			continue
		}
		s, _, err := steepOf(n, materials, e)
		if err != nil {
			continue
		}
		r, err := s.Run()
		if err != nil {
			continue
		}
		for i, p := range r.Passes {
			if p.HeldOrigin == extraction.Measured {
				remember(&held, s.Passes[i].Separation, p.HeldMLPerG)
			}
		}
	}
	return held
}

// remember keeps the held liquid of one separation.
func remember(held *extraction.HeldFigures, s extraction.Separation, mlPerG float64) {
	switch s {
	case extraction.Drained:
		held.Drained = &mlPerG
	case extraction.Squeezed:
		held.Squeezed = &mlPerG
	case extraction.ScrewPressed:
		held.ScrewPressed = &mlPerG
	}
}

// OfDirect works out what a material put in itself gives up. A material that
// is still in is reckoned up to now.
func OfDirect(n *trials.Notebook, materials trials.Materials, a trials.Addition) (Yield, error) {
	s, m, err := materialSteep(materials, materialUse{key: a.MaterialKey, form: a.Form, method: a.Method, massG: *a.MassG, moisturePct: a.MoisturePct, moistureMeasured: true})
	if err != nil {
		return Yield{}, err
	}
	stage, err := stageOf(n, a)
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

// stageOf is how a material put in itself was treated, up to now if it is still in.
func stageOf(n *trials.Notebook, a trials.Addition) (Stage, error) {
	t := Stage{StartC: a.StartC, EndC: a.EndC, InBag: a.InBag, Agitation: a.Agitation, Minutes: contactMinutes(n, a)}
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
