package decisions

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hedgerow/report/doseresponse"
	"hedgerow/report/panel"
	"hedgerow/report/studies"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
	"hedgerow/trials/steeps"
)

// ownMethod is what the brewer's own scores say about one method beside another
// for one material: a potency, or in words why there is none.
type ownMethod struct {
	Method    string                // tea, cold-tea, tincture, contact ...
	Reference string                // the method it is compared with
	Attribute string                // what was scored, in the words of the tasting
	Prior     steeps.LnNormal       // what is assumed of the method before any score
	Potency   *steeps.MethodPotency // nil where Refused says why
	Refused   string                // why there is none
	Doubts    []string              // what puts the potency in doubt, in words
}

// methodScore is one intensity of one trial.
type methodScore struct {
	panel.AssayPoint
	form string
	beer beerOf
}

// beerOf is what scores share beside the dose: the brew that a beer came from, or the
// step from dosed glasses to beer of a method.
type beerOf struct {
	glass bool
	name  string // of the brew, or of the method of the glass
}

// OwnMethods judges the methods of one material by the intensities of the
// attribute voted on most. The reference is the method scored at most doses. It
// is empty where fewer than two methods were scored.
func OwnMethods(n *trials.Notebook, s ledger.TrialSet) []ownMethod {
	attribute, err := studies.AttributeFor(s, "")
	if err != nil || attribute == "" {
		return nil
	}
	scores := methodScores(n, s, attribute)
	methods := methodsByDoses(scores)
	if len(methods) < 2 {
		return nil
	}
	reference := methods[0]
	points, beers := make([]panel.AssayPoint, len(scores)), make([]beerOf, len(scores))
	for i, sc := range scores {
		points[i], beers[i] = sc.AssayPoint, sc.beer
	}
	doses := len(dosesApart(scores, reference))
	var list []ownMethod
	for _, m := range methods[1:] {
		// another form alters what comes out by itself, so the prior of the ratio must be wider
		changed := formsOf(scores, m) != formsOf(scores, reference)
		own := ownMethod{Method: m, Reference: reference, Attribute: attribute, Prior: steeps.PriorPotency(s.Class, changed)}
		// with one dose the slope is unknown, and a ratio of doses is a difference of scores divided by it
		if doses < 2 {
			own.Refused = fmt.Sprintf("only one dose by %s was scored, which does not tell how scores move with the "+
				"dose; score a second dose by %s", reference, reference)
			list = append(list, own)
			continue
		}
		evidence := steeps.MethodEvidence{MaterialKey: s.Material.Key, Attribute: attribute, Method: m,
			Reference: reference, FormChanged: changed, Doses: doses}
		own.judge(points, beers, evidence, s.Class)
		list = append(list, own)
	}
	return list
}

// judge fits parallel lines and combines them with the prior. Beers says which beer each
// point was a glass of; without any each point is taken to be of a brew of its own, as
// in an assay.
func (o *ownMethod) judge(points []panel.AssayPoint, beers []beerOf, e steeps.MethodEvidence, class int) {
	fit, err := panel.RelativePotency(points, o.Reference, comparisonLevel)
	if err != nil {
		o.Refused = err.Error()
		return
	}
	i := slices.IndexFunc(fit.Potencies, func(p panel.Potency) bool { return p.Sample == o.Method })
	if i < 0 {
		o.Refused = "it cannot be told from the tasters and evenings"
		return
	}
	o.Doubts = fit.Warnings
	p := fit.Potencies[i]
	// The fit is against ln dose, the model of methods against log10.
	e.Difference, e.DiffSD = p.Difference, p.DifferenceSE
	e.Slope, e.SlopeSD, e.Covariance = fit.SlopePerLn*math.Ln10, fit.SlopeSE*math.Ln10, p.SlopeCov*math.Ln10
	e.T, e.Level = fit.T, fit.Level
	// brews differ by themselves: the noise of the tasters alone would make two brews of one method two methods
	for _, y := range shifts(beers, fit.SlopePerLn) {
		d, b := fit.Carried(o.Method, y)
		b *= math.Ln10
		e.DiffSD, e.SlopeSD, e.Covariance = math.Hypot(e.DiffSD, d), math.Hypot(e.SlopeSD, b), e.Covariance+d*b
	}
	for _, q := range points {
		if q.Sample == o.Method {
			e.Scores++
		}
	}
	if e.Slope < 0 {
		o.Refused = "the scores fall as the dose rises, so they do not measure how much came out"
		return
	}
	potency, err := e.MethodPotency(class)
	if err != nil {
		o.Refused = "the scores do not show how they move with the dose (" + err.Error() +
			"); score more servings, or doses further apart"
		return
	}
	o.Potency = &potency
}

