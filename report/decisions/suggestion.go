package decisions

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/doseresponse"
	"hedgerow/report/evidence"
	"hedgerow/report/studies"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
	"hedgerow/trials/spelling"
)

// SuggestRequest says what is asked.
type SuggestRequest struct {
	Attribute    string         // empty: the one most voted on
	Class        string         // solute class of the doses; empty: the family of the attribute
	VolumeL      float64        // beer that the next dose goes into
	Method       string         // empty: the one used most
	Target       *float64       // liking wished for, 1 to 9
	Avoid        []AvoidLimit   // tastes to stay below
	DrinkAtDays  *float64       // age at which the beer is drunk; nil: the one at which most was tasted
	FreshTasters bool           // forget what was learnt of the tasters
	Pictures     bool           // work the picture of the dose out too, a third of the time of an answer
	Units        quantity.Units // of the reader
}

// AvoidLimit is a taste that must stay at or below an intensity.
type AvoidLimit struct {
	Attribute string  // what was scored, in the words of the tasting
	AtMost    float64 // intensity, 0 to 10
}

// suggestPayload is what --json prints: the contract's answer and what the
// notebook adds to it.
type suggestPayload struct {
	doseresponse.Answer
	Material  string               `json:"material"`  // key of the material
	Attribute string               `json:"attribute"` // what was scored, in the words of the tasting
	Class     string               `json:"class"`     // solute class, an index into ClassNames
	Reference string               `json:"method"`    // the method it is compared with
	Recipe    *recipeView          `json:"recipe"`
	Lessons   []lessonView         `json:"what_would_teach"`
	Trials    []string             `json:"rests_on"`
	Cautions  []wording.CautionRow `json:"cautions"`
	Tasters   []tasterRow          `json:"tasters"` // how many took part
	Taught    []string             `json:"tasters_remembered_from"`
	Votes     []voteRow            `json:"votes_by_dose"`
	Claims    [][2]float64         `json:"claims_effective_g_per_l"`

	Warnings []string `json:"warnings"` // those of the answer and of the tastings, in place of the answer's

	Right *figure.Stated `json:"right_dose_g_per_l"` // of the answer; null where the taste falls with the dose

	beside        *otherTaste // another taste, too strong at the right dose
	levers        []string    // what gives less of it at the same wanted taste, the likeliest first
	contradiction string      // one of the warnings, which the text puts first
	notes         []string    // the others, which it puts last
}

// warn takes in the warnings of the answer.
func (v *suggestPayload) warn(list []doseresponse.Warning) {
	v.Warnings = []string{}
	for _, w := range list {
		if w.Code == doseresponse.Contradicted {
			v.contradiction = w.Text
			v.Warnings = append(v.Warnings, w.Text)
			continue
		}
		// these have a section of their own
		if w.OfOthers() {
			v.Warnings = append(v.Warnings, w.Text)
			continue
		}
		v.note(w.Text)
	}
}

// note takes in remarks that stand last in the text.
func (v *suggestPayload) note(remarks ...string) {
	v.Warnings = append(v.Warnings, remarks...)
	v.notes = append(v.notes, remarks...)
}

// lessonView is a next trial and what it would teach.
type lessonView struct {
	Action      string    `json:"action"`
	Brews       int       `json:"brews"`
	DosesGPerL  []float64 `json:"doses_g_per_l"`
	FactorNow   float64   `json:"factor_now"`
	FactorAfter float64   `json:"factor_after"`
	// Extract is used or other where the action is to dose to taste, else empty.
	Extract string `json:"extract,omitempty"`
}

// tasterRow is a taster as --json prints it.
type tasterRow struct {
	Taster     string        `json:"taster"` // name of the taster
	Offset     figure.Stated `json:"own_right_dose_factor"`
	Scale      figure.Stated `json:"intensity_offset"`
	NoiseSD    *float64      `json:"noise_sd"`
	RepeatSD   *float64      `json:"repeat_sd"`
	Remembered *float64      `json:"remembered_right_dose_factor"` // what earlier studies made of it
	Remark     string        `json:"note"`
}

// voteRow is the votes at one dose.
type voteRow struct {
	Trial string  `json:"trial"` // name of the trial
	Dose  float64 `json:"effective_dose_g_per_l"`
	votes

	glass  bool   // a glass, no beer
	method string // of the trial
}

// weighing is an answer with what it was worked out from and how it is brewed.
type weighing struct {
	suggestPayload
	set     ledger.TrialSet // as it was inferred from
	post    *doseresponse.Posterior
	recipe  []string // how to brew it, in sentences
	request SuggestRequest
}

// Suggest works out and shows the next dose and method. It returns a Problem of
// code NotEnough when there are neither claims nor scores, and refuses a
// material that no dose is suggested for.
func Suggest(n *trials.Notebook, s ledger.TrialSet, r SuggestRequest) (document.View, error) {
	w, err := weigh(n, s, r)
	if err != nil {
		return document.View{}, err
	}
	return document.View{Document: suggestDocument(w), Payload: w.suggestPayload, Figures: true}, nil
}

