package planning

import (
	"fmt"
	"math"

	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/steeps"
)

// Series asks for a design: vessels of one size at the given effective doses.
type Series struct {
	Pattern    Pattern   // the way it follows
	Class      int       // solute class of the doses
	DosesGPerL []float64 // 0 for a control
	BeerL      float64   // in each vessel
	PourStepL  float64   // what the syringe or jug is marked in
	ScaleStepG float64   // what the scale shows
	SparePct   float64   // extract made beyond what is poured
	All        bool      // one vessel, which gets all of the extract
}

// validate refuses a series that cannot be poured.
func (q Series) validate() error {
	for _, v := range []struct {
		what string
		v    float64
		unit string
	}{{"beer in each vessel", q.BeerL, "L"}, {"step of the syringe", q.PourStepL, "L"}, {"step of the scale",
		q.ScaleStepG, "g"}} {
		if err := trials.CheckPositive(v.what, v.v, v.unit); err != nil {
			return err
		}
	}
	for _, d := range q.DosesGPerL {
		if d < 0 || d > 1000 || math.IsNaN(d) {
			return trials.Refuse("give effective doses in g/L, such as 2", "dose %s g/L is outside 0 to 1000", trials.Number(d))
		}
	}
	if len(q.DosesGPerL) == 0 {
		return trials.Refuse("give at least one dose", "there is no dose")
	}
	return nil
}

// Amounts works out the amounts of a series. Of an extract that carries c g/L a
// vessel with V litres of beer gets
//
//	e = D (V + A) / c,   A = Dmax V / (c - Dmax)
//
// for the dose D after mixing, and water up to A, so that every vessel, the
// control too, is thinned alike. Everything is rounded to what can be measured;
// the doses then reached stand beside those wanted.
//
// Errors: an extract no stronger than a dose, a step of the syringe or scale
// coarser than a dose.
func Amounts(n *trials.Notebook, materials trials.Materials, q Series) (trials.Design, error) {
	if err := q.validate(); err != nil {
		return trials.Design{}, err
	}
	if q.Pattern.Extract == nil {
		return directDesign(n, materials, q)
	}
	return extractDesign(n, materials, q)
}

// highest is the largest dose of the series.
func (q Series) highest() float64 {
	top := 0.0
	for _, d := range q.DosesGPerL {
		top = max(top, d)
	}
	return top
}

// extractDesign pours an extract into the vessels.
func extractDesign(n *trials.Notebook, materials trials.Materials, q Series) (trials.Design, error) {
	x := *q.Pattern.Extract
	y, err := bestOf(n, materials).Extract(x)
	if err != nil {
		return trials.Design{}, err
	}
	total, err := q.poured(strength(y, q.Class))
	if err != nil {
		return trials.Design{}, err
	}
	// A little more than needed is made where the scale is coarse, so that half
	// a step of it moves the doses by no more than 2.5 %.
	const leastSteps = 20
	perG := y.LiquidL / y.MassG
	// up, for too little cannot be poured; nearest, where all of it goes in and the dose is what counts
	mass := max(roundUp(total*(1+q.SparePct/100)/perG, q.ScaleStepG), leastSteps*q.ScaleStepG)
	if q.All {
		mass = max(nearest(total/perG, q.ScaleStepG), q.ScaleStepG)
	}
	if k := toLeastTea(x, mass/y.MassG); k > 1 {
		mass = roundUp(k*mass, q.ScaleStepG)
		if q.All {
			// the beer gets a part of it, which a jug marked in 10 mL is too coarse for
			q.All, q.PourStepL = false, min(q.PourStepL, 0.001)
		}
	}
	x.MassG, x.Passes = mass, handyPasses(scaledPasses(x.Passes, mass/y.MassG))
	x.ID, x.MadeAt = "", n.Now // what earlier ones held back is remembered for this one
	// again, for whole grams and handy millilitres give another extract than the one asked for
	if y, err = bestOf(n, materials).Extract(x); err != nil {
		return trials.Design{}, err
	}
	d := trials.Design{MaterialKey: x.MaterialKey, Class: q.Class, Method: x.Method, Form: x.Form, Like: q.Pattern.Like,
		MassG: mass, Passes: x.Passes, SpiritPct: x.SpiritPct, MoisturePct: x.MoisturePct,
		ExtractL: y.LiquidL, CarriesGPerL: strength(y, q.Class),
		PourStepL: q.PourStepL, ScaleStepG: q.ScaleStepG, ScaleDoubtPct: 50 * q.ScaleStepG / mass}
	if q.All {
		d.AddedL = d.ExtractL
		d.Vessels = []trials.Vessel{{Number: 1, AdditionIDs: []string{}, BeerL: q.BeerL, AimGPerL: q.highest(),
			PourL: d.ExtractL, ReachedGPerL: d.ExtractL * d.CarriesGPerL / (q.BeerL + d.ExtractL)}}
		return d, nil
	}
	return d, pourAll(&d, q)
}

