package decisions

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/doseresponse"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/planning"
	"hedgerow/trials/quantity"
)

// SuggestRequest says what is asked.
type SuggestRequest struct {
	Attribute    string         // empty: the one most voted on
	VolumeL      float64        // beer that the next dose goes into
	Method       string         // empty: the one used most
	Target       *float64       // liking wished for, 1 to 9
	Avoid        []AvoidLimit   // tastes to stay below
	DrinkAtDays  *float64       // age at which the beer is drunk; nil: the one at which most was tasted
	FreshTasters bool           // forget what was learnt of the tasters
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

	contradiction string   // one of the warnings, which the text puts first
	notes         []string // the others, which it puts last
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
		v.note(w.Text)
	}
}

// note takes in remarks that stand last in the text.
func (v *suggestPayload) note(remarks ...string) {
	v.Warnings = append(v.Warnings, remarks...)
	v.notes = append(v.notes, remarks...)
}

// recipeView is how to reach the dose as --json prints it.
type recipeView struct {
	MassG     float64        `json:"mass_g"` // grams as weighed
	Form      string         `json:"form"`   // whole, cut, crushed, powder, fresh ...
	Method    string         `json:"method"` // tea, cold-tea, tincture, contact ...
	Passes    []trials.Pass  `json:"passes"`
	LiquidL   float64        `json:"liquid_l"`
	VolumeL   float64        `json:"volume_l"` // litres at 20 C
	AfterL    float64        `json:"volume_after_mixing_l"`
	Like      string         `json:"like_trial"`
	ABVBefore *figure.Stated `json:"abv_before_pct"`
	ABVAfter  *figure.Stated `json:"abv_after_pct"`
}

// lessonView is a next trial and what it would teach.
type lessonView struct {
	Action      string    `json:"action"`
	Brews       int       `json:"brews"`
	DosesGPerL  []float64 `json:"doses_g_per_l"`
	FactorNow   float64   `json:"factor_now"`
	FactorAfter float64   `json:"factor_after"`
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
}

// Suggest works out and shows the next dose and method. It returns a Problem of
// code NotEnough when there are neither claims nor scores, and refuses a
// material that no dose is suggested for.
func Suggest(n *trials.Notebook, s ledger.TrialSet, r SuggestRequest) (document.View, error) {
	materials, err := n.Catalogue()
	if err != nil {
		return document.View{}, err
	}
	if reason, stop := materials.NoDose(s.Material); stop {
		return document.View{}, trials.Refuse(strings.TrimSuffix(reason.WhatToDo, "."),
			"no dose of %s is suggested: %s", s.Material.Key, strings.TrimSuffix(reason.Text, "."))
	}
	attribute, err := AttributeFor(s, r.Attribute)
	if err != nil {
		return document.View{}, err
	}
	var known map[string]doseresponse.TasterPrior
	var taught []string
	if !r.FreshTasters {
		known, taught = remembered(n, materials, s)
	}
	p, err := Fitted(n, s, r, attribute, known)
	if err != nil {
		return document.View{}, err
	}
	v := suggestPayload{Answer: p.Answer(), Material: s.Material.Key, Attribute: attribute,
		Class: trials.ClassNames[s.Class], Reference: p.Reference(),
		Cautions: wording.CautionRows(n.SeriousCautions(s.Material.Key)), Trials: restsOn(s),
		Votes: voteRows(s, attribute), Claims: claimDoses(s), Tasters: tasterRows(p, known),
		Taught: append([]string{}, taught...), Lessons: lessons(p)}
	v.warn(v.Answer.Warnings)
	v.note(setWarnings(s)...)
	v.note(positionWarning(n, s, attribute)...)
	recipe, err := recipeFor(n, materials, s, r, v)
	if err != nil {
		// a note, no error: the dose is the answer and holds without a recipe
		v.note("no recipe: " + err.Error())
	}
	v.Recipe = recipe
	v.Headline = headline{Answer: v.Answer, weigh: weighed(recipe, r)}.lines()
	return document.View{Document: suggestDocument(v, recipeText(recipe, v, r), s, r), Payload: v}, nil
}