// shifts returns for every brew, and every step from glasses, how the responses move
// when it is stronger by its SD, slope being that of the responses against ln dose.
func shifts(beers []beerOf, slope float64) [][]float64 {
	at := map[beerOf]int{}
	var list [][]float64
	for i, b := range beers {
		k, ok := at[b]
		if !ok {
			k = len(list)
			at[b], list = k, append(list, make([]float64, len(beers)))
		}
		list[k][i] = slope * doseresponse.BrewSDLn
		if b.glass {
			list[k][i] = slope * doseresponse.GlassStepSDLn
		}
	}
	return list
}

// methodScores collects the intensities of trials with one method and a dose.
func methodScores(n *trials.Notebook, s ledger.TrialSet, attribute string) []methodScore {
	var list []methodScore
	scored := studies.ByTrial(s)
	for i, t := range s.Trials {
		method, ok := soleMethod(s, t)
		// two methods in one beer cannot be told apart by its scores
		if !ok || t.Effective.Value <= 0 {
			continue
		}
		form, beer := studies.FirstUse(t, quantity.Metric).Form, beerOf{name: t.Group}
		if t.Batch.Kind == trials.KindGlass {
			beer = beerOf{glass: true, name: method}
		}
		for _, sc := range scored[i] {
			if sc.Attribute != attribute || sc.Intensity == nil {
				continue
			}
			list = append(list, methodScore{panel.AssayPoint{Sample: method, Dose: t.Effective.Value, Y: *sc.Intensity,
				Block: sc.Taster, Column: sc.TastingID}, form, beer})
		}
	}
	return list
}

// soleMethod is the method of a trial, if it got the material by one method only.
func soleMethod(s ledger.TrialSet, t ledger.Trial) (string, bool) {
	if t.Control {
		return "", false
	}
	for _, d := range t.Ledger.Doses {
		if d.MaterialKey == s.Material.Key && d.Method != t.Method {
			return "", false
		}
	}
	return t.Method, true
}

// sameDose is how far apart two doses are at least to count as two, as a ratio.
const sameDose = 1.05

// dosesApart returns the different doses of a method, rising.
func dosesApart(scores []methodScore, method string) []float64 {
	var all, apart []float64
	for _, sc := range scores {
		if sc.Sample == method {
			all = append(all, sc.Dose)
		}
	}
	slices.Sort(all)
	for _, d := range all {
		// beside the last one that was kept, not the last seen: a row of close doses would else count as one
		if len(apart) == 0 || d > apart[len(apart)-1]*sameDose {
			apart = append(apart, d)
		}
	}
	return apart
}

// methodsByDoses returns the methods, the one with most doses first, then the one
// with most scores, then by name.
func methodsByDoses(scores []methodScore) []string {
	count := map[string]int{}
	for _, sc := range scores {
		count[sc.Sample]++
	}
	var list []string
	for m := range count {
		list = append(list, m)
	}
	slices.SortFunc(list, func(a, b string) int {
		return cmp.Or(cmp.Compare(len(dosesApart(scores, b)), len(dosesApart(scores, a))),
			cmp.Compare(count[b], count[a]), cmp.Compare(a, b))
	})
	return list
}

// formsOf names the forms that a method was used with.
func formsOf(scores []methodScore, method string) string {
	var forms []string
	for _, sc := range scores {
		if sc.Sample == method && !slices.Contains(forms, sc.form) {
			forms = append(forms, sc.form)
		}
	}
	slices.Sort(forms)
	return strings.Join(forms, " ")
}

// Potencies returns the potencies of those methods that could be judged.
func Potencies(list []ownMethod) []steeps.MethodPotency {
	var out []steeps.MethodPotency
	for _, o := range list {
		if o.Potency != nil {
			out = append(out, *o.Potency)
		}
	}
	return out
}
