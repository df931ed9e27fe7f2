package plans

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"hedgerow/report/decisions"
	"hedgerow/report/document"
	"hedgerow/report/doseresponse"
	"hedgerow/report/studies"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/planning"
	"hedgerow/trials/quantity"
)

// PlanRequest asks for a bench series, a split or a batch.
type PlanRequest struct {
	Kind       string          // trials.PlanBench, PlanSplit or PlanBatch
	DosesGPerL []float64       // effective doses wanted; empty: those that teach most
	Count      int             // vessels with a dose, where no doses are given
	BeerL      float64         // beer in each vessel
	Attribute  string          // as in SuggestRequest
	Class      string          // as in SuggestRequest
	Method     string          // as in SuggestRequest
	Like       *trials.Extract // the extract whose way is followed
	PourStepL  float64         // what the syringe or jug is marked in, L
	ScaleStepG float64         // what the scale shows, g
	ScaleUpL   float64         // the batch that a bench series is for
	OG, FG     *float64        // the beer as it would be brewed without the addition
	Units      quantity.Units  // of the reader
}

// spare is what is made of an extract beyond what is poured, in per cent: some
// stays in the syringe and the jug (common practice, no source).
const spare = 10

// DesignPlan chooses the doses and works out the amounts. why says where the
// doses come from.
func DesignPlan(n *trials.Notebook, s ledger.TrialSet, r PlanRequest) (d trials.Design, why string, err error) {
	materials, err := n.Catalogue()
	if err != nil {
		return d, "", err
	}
	if err := checkDosed(materials, s.Material); err != nil {
		return d, "", err
	}
	s, attribute, err := studies.ForTaste(s, r.Attribute, r.Class)
	if err != nil {
		return d, "", err
	}
	doses, method, why, err := planDoses(n, s, r, attribute)
	if err != nil {
		return d, "", err
	}
	if err := checkSteeped(s.Material); err != nil {
		return d, "", err
	}
	c, doses, err := wayOfPlan(n, materials, s, r, method, doses)
	if err != nil {
		return d, "", err
	}
	if r.Kind != trials.PlanBatch {
		if c, err = planning.Finer(n, materials, s, c, doses, r.BeerL, r.PourStepL); err != nil {
			return d, "", err
		}
	}
	series := planning.Series{Pattern: c.Pattern, Class: s.Class, DosesGPerL: doses, BeerL: r.BeerL,
		PourStepL: r.PourStepL, ScaleStepG: r.ScaleStepG, SparePct: spare}
	if r.Kind == trials.PlanBatch {
		// nothing is held back: spare extract of a batch would be beer unmade
		series.SparePct, series.All = 0, true
	} else {
		// always a control: without it the panel cannot say that the dose is tasted at all
		series.DosesGPerL = append([]float64{0}, doses...)
	}
	d, err = planning.Amounts(n, materials, series)
	d.ScaleUpL, d.BaseOG, d.BaseFG = r.ScaleUpL, r.OG, r.FG
	return d, joinedSentences(why, c.Sentence(r.BeerL, r.volumeText)), err
}

// checkDosed refuses a material that has no place in a beer.
func checkDosed(materials trials.Materials, m trials.Material) error {
	if reason, stop := materials.NoDose(m); stop {
		return trials.Refuse(strings.TrimSuffix(reason.WhatToDo, "."), "nothing is planned with %s: %s", m.Key,
			strings.TrimSuffix(reason.Text, "."))
	}
	return nil
}

// checkSteeped refuses what dissolves as a whole.
func checkSteeped(m trials.Material) error {
	if !m.IsLiquidOrSugar() {
		return nil
	}
	return trials.Refuse(`see what it does with: hedgerow dilute --volume 12L --og 1.048 --fg 1.010 --add "500g `+m.Key+
		`"`,
		"%s dissolves in beer as a whole: there is nothing to steep or plan", m.Key)
}

// volumeText prints a volume for the reader, with two digits.
func (r PlanRequest) volumeText(l float64) string {
	return wording.VolumeText(decisions.Rounded(l), r.Units)
}

// joinedSentences joins those that say something.
func joinedSentences(list ...string) string {
	return strings.Join(slices.DeleteFunc(list, func(s string) bool { return s == "" }), " ")
}

// withoutThem says what a right dose would be without other brewers' trials.
func withoutThem(e *figure.Stated) string {
	if e == nil {
		return "not known"
	}
	return document.Significant(e.Value, 2) + " g/L"
}