// weigh works out the next dose and method.
func weigh(n *trials.Notebook, s ledger.TrialSet, r SuggestRequest) (w weighing, err error) {
	materials, err := n.Catalogue()
	if err != nil {
		return w, err
	}
	if reason, stop := materials.NoDose(s.Material); stop {
		return w, trials.Refuse(strings.TrimSuffix(reason.WhatToDo, "."),
			"no dose of %s is suggested: %s", s.Material.Key, strings.TrimSuffix(reason.Text, "."))
	}
	s, attribute, err := studies.ForTaste(s, r.Attribute, r.Class)
	if err != nil {
		return w, err
	}
	s, theirs, err := studies.WithoutTheirClaims(s)
	if err != nil {
		return w, err
	}
	s, start := studies.WithCatalogue(s)
	if err := r.checkAvoid(s.Attributes()); err != nil {
		return w, err
	}
	var known map[string]evidence.TasterPrior
	var taught []string
	if !r.FreshTasters {
		known, taught = remembered(n, materials, s)
	}
	p, err := Fitted(n, s, r, attribute, known)
	if err != nil {
		return w, err
	}
	v := suggestPayload{Answer: p.Answer(), Material: s.Material.Key, Attribute: attribute,
		Class: trials.ClassNames[s.Class], Reference: p.Reference(),
		Cautions: wording.CautionRows(n.SeriousCautions(s.Material.Key)), Trials: restsOn(s),
		Votes: voteRows(s, attribute), Claims: studies.ClaimDoses(s), Tasters: tasterRows(p, known),
		Taught: append([]string{}, taught...)}
	v.Right = &v.RightDose
	if v.Facts.Falling != nil {
		v.Right = nil
	}
	v.potencies(OwnMethods(n, s))
	v.warn(v.Answer.Warnings)
	if len(r.Avoid) == 0 && r.Target == nil && v.Facts.Falling == nil {
		v.lookBeside(s, p)
	}
	for _, said := range [][]string{start, takenBasis(s), setWarnings(s), theirs, studies.OthersWarnings(s),
		studies.StoppedGlasses(s, v.Attribute),
		positionWarning(n, s, attribute)} {
		v.note(said...)
	}
	recipe := v.weighOut(n, materials, s, r)
	method := v.Reference
	if method == "" && recipe != nil {
		method = recipe.Method
	}
	v.Lessons = lessons(p, dropperOf(method, s.Material))
	v.levers = levers(materials, v.Material, recipe)
	v.Headline = headline{Answer: v.Answer, weigh: weighed(recipe, r), beside: v.beside,
		settled: littleLeft(v.Lessons), target: r.Target, dropper: dropperFirst(v.Lessons)}.lines()
	return weighing{v, s, p, recipeText(recipe, v, r), r}, nil
}

// weighOut works out what to weigh for the dose and keeps it; nil where there is no single
// dose, since the bench comes first, or where no recipe can be made.
func (v *suggestPayload) weighOut(n *trials.Notebook, materials trials.Materials, s ledger.TrialSet,
	r SuggestRequest) *recipeView {
	if v.Verdict == doseresponse.Bench {
		return nil
	}
	recipe, err := recipeFor(n, materials, s, r, *v)
	if err != nil {
		// a note, no error: the dose is the answer and holds without a recipe
		v.note("no recipe: " + err.Error())
	}
	v.Recipe = recipe
	return recipe
}

// checkAvoid refuses a taste to avoid that was not scored.
func (r SuggestRequest) checkAvoid(have []string) error {
	for _, a := range r.Avoid {
		if len(have) > 0 && !slices.Contains(have, a.Attribute) {
			return trials.Refuse(spelling.Hint(a.Attribute, have), "%q was not scored", a.Attribute)
		}
	}
	return nil
}

// potencies puts what the own scores say of the methods in place of what the answer
// makes of them, where both are about one taste and one method: a figure that compare
// and steep show has one value and one level everywhere.
func (v *suggestPayload) potencies(own []ownMethod) {
	rows := ownMethodRows(own)
	for i := range v.Methods {
		for _, r := range rows {
			if r.Both != nil && r.Method == v.Methods[i].Method && r.Reference == v.Reference && r.Attribute == v.Attribute {
				v.Methods[i].RelativePotency = *r.Both
			}
		}
	}
}

// lookBeside takes in what the other tastes of the beers say of the dose.
func (v *suggestPayload) lookBeside(s ledger.TrialSet, p *doseresponse.Posterior) {
	beside, notes := besideOthers(s, v.Attribute, p)
	v.note(notes...)
	if beside == nil {
		return
	}
	v.beside, v.Window = beside, &beside.window
	v.WarningCodes = append(v.WarningCodes, "conflict")
	v.note(fmt.Sprintf("the tastes pull apart: right near %s g/L, but %s is too strong there", grams(v.RightDose.Value),
		beside.name))
}