// strength is what a litre of the extract carries, effective g/L.
func strength(y steeps.Yield, class int) float64 {
	if y.LiquidL <= 0 {
		return 0
	}
	return y.Grams[class].Value / y.LiquidL
}

// added is A of the formula above for an extract of strength c.
func (q Series) added(c float64) (float64, error) {
	top := q.highest()
	if c <= top {
		return 0, trials.Refuse("steep in less liquid, or squeeze, so that the extract is stronger than the beer has "+
			"to be; or ask for lower doses",
			"an extract made this way carries %s g/L, not more than the dose of %s g/L", trials.Number(c), trials.Number(top))
	}
	return top * q.BeerL / (c - top), nil
}

// poured is how much of an extract of strength c all vessels together take.
func (q Series) poured(c float64) (float64, error) {
	a, err := q.added(c)
	var sum float64
	for _, d := range q.DosesGPerL {
		sum += d * (q.BeerL + a) / c
	}
	return sum, err
}

// pourAll fills in the vessels.
func pourAll(d *trials.Design, q Series) error {
	a, err := q.added(d.CarriesGPerL)
	if err != nil {
		return err
	}
	jars := make([]dilution.Jar, len(q.DosesGPerL))
	for i, dose := range q.DosesGPerL {
		exact := dose * (q.BeerL + a) / d.CarriesGPerL
		if dose > 0 && exact < q.PourStepL {
			return trials.Refuse("take a finer syringe (--syringe 0.1mL), more beer in each, or a weaker extract "+
				"(steep one in more water and name it with --like)",
				"a dose of %s g/L needs %s mL of extract, less than the step of %s mL",
				trials.Number(trials.Round3(dose)), trials.Number(trials.Round3(1000*exact)),
				trials.Number(1000*q.PourStepL))
		}
		jars[i] = dilution.Jar{BeerL: q.BeerL, AddedL: nearest(exact, q.PourStepL)}
	}
	// from the rounded pours, so that water also evens out what the rounding moved
	water, err := dilution.EqualLiquid(jars)
	if err != nil {
		return trials.ProblemOf(err)
	}
	for i, j := range jars {
		w := nearest(water[i], q.PourStepL)
		d.AddedL = j.AddedL + w
		d.Vessels = append(d.Vessels, trials.Vessel{Number: i + 1, AdditionIDs: []string{}, BeerL: j.BeerL,
			AimGPerL: q.DosesGPerL[i], PourL: j.AddedL, WaterL: w,
			ReachedGPerL: j.AddedL * d.CarriesGPerL / (j.BeerL + j.AddedL + w)})
	}
	return nil
}