// Fitted runs the inference on the study.
func Fitted(n *trials.Notebook, s ledger.TrialSet, r SuggestRequest, attribute string,
	known map[string]doseresponse.TasterPrior) (*doseresponse.Posterior, error) {
	study := studyOf(s, attribute)
	study.Remembered = known
	study.TargetIntensity, study.DrinkAtDays = r.Target, r.DrinkAtDays
	for _, a := range r.Avoid {
		study.Avoid = append(study.Avoid, avoidOf(s, a))
	}
	o := doseresponse.Options{FreshTasters: r.FreshTasters}
	if r.Method != "" {
		o.Method = &r.Method
	}
	if !saysAnything(study) {
		return nil, notEnough(s)
	}
	p, err := doseresponse.Fit(study, o)
	if errors.Is(err, doseresponse.ErrNotEnough) {
		return nil, notEnough(s)
	}
	var bad *doseresponse.InputError
	// the reader has typed no study: what is wrong with one came from the records that compare shows
	if errors.As(err, &bad) {
		return nil, trials.Refuse("see hedgerow compare "+s.Material.Key, "%v", err)
	}
	return p, err
}

// saysAnything reports whether a study has advice or a score in it. That a dose
// was brewed says nothing of how it tasted.
func saysAnything(s doseresponse.Study) bool {
	return len(s.ClaimsGPerL) > 0 || slices.ContainsFunc(s.Trials,
		func(t doseresponse.Trial) bool { return len(t.Scores) > 0 })
}

// notEnough is the refusal of a material that nothing is known of.
func notEnough(s ledger.TrialSet) error {
	return &trials.Problem{Code: trials.NotEnough, Message: "there is neither a claim nor a score on " + s.Material.Key,
		Hint: fmt.Sprintf("hedgerow claim add %s \"1 oz per 5 gal\", or log a trial and taste it", s.Material.Key)}
}

// avoidOf collects the scores of a taste to avoid.
func avoidOf(s ledger.TrialSet, a AvoidLimit) doseresponse.Avoid {
	out := doseresponse.Avoid{Attribute: a.Attribute, AtMost: a.AtMost}
	for _, sc := range s.Scores {
		if sc.Attribute != a.Attribute || sc.Intensity == nil {
			continue
		}
		out.Scores = append(out.Scores, doseresponse.AvoidScore{Trial: s.Trials[sc.Trial].Name(), Taster: sc.Taster,
			Intensity: *sc.Intensity})
	}
	return out
}

// recipeFor scales the pattern of the reference method to the next dose.
func recipeFor(n *trials.Notebook, materials trials.Materials, s ledger.TrialSet, r SuggestRequest,
	v suggestPayload) (*recipeView, error) {
	pattern := planning.WayFor(n, materials, s, v.Reference, v.Next.DoseGPerL, r.VolumeL)
	recipe, err := planning.RecipeFor(n, materials, pattern, v.Next.DoseGPerL, s.Class, r.VolumeL)
	if err != nil {
		return nil, err
	}
	for i := len(s.Trials) - 1; i >= 0; i-- {
		if t := s.Trials[i]; len(t.Ledger.Steps) > 0 {
			recipe = recipe.WithEffect(t)
			break
		}
	}
	out := &recipeView{MassG: recipe.MassG, Form: recipe.Form, Method: recipe.Method,
		Passes: append([]trials.Pass{}, recipe.Passes...), LiquidL: recipe.LiquidL,
		VolumeL: recipe.IntoL, AfterL: recipe.IntoL + recipe.LiquidL, Like: recipe.Like}
	if recipe.Effect != nil {
		out.ABVBefore, out.ABVAfter = wording.EstimateView(recipe.Effect.Before.ABVPct),
			wording.EstimateView(recipe.Effect.After.ABVPct)
	}
	return out, nil
}

// weighed is what to weigh for which volume; "" without a recipe.
func weighed(recipe *recipeView, q SuggestRequest) string {
	if recipe == nil {
		return ""
	}
	return wording.MassText(Rounded(recipe.MassG), q.Units) + " in " + wording.VolumeText(recipe.VolumeL, q.Units)
}

// recipeText says in sentences how to make it.
func recipeText(r *recipeView, v suggestPayload, q SuggestRequest) []string {
	if r == nil {
		return nil
	}
	lines := []string{fmt.Sprintf("For %s of beer: %s %s, %s, as %s%s.", wording.VolumeText(r.VolumeL, q.Units),
		wording.MassText(Rounded(r.MassG), q.Units), v.Material, r.Form, r.Method, likeText(r.Like))}
	for i, p := range r.Passes {
		p.VolumeL = Rounded(p.VolumeL)
		lines = append(lines, fmt.Sprintf("Pass %d: %s.", i+1, wording.PassWords(p, q.Units)))
	}
	if r.LiquidL > 0 {
		text := fmt.Sprintf("About %s of liquid goes in", wording.VolumeText(Rounded(r.LiquidL), q.Units))
		if r.ABVBefore != nil && r.ABVAfter != nil {
			text += fmt.Sprintf("; the beer goes from %s to %s %% vol", document.Fixed(r.ABVBefore.Value, 1),
				document.Fixed(r.ABVAfter.Value, 1))
		}
		lines = append(lines, text+".")
	}
	return lines
}