// Fitted runs the inference on the study.
func Fitted(n *trials.Notebook, s ledger.TrialSet, r SuggestRequest, attribute string,
	known map[string]evidence.TasterPrior) (*doseresponse.Posterior, error) {
	s, _, err := studies.WithoutTheirClaims(s)
	if err != nil {
		return nil, err
	}
	s, _ = studies.WithCatalogue(s) // a plan starts from it as a suggestion does
	study := studies.Of(s, attribute)
	if err := studies.AddOthers(&study, s); err != nil {
		return nil, err
	}
	study.Remembered = known
	study.TargetIntensity, study.DrinkAtDays = r.Target, r.DrinkAtDays
	for _, a := range r.Avoid {
		study.Avoid = append(study.Avoid, avoidOf(s, study, a))
	}
	o := doseresponse.Options{FreshTasters: r.FreshTasters}
	if r.Method != "" {
		o.Method = &r.Method
	}
	if !saysAnything(study) {
		return nil, notEnough(s)
	}
	p, err := doseresponse.Fit(study, o)
	if errors.Is(err, evidence.ErrNotEnough) {
		return nil, notEnough(s)
	}
	var bad *evidence.InputError
	// the reader has typed no study: what is wrong with one came from the records that compare shows
	if errors.As(err, &bad) {
		return nil, trials.Refuse("see hedgerow compare "+s.Material.Key, "%v", err)
	}
	return p, err
}

// saysAnything reports whether a study has advice, a score or a glass dosed to taste in it. That a dose
// was brewed says nothing of how it tasted.
func saysAnything(s evidence.Study) bool {
	return len(s.ClaimsGPerL) > 0 || slices.ContainsFunc(s.Trials,
		func(t evidence.Trial) bool { return len(t.Scores) > 0 }) ||
		slices.ContainsFunc(s.DosedToTaste, evidence.ToTaste.Noted)
}

// notEnough is the refusal of a material that nothing is known of.
func notEnough(s ledger.TrialSet) error {
	return &trials.Problem{Code: trials.NotEnough, Message: "there is neither a claim nor a score on " + s.Material.Key,
		Hint: fmt.Sprintf("hedgerow claim add %s \"1 oz per 5 gal\", or log a trial and taste it", s.Material.Key)}
}

// avoidOf collects the scores of a taste to avoid.
func avoidOf(s ledger.TrialSet, study evidence.Study, a AvoidLimit) evidence.Avoid {
	in := map[string]bool{}
	for _, t := range study.Trials {
		in[t.ID] = true
	}
	out := evidence.Avoid{Attribute: a.Attribute, AtMost: a.AtMost}
	for _, sc := range s.Scores {
		// a control that was not scored for the taste of the study is no trial of it
		if sc.Attribute != a.Attribute || sc.Intensity == nil || !in[s.Trials[sc.Trial].Name()] {
			continue
		}
		out.Scores = append(out.Scores, evidence.AvoidScore{Trial: s.Trials[sc.Trial].Name(), Taster: sc.Taster,
			Intensity: *sc.Intensity})
	}
	return out
}

// restsOn names the trials behind an answer.
func restsOn(s ledger.TrialSet) []string {
	list := []string{}
	for _, t := range s.Trials {
		list = append(list, t.Name())
	}
	return list
}

// voteRows counts the votes of the attribute by dose.
func voteRows(s ledger.TrialSet, attribute string) []voteRow {
	rows := []voteRow{}
	for i, scores := range studies.ByTrial(s) {
		t, row, voted := s.Trials[i], voteRow{}, false
		for _, sc := range scores {
			if sc.Attribute == attribute && sc.Vote != nil {
				row.count(*sc.Vote)
				voted = true
			}
		}
		if voted {
			row.Trial, row.glass, row.method = t.Name(), t.Batch.Kind == trials.KindGlass, t.Method
			if !t.Control {
				row.Dose = t.Axis()
			}
			rows = append(rows, row)
		}
	}
	return rows
}

// lessons turns what could be done next into its printed form.
func lessons(p *doseresponse.Posterior, extract evidence.Extract) []lessonView {
	list := []lessonView{}
	for _, l := range p.Teach(extract) {
		v := lessonView{Action: string(l.Action), Brews: l.Brews, DosesGPerL: l.DosesGPerL, FactorNow: l.FactorNow,
			FactorAfter: l.FactorAfter}
		if l.ToTaste() {
			v.Extract = string(extract)
		}
		list = append(list, v)
	}
	return list
}

// tasterRows turns the tasters into their printed form.
func tasterRows(p *doseresponse.Posterior, known map[string]evidence.TasterPrior) []tasterRow {
	list := []tasterRow{}
	for _, t := range p.Tasters() {
		row := tasterRow{Taster: t.Name, Offset: t.Offset, Scale: t.Scale, NoiseSD: t.NoiseSD, RepeatSD: t.RepeatSD}
		if k, ok := known[t.Name]; ok {
			factor := math.Exp(k.OffsetLn)
			row.Remembered = &factor
		}
		switch {
		case t.Constant:
			row.Remark = "scores everything alike"
		case t.Random:
			row.Remark = "votes hardly follow the dose"
		}
		list = append(list, row)
	}
	return list
}