// directDesign weighs the material into the vessels.
func directDesign(n *trials.Notebook, materials trials.Materials, q Series) (trials.Design, error) {
	a := *q.Pattern.Addition
	y, err := bestOf(n, materials).Direct(a)
	if err != nil {
		return trials.Design{}, err
	}
	perG := y.Grams[q.Class].Value / y.MassG
	if perG <= 0 {
		return trials.Design{}, trials.Refuse("choose another method with --as",
			"%s put in as %s gives nothing to the beer", a.MaterialKey, a.Method)
	}
	d := trials.Design{MaterialKey: a.MaterialKey, Class: q.Class, Method: a.Method, Form: a.Form, Like: q.Pattern.Like,
		Passes: []trials.Pass{}, Direct: &a, PourStepL: q.PourStepL, ScaleStepG: q.ScaleStepG}
	litresPerG, err := litresPerGram(materials, y, q.Pattern)
	if err != nil {
		return trials.Design{}, err
	}
	least := math.Inf(1)
	for i, dose := range q.DosesGPerL {
		if perG <= dose*litresPerG {
			return trials.Design{}, trials.Refuse("ask for a lower dose, or choose another way with --as",
				"%s put in as %s brings %s g/L in its own liquid, not more than the dose of %s g/L", a.MaterialKey, a.Method,
				trials.Number(trials.Round3(perG/litresPerG)), trials.Number(trials.Round3(dose)))
		}
		exact := dose * q.BeerL / (perG - dose*litresPerG)
		if dose > 0 && exact < q.ScaleStepG {
			return trials.Design{}, trials.Refuse("take a finer scale (--scale 0.01g) or more beer in each",
				"a dose of %s g/L needs %s g, less than the step of %s g", trials.Number(trials.Round3(dose)),
				trials.Number(trials.Round3(exact)), trials.Number(q.ScaleStepG))
		}
		mass := nearest(exact, q.ScaleStepG)
		if err := swallowed(a.MaterialKey, y, mass, dose, q.BeerL); err != nil {
			return trials.Design{}, err
		}
		if mass > 0 {
			least = min(least, mass)
		}
		d.MassG += mass
		d.Vessels = append(d.Vessels, trials.Vessel{Number: i + 1, AdditionIDs: []string{}, BeerL: q.BeerL,
			AimGPerL: dose, MassG: mass, ReachedGPerL: mass * perG / (q.BeerL + mass*litresPerG)})
	}
	// half a step either way, in the lightest vessel, where it shows most
	d.ScaleDoubtPct = 50 * q.ScaleStepG / least
	return d, nil
}

// mostKept is the share of the beer that a plant put straight in may keep in a plan: more
// than any dried fruit does at the highest dose that is advised (judgement).
const mostKept = 0.33

// swallowed refuses a plant put straight in that would keep most of the beer. The beer kept, less
// the plant's own water, grows with its mass.
func swallowed(key string, y steeps.Yield, massG, doseGPerL, beerL float64) error {
	if y.Immersion == nil {
		return nil
	}
	i := *y.Immersion
	i.MassG = massG
	soak, err := i.In(beerL).Balance()
	if err != nil {
		return trials.ProblemOf(err)
	}
	share := (beerL - soak.MixL + soak.HeldL) / beerL
	if share <= mostKept {
		return nil
	}
	return trials.Refuse(fmt.Sprintf("ask for at most %s g/L with --dose",
		trials.Number(floor2(doseGPerL*mostKept/share))),
		"%s g of %s in %s L would keep %.0f %% of the beer when it comes out: too much to plan",
		trials.Number(trials.Round3(massG)), key, trials.Number(beerL), 100*min(share, 1))
}

// handyPasses rounds the liquid of passes to what a jug shows: 1 mL under
// 100 mL, 5 mL under 500 mL, 10 mL above.
func handyPasses(passes []trials.Pass) []trials.Pass {
	for i := range passes {
		step := 0.010
		switch v := passes[i].VolumeL; {
		case v < 0.1:
			step = 0.001
		case v < 0.5:
			step = 0.005
		}
		passes[i].VolumeL = max(nearest(passes[i].VolumeL, step), step)
	}
	return passes
}

// nearest rounds to a whole number of steps.
func nearest(v, step float64) float64 { return trials.Tidy(math.Round(v/step) * step) }

// roundUp rounds up to a whole number of steps.
func roundUp(v, step float64) float64 { return trials.Tidy(math.Ceil(v/step-1e-9) * step) }
