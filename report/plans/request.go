package plans

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"

	"hedgerow/report/decisions"
	"hedgerow/report/doseresponse"
	"hedgerow/trials"
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
	if reason, stop := materials.NoDose(s.Material); stop {
		return d, "", trials.Refuse(strings.TrimSuffix(reason.WhatToDo, "."), "nothing is planned with %s: %s",
			s.Material.Key, strings.TrimSuffix(reason.Text, "."))
	}
	doses, method, why, err := planDoses(n, s, r)
	if err != nil {
		return d, "", err
	}
	pattern, err := planPattern(n, s, r, method)
	if err != nil {
		return d, "", err
	}
	series := planning.Series{Pattern: pattern, Class: s.Class, DosesGPerL: doses, BeerL: r.BeerL,
		PourStepL: r.PourStepL, ScaleStepG: r.ScaleStepG, SparePct: spare}
	if r.Kind == trials.PlanBatch {
		// nothing is held back: spare extract of a batch would be beer unmade
		series.SparePct, series.All = 0, true
	} else {
		// always a control: without it the panel cannot say that the dose is tasted at all
		series.DosesGPerL = append([]float64{0}, doses...)
	}
	series.Pattern = planning.Stronger(n, materials, s.Material, pattern, slices.Max(doses), s.Class, r.BeerL)
	d, err = planning.Amounts(n, materials, series)
	d.ScaleUpL, d.BaseOG, d.BaseFG = r.ScaleUpL, r.OG, r.FG
	return d, why, err
}

// tooThin reports whether a design adds so much liquid that the beer tastes thin.
func tooThin(d trials.Design) bool { return planning.TooThin(d.AddedL, d.Vessels[0].BeerL) }

// planDoses chooses the doses above zero, rising.
func planDoses(n *trials.Notebook, s ledger.TrialSet, r PlanRequest) (doses []float64, method, why string, err error) {
	if len(r.DosesGPerL) > 0 {
		// taken as typed: who writes a dose has a reason that we need not know
		return r.DosesGPerL, cmp.Or(r.Method, mostUsed(s)), "", nil
	}
	attribute, err := decisions.AttributeFor(s, r.Attribute)
	if err != nil {
		return nil, "", "", err
	}
	p, err := decisions.Fitted(n, s, decisions.SuggestRequest{Method: r.Method}, attribute, nil)
	if err != nil {
		return nil, "", "", err
	}
	why = "The doses lie around the best guess from the scores so far."
	if len(s.Scores) == 0 {
		why = "The doses are spread over the range of the claims, since nothing was scored yet."
	}
	switch r.Kind {
	case trials.PlanBatch:
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

// planPattern is the way the material is prepared: like the extract named, else
// as it was last done with the method. In a glass there is no time to wait for a
// material put in itself, so a tea stands in for it.
func planPattern(n *trials.Notebook, s ledger.TrialSet, r PlanRequest, method string) (planning.Pattern, error) {
	if r.Like != nil {
		if r.Like.MaterialKey != s.Material.Key {
			return planning.Pattern{}, trials.Refuse("name an extract of "+s.Material.Key, "extract %s is made of %s",
				r.Like.Name, r.Like.MaterialKey)
		}
		if len(r.Like.Passes) == 0 {
			return planning.Pattern{}, trials.Refuse("hedgerow extract pass "+r.Like.Name+
				` "400mL 96C>60C 30min drained"`, "extract %s has no pass yet", r.Like.Name)
		}
		return planning.Pattern{Extract: r.Like, Like: r.Like.Name}, nil
	}
	p := planning.PatternUsed(s, method)
	if p.Extract != nil {
		return p, nil
	}
	switch {
	case r.Kind == trials.PlanBench && r.Method != "":
		// a tea in its place would be a plan for something else
		return p, trials.Refuse("leave --as out for a tea, or plan jars with: hedgerow plan split "+s.Material.Key,
			"in a glass there is no time for %s", r.Method)
	case r.Kind == trials.PlanBench:
		p = planning.PlainTea(s.Material)
	case p.Addition.InWort() && r.Kind == trials.PlanSplit:
		return p, trials.Refuse("choose another way with --as, such as --as tea",
			"jars are filled with beer, and %s goes into the wort", p.Addition.Method)
	}
	return p, nil
}