// likeText names the trial a recipe follows.
func likeText(like string) string {
	if like == "" {
		return " (a plain steep, since this was never tried)"
	}
	return ", made like " + like
}

// Rounded keeps two significant digits, three from 100 on: a scale shows no
// more, and the interval is wider still.
func Rounded(v float64) float64 {
	if v <= 0 {
		return v
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return math.Round(v/step) * step
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
	for i, scores := range byTrial(s) {
		t, row, voted := s.Trials[i], voteRow{}, false
		for _, sc := range scores {
			if sc.Attribute == attribute && sc.Vote != nil {
				row.count(*sc.Vote)
				voted = true
			}
		}
		if voted {
			row.Trial = t.Name()
			if !t.Control {
				row.Dose = t.Axis()
			}
			rows = append(rows, row)
		}
	}
	return rows
}

// lessons turns what could be done next into its printed form.
func lessons(p *doseresponse.Posterior) []lessonView {
	list := []lessonView{}
	for _, l := range p.Teach() {
		list = append(list, lessonView{string(l.Action), l.Brews, l.DosesGPerL, l.FactorNow, l.FactorAfter})
	}
	return list
}

// tasterRows turns the tasters into their printed form.
func tasterRows(p *doseresponse.Posterior, known map[string]doseresponse.TasterPrior) []tasterRow {
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

// brews reports whether a verdict is to brew the next dose.
func brews(v doseresponse.Verdict) bool {
	switch v {
	case doseresponse.Try, doseresponse.Repeat, doseresponse.Settled, doseresponse.TwoOf:
		return true
	}
	return false
}

// suggestDocument draws the answer.
func suggestDocument(v suggestPayload, recipe []string, s ledger.TrialSet, r SuggestRequest) document.Document {
	sections := []document.Section{decision(v), sureness(v)}
	// how to brew a dose that is not to be brewed, and what it would teach, would contradict the first line
	if len(recipe) > 0 && brews(v.Verdict) {
		sections = append(sections, document.Section{Heading: "How", Paragraphs: recipe})
	}
	if brews(v.Verdict) || v.Verdict == doseresponse.Bench {
		sections = append(sections, teachSection(v))
	}
	if len(v.Votes) > 0 {
		sections = append(sections, votesBars(v))
	}
	if len(v.Methods) > 1 {
		sections = append(sections, methodsSection(v))
	}
	if t := suggestTasters(v); t != nil {
		sections = append(sections, *t)
	}
	sections = append(sections, reasons(v, s))
	title := "Next for " + v.Material
	if v.Attribute != "" {
		title += ", for " + v.Attribute
	}
	if v.Reference != "" {
		title += ", as " + v.Reference
	}
	return document.Document{Title: title, Sections: sections}
}

// decision is the first section: the headline, and how sure it is.
func decision(v suggestPayload) document.Section {
	paragraphs := slices.Clone(v.Headline)
	if v.contradiction != "" {
		paragraphs = append(paragraphs, "But "+v.contradiction+".")
	}
	return document.Section{Paragraphs: paragraphs}
}

// sureness says what is known of the right dose, and what to expect of the next.
func sureness(v suggestPayload) document.Section {
	var list []string
	right := v.RightDose
	if right.Low != nil {
		list = append(list, fmt.Sprintf("The right dose lies between %s and %s g/L effective (90 %%), "+
			"within a factor of %s either way.",
			document.Significant(*right.Low, 2), document.Significant(*right.High, 2),
			document.Fixed(math.Sqrt(*right.High / *right.Low), 1)))
	}
	whose := ""
	if len(v.Tasters) > 1 {
		whose = " of this panel"
	}
	s := document.Shares(v.Next.PTooLittle, v.Next.PRight, v.Next.PTooMuch)
	list = append(list, fmt.Sprintf("Of 100 votes%s expect %d too little, %d just right, %d too much.", whose,
		s[0], s[1], s[2]))
	if v.Verdict != doseresponse.Retaste {
		list = append(list, fmt.Sprintf("The chance that %s g/L gets nine tenths of the best share of just right: %s.",
			document.Significant(v.Next.DoseGPerL, 2), document.Chance(v.PNearBest)))
	}
	if v.PAnyDoseLiked != nil {
		list = append(list, fmt.Sprintf("The chance that it is liked as wished at its right dose: %s.",
			document.Chance(*v.PAnyDoseLiked)))
	}
	return document.Section{Heading: "How sure", Paragraphs: list}
}

// teachSection says which trial would narrow the answer most.
func teachSection(v suggestPayload) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "what could be done next"}, {Title: "brews", Right: true},
		{Title: "effective doses g/L", Wrap: true}, {Title: "x/÷ now", Right: true}, {Title: "after", Right: true}}}
	for _, l := range v.Lessons {
		var doses []string
		for _, d := range l.DosesGPerL {
			doses = append(doses, document.Significant(d, 2))
		}
		t.Rows = append(t.Rows, []string{l.Action, fmt.Sprint(l.Brews), strings.Join(doses, ", "),
			document.Fixed(l.FactorNow, 2), document.Fixed(l.FactorAfter, 2)})
	}
	return document.Section{Heading: "What would teach most", Table: &t,
		Notes: []string{"x/÷ 1.4: the right dose lies within a factor of 1.4 either way (90 %). Jars, glasses " +
			"and blind repeats teach; a deliberately wrong batch does not."}}
}