// planDoses chooses the doses above zero, rising.
func planDoses(n *trials.Notebook, s ledger.TrialSet, r PlanRequest, attribute string) (doses []float64, method,
	why string, err error) {
	if len(r.DosesGPerL) > 0 {
		// taken as typed: who writes a dose has a reason that we need not know
		return r.DosesGPerL, cmp.Or(r.Method, mostUsed(s)), "", nil
	}
	p, err := decisions.Fitted(n, s, decisions.SuggestRequest{Method: r.Method}, attribute, nil)
	if err != nil {
		return nil, "", "", err
	}
	why = "The doses lie around the best guess from the scores so far."
	if len(s.Scores)+len(s.Dosed) == 0 {
		why = "The doses are spread over the range of the claims, since nothing was scored yet."
	}
	if o := p.Others(); o != nil && o.Brewers > 0 {
		why = fmt.Sprintf("The doses lie around the best guess, with %s of %s in it; without them it were %s.",
			document.Count(o.Trials, "trial"), document.Count(o.Brewers, "other brewer"), withoutThem(o.Without))
	}
	switch r.Kind {
	case trials.PlanBatch:
		if p.Answer().Verdict == doseresponse.Bench {
			return nil, "", "", trials.Refuse("hedgerow plan bench "+s.Material.Key+", or choose a dose yourself with --dose",
				"the advice on %s lies too far apart for a batch: nothing was tasted yet", s.Material.Key)
		}
		doses = []float64{p.NextDose().DoseGPerL}
		why = "The dose is the one most likely to be just right."
	case trials.PlanSplit:
		doses = p.Spread(r.Count)
	default:
		doses = benchDoses(p, r.Count)
	}
	if r.Method == "" {
		method = p.Reference()
	} else {
		method = r.Method
	}
	return planned(doses), method, why, nil
}

// mostUsed is the method of most trials, of equals the first by name; empty for none.
func mostUsed(s ledger.TrialSet) string {
	count := map[string]int{}
	for _, t := range s.Trials {
		if !t.Control {
			count[t.Method]++
		}
	}
	best := ""
	for _, m := range slices.Sorted(maps.Keys(count)) {
		if best == "" || count[m] > count[best] {
			best = m
		}
	}
	return best
}

// benchDoses are the doses of a bench series, in geometric steps over the range
// that the inference gives.
func benchDoses(p *doseresponse.Posterior, count int) []float64 {
	all := p.Glasses()
	dosed := all[1:]
	low, high := dosed[0], dosed[len(dosed)-1]
	return geometric(low, high, count)
}

// geometric is so many doses from low to high in equal steps of their logarithm.
func geometric(low, high float64, count int) []float64 {
	if count == 1 {
		return []float64{math.Sqrt(low * high)}
	}
	list := make([]float64, count)
	for i := range list {
		list[i] = low * math.Pow(high/low, float64(i)/float64(count-1))
	}
	return list
}

// planned rounds doses to what is worth writing down, two digits.
func planned(doses []float64) []float64 {
	out := make([]float64, len(doses))
	for i, d := range doses {
		out[i] = decisions.Rounded(d)
	}
	return out
}

// wayOfPlan is the way the material is prepared, with the doses: those asked for, or
// where they are free and would drown the beer, as many over a narrower range.
func wayOfPlan(n *trials.Notebook, materials trials.Materials, s ledger.TrialSet, r PlanRequest, method string,
	doses []float64) (planning.Choice, []float64, error) {
	if err := checkWay(s, r, method); err != nil {
		return planning.Choice{}, nil, err
	}
	ask := planning.Ask{Kind: r.Kind, Method: method, Told: r.Method != "", Like: r.Like, DoseGPerL: slices.Max(doses)}
	c, err := planning.Choose(n, materials, s, ask)
	free := len(r.DosesGPerL) == 0 && r.Kind != trials.PlanBatch
	if !free || !c.Much() {
		return c, doses, err
	}
	// the best guess, in the middle, has to be among them, or they would teach something else
	top := c.TopDose()
	if top <= math.Sqrt(doses[0]*slices.Max(doses)) {
		return c, doses, err
	}
	ask.DoseGPerL = top
	if c, err = planning.Choose(n, materials, s, ask); err != nil {
		return c, doses, err
	}
	return c, planned(geometric(doses[0], top, len(doses))), nil
}

// checkWay refuses what cannot be planned as it was asked for.
func checkWay(s ledger.TrialSet, r PlanRequest, method string) error {
	if r.Like != nil {
		return checkLike(s, *r.Like)
	}
	p := planning.PatternUsed(s, method)
	if p.Extract != nil {
		return nil
	}
	switch {
	case r.Kind == trials.PlanBench && r.Method != "" && p.Addition.Method != trials.MethodPuree &&
		p.Addition.Method != trials.MethodJuice:
		// a tea in its place would be a plan for something else
		return trials.Refuse("leave --as out for a tea, or plan jars with: hedgerow plan split "+s.Material.Key,
			"in a glass there is no time for %s", r.Method)
	case p.Addition.InWort() && r.Kind == trials.PlanSplit:
		return trials.Refuse("choose another way with --as, such as --as tea",
			"jars are filled with beer, and %s goes into the wort", p.Addition.Method)
	}
	return nil
}

// checkLike refuses an extract that cannot be followed.
func checkLike(s ledger.TrialSet, x trials.Extract) error {
	if x.MaterialKey != s.Material.Key {
		return trials.Refuse("name an extract of "+s.Material.Key, "extract %s is made of %s", x.Name, x.MaterialKey)
	}
	if len(x.Passes) == 0 {
		return trials.Refuse("hedgerow extract pass "+x.Name+` "400mL 96C>60C 30min drained"`,
			"extract %s has no pass yet", x.Name)
	}
	return nil
}