// votesBars draws the votes by dose as counts.
func votesBars(v suggestPayload) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "trial", Wrap: true}, {Title: "g/L", Right: true},
		{Title: "little", Right: true}, {Title: "right", Right: true}, {Title: "much", Right: true}, {Title: ""}}}
	for _, r := range v.Votes {
		bar := strings.Repeat("-", min(r.TooLittle, 12)) + strings.Repeat("#", min(r.Right, 12)) +
			strings.Repeat("+", min(r.TooMuch, 12))
		t.Rows = append(t.Rows, []string{r.Trial, document.Significant(r.Dose, 2), fmt.Sprint(r.TooLittle),
			fmt.Sprint(r.Right), fmt.Sprint(r.TooMuch), bar})
	}
	return document.Section{Heading: "Votes on " + v.Attribute + " by effective dose", Table: &t,
		Notes: []string{"- too little, # just right, + too much"}}
}

// methodsSection compares the potency of methods.
func methodsSection(v suggestPayload) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "method"},
		{Title: "potency per effective gram (90 %)", Right: true}}}
	for _, m := range v.Methods {
		t.Rows = append(t.Rows, []string{m.Method, document.Spread(m.RelativePotency, 1, 2)})
	}
	return document.Section{Heading: "Methods, beside " + v.Reference, Table: &t}
}

// reasons says what the answer rests on.
func reasons(v suggestPayload, s ledger.TrialSet) document.Section {
	sec := document.Section{Heading: "What this rests on"}
	if len(v.Trials) > 0 {
		sec.Paragraphs = append(sec.Paragraphs, fmt.Sprintf("%s (%s), %s; scores from closed tastings.",
			document.Count(len(v.Trials), "trial"), strings.Join(v.Trials, ", "),
			document.Count(len(v.Claims), "claim")))
	} else {
		sec.Paragraphs = append(sec.Paragraphs, fmt.Sprintf("No trial yet: %s alone.",
			document.Count(len(v.Claims), "claim")))
	}
	for _, c := range v.Claims {
		text := document.Significant(c[0], 2)
		if c[1] > c[0] {
			text += " to " + document.Significant(c[1], 2)
		}
		sec.Notes = append(sec.Notes, "a claim, on the effective scale: "+text+" g/L")
	}
	sec.Notes = append(sec.Notes, v.notes...)
	for _, c := range v.Cautions {
		sec.Notes = append(sec.Notes, wording.CautionLine(c))
	}
	return sec
}

// suggestTasters is the table of the tasters' own right doses.
func suggestTasters(v suggestPayload) *document.Section {
	if len(v.Tasters) < 2 {
		return nil
	}
	t := document.Table{Columns: []document.Column{{Title: "taster", Wrap: true},
		{Title: "own right dose x (90 %)", Right: true}, {Title: "scores higher by", Right: true},
		{Title: "noise", Right: true}, {Title: "remembered x", Right: true}, {Title: "note", Wrap: true}}}
	for _, r := range v.Tasters {
		t.Rows = append(t.Rows, []string{r.Taster, document.Spread(r.Offset, 1, 2), document.Signed(r.Scale.Value, 1),
			document.OrDash(r.NoiseSD, 1), document.OrDash(r.Remembered, 2), r.Remark})
	}
	sec := &document.Section{Heading: "Tasters", Table: &t,
		Notes: []string{"own right dose: beside the panel's; noise: standard deviation of the intensities, points"}}
	if len(v.Taught) > 0 {
		sec.Notes = append(sec.Notes, "remembered from "+strings.Join(v.Taught, ", ")+
			", drawn halfway to 1; --fresh-tasters leaves it out")
	}
	return sec
}
