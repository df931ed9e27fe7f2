package decisions

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/doseresponse"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/catalogue"
	"hedgerow/trials/ledger"
)

// reportPayload is what --json prints of a report.
type reportPayload struct {
	suggestPayload
	Made   string          `json:"made"`           // what the reader set to stand above every page
	Curve  []expectedVotes `json:"expected_votes"` // over the doses of the picture; empty without any
	Trials []comparedTrial `json:"trials"`
	Dosed  []dosedRow      `json:"dosed_to_taste"` // glasses of evenings of dosing to taste
}

// expectedVotes are the votes to expect at one dose, as --json prints them.
type expectedVotes struct {
	DoseGPerL float64    `json:"effective_dose_g_per_l"`
	TooLittle float64    `json:"p_too_little"`
	Right     float64    `json:"p_right"`
	TooMuch   float64    `json:"p_too_much"`
	Half      [2]float64 `json:"p_right_half_of_the_chance"`
	Most      [2]float64 `json:"p_right_nine_tenths_of_the_chance"`
}

// Report tells all that is known of a material in one page, the decision first. Where no
// dose can be named it says so and tells the rest.
func Report(n *trials.Notebook, s ledger.TrialSet, r SuggestRequest) (document.View, error) {
	w, err := weigh(n, s, r)
	if err != nil {
		return withoutDose(n, s, r, err)
	}
	own := OwnMethods(n, w.set)
	compared := comparedTrials(w.set, r.Units)
	addVotes(w.set, compared)
	for _, a := range append(w.set.Attributes(), trials.Overall) {
		if fit := adjusted(w.set, a); fit != nil {
			addMeans(compared, a, fit)
		}
	}
	payload := reportPayload{suggestPayload: w.suggestPayload, Made: n.Settings[trials.SettingHeading],
		Trials: compared, Curve: w.expected(), Dosed: dosedRows(w.set)}
	d := w.page(n, compared, own)
	d.Made = payload.Made
	return document.View{Document: d, Payload: payload, Figures: true}, nil
}

// expected are the votes to expect over the doses of the picture.
func (w weighing) expected() []expectedVotes {
	list := []expectedVotes{}
	x, ok := w.doseAxis()
	if !ok || w.Facts.Falling != nil {
		return list
	}
	for _, c := range w.post.Curve(x.Low, x.High, tabledDoses) {
		list = append(list, expectedVotes(c))
	}
	return list
}

// tabledDoses is how many doses of the curve a table lists.
const tabledDoses = 13

// page lays the report out.
func (w weighing) page(n *trials.Notebook, compared []comparedTrial, own []ownMethod) document.Document {
	d := document.Document{Over: w.over(), Facts: w.facts(n)}
	d.Title, d.Lead = w.decided()
	d.Remarks = []string{"g/L is the effective dose: fully extracted, as-dried " + w.Material + " per litre of finished " +
		"beer, " + w.Class + " class. It puts unlike forms and steeps of one material on one scale."}
	if w.request.Pictures {
		if pictures := w.dosePicture(); len(pictures) > 0 {
			d.Sections = append(d.Sections, document.Section{Heading: "Dose and votes", Pictures: pictures,
				Side: "What this panel would say of a fresh brew at each dose."})
		}
	}
	d.Sections = append(d.Sections, w.trialsSection(compared))
	if sec := dosedSection(w.Material, dosedRows(w.set)); sec != nil {
		d.Sections = append(d.Sections, *sec)
	}
	if people := w.people(ownMethodRows(own)); len(people.Pictures) > 0 {
		d.Sections = append(d.Sections, people)
	}
	if differed := differedTable(confounding(w.set, w.request.Units), dosedTrials(w.set)); dosedTrials(w.set) > 1 {
		differed.Heading, differed.Side, differed.Paragraphs = "What else differed",
			"Each of these could explain a difference as well as the dose does.", nil
		d.Sections = append(d.Sections, differed)
	}
	d.Sections = append(d.Sections, cautionsOf(n, w.set.Material), w.sources(n))
	d.Sections = append(d.Sections, w.numbers(own)...)
	d.Foot = "hedgerow report " + w.Material + ", written on " + wording.DateText(n.Now) + " from " +
		document.Count(len(n.Batches), "batch") + ". The same notebook gives the same page."
	return d
}

// over says what the page is about and on how much it rests.
func (w weighing) over() string {
	text := document.Capital(w.Material)
	if w.Attribute != "" {
		text += ", for " + w.Attribute
	}
	dosed, controls, cast := dosedTrials(w.set), 0, 0
	controls = len(w.set.Trials) - dosed
	for _, r := range w.Votes {
		cast += r.TooLittle + r.Right + r.TooMuch
	}
	parts := []string{document.Count(dosed, "dose")}
	if controls > 0 {
		parts[0] += " and " + document.Count(controls, "control")
	}
	if w.Facts.Tasters > 0 {
		parts = append(parts, document.Count(w.Facts.Tasters, "taster"))
	}
	parts = append(parts, document.Count(cast, "vote"), document.Count(len(w.Claims), "claim"))
	text += ": " + strings.Join(parts, ", ")
	if last := lastTasting(w.set); last != "" {
		text += ", up to " + last
	}
	return text
}

// lastTasting is the day of the last closed tasting, empty without one.
func lastTasting(s ledger.TrialSet) string {
	if len(s.Tastings) == 0 {
		return ""
	}
	last := slices.MaxFunc(s.Tastings, func(a, b trials.Tasting) int { return a.At.Compare(b.At) })
	return wording.DateText(last.At)
}

// decided is the decision and the next thing to know: what to weigh where a dose is the
// answer, else the first lines of the headline.
func (w weighing) decided() (title, lead string) {
	h := headline{Answer: w.Answer, beside: w.beside}
	plain := w.Facts.Falling == nil && len(w.Camps) == 0 && w.PullAtDays == nil && h.other() == nil && !h.aged() &&
		w.request.Target == nil
	as := ""
	if w.Reference != "" {
		as = ", as " + strings.ReplaceAll(w.Reference, "-", " ")
		if w.Reference == trials.MethodContact {
			as = ", straight into the beer"
		}
	}
	dose := grams(w.Next.DoseGPerL) + " g/L"
	verb := map[doseresponse.Verdict]string{doseresponse.Try: "Brew " + dose + " next" + as + ".",
		doseresponse.Repeat: "Brew " + dose + " again" + as + ".", doseresponse.Settled: "Settled: " + dose + as + "."}
	if title, ok := verb[w.Verdict]; ok && plain {
		if r := w.Recipe; r != nil {
			lead = fmt.Sprintf("Weigh %s of %s, %s, for %s of beer.", wording.MassText(Rounded(r.MassG), w.request.Units),
				w.Material, r.Form, wording.VolumeText(r.VolumeL, w.request.Units))
		}
		return title, lead
	}
	if len(w.Headline) > 1 {
		lead = w.Headline[1]
	}
	if len(w.Camps) == 2 && w.Facts.Falling == nil && w.Verdict != doseresponse.Retaste {
		return w.campsTitle(), lead
	}
	return w.Headline[0], lead
}

// campsTitle names the tasters of two camps: a page has more room than a headline.
func (w weighing) campsTitle() string {
	start := "Perhaps two camps: "
	if w.Facts.CampsFound {
		start = "Two camps: "
	}
	var sides []string
	for _, c := range w.Camps {
		like := " like "
		if len(c.Tasters) == 1 {
			like = " likes "
		}
		sides = append(sides, wordList(c.Tasters)+like+grams(c.Dose.Value)+" g/L")
	}
	return start + strings.Join(sides, ", ") + "."
}

// facts are what to know at a glance.
func (w weighing) facts(n *trials.Notebook) []document.Fact {
	var list []document.Fact
	put := func(term string, text ...string) {
		if joined := strings.TrimSpace(strings.Join(text, " ")); joined != "" {
			list = append(list, document.Fact{Term: term, Text: joined})
		}
	}
	if w.contradiction != "" {
		put("But", document.Capital(w.contradiction)+".")
	}
	if w.Facts.Falling == nil {
		put("How sure", w.sure()...)
	}
	if brews(w.Verdict) {
		s := document.Shares(w.Next.PTooLittle, w.Next.PRight, w.Next.PTooMuch)
		list = append(list, document.Fact{Term: "Expect of 100 votes", Votes: s,
			Text: fmt.Sprintf("%d too little, %d just right, %d too much", s[0], s[1], s[2])})
		put("How", w.recipe...)
	}
	if section := windowSection(w.suggestPayload); section != nil {
		put("Two tastes", section.Paragraphs...)
	}
	if brews(w.Verdict) || w.Verdict == doseresponse.Bench {
		put("Teaches most", w.teaches())
	}
	if c := n.SeriousCautions(w.Material); len(c) > 0 {
		put("Mind", c[0].Text, c[0].WhatToDo)
	}
	return list
}

// sure is how sure the answer is: what the headline says of it, then the rest, without
// the votes to expect, which have a line of their own.
func (w weighing) sure() []string {
	_, lead := w.decided()
	var list []string
	if len(w.Headline) > 1 && w.Headline[1] != lead && brews(w.Verdict) {
		list = append(list, w.Headline[1])
	}
	for _, p := range sureness(w.suggestPayload, w.request).Paragraphs {
		if !strings.HasPrefix(p, "Of 100 votes") {
			list = append(list, p)
		}
	}
	return list
}

// teaches says which next step would narrow the answer most, and by how much.
func (w weighing) teaches() string {
	if len(w.Lessons) == 0 {
		return ""
	}
	l := w.Lessons[0]
	text := document.Capital(l.Action)
	const listed = 6 // more are no longer read
	switch {
	case len(l.DosesGPerL) > listed:
		text += " of " + document.Count(len(l.DosesGPerL), "beer")
	case len(l.DosesGPerL) > 0:
		text += ", at " + doseList(l.DosesGPerL) + " g/L"
	}
	if w.RightDose.Low == nil {
		return text + "."
	}
	after := w.narrowed(l)
	now, then := grams(*w.RightDose.Low)+" and "+grams(*w.RightDose.High), grams(*after.Low)+" and "+grams(*after.High)
	if now == then {
		return text + ": but little is left to learn, the right dose would still lie between " + now + " g/L."
	}
	return text + ": the right dose would then lie between " + then + " g/L, in place of " + now + "."
}

// people are the tasters, methods and tastes as intervals, and what one more step would
// narrow.
func (w weighing) people(own []ownMethodRow) document.Section {
	s := document.Section{Heading: "People and methods",
		Side: "Bars are 90 % intervals, 95 % where your scores tell of a " +
			"method. The upright line is what each is compared with."}
	put := func(p document.Picture, ok bool) {
		if ok {
			s.Pictures = append(s.Pictures, p)
		}
	}
	put(w.tasterPicture())
	s.Pictures = append(s.Pictures, w.methodPictures(own)...)
	put(w.tastePicture())
	if len(s.Pictures) == 0 {
		s.Heading, s.Side = "What to do next", "Bars are 90 % intervals of the right dose."
	}
	put(w.lessonPicture())
	return s
}

// withoutDose is the report on a material of which no dose can be named: because a
// plant is none to put into beer, or because nothing is known of it yet. Any other error
// is the reader's to mend.
func withoutDose(n *trials.Notebook, s ledger.TrialSet, r SuggestRequest, err error) (document.View, error) {
	materials, failed := n.Catalogue()
	if failed != nil {
		return document.View{}, failed
	}
	_, stop := materials.NoDose(s.Material)
	var p *trials.Problem
	if !errors.As(err, &p) || p.Code != trials.NotEnough && !stop {
		return document.View{}, err
	}
	d := document.Document{Made: n.Settings[trials.SettingHeading], Over: document.Capital(s.Material.Key),
		Title: document.Capital(p.Message) + ".", Lead: "Next: " + p.Hint}
	d.Sections = []document.Section{cautionsOf(n, s.Material)}
	if len(s.Trials) > 0 {
		w := weighing{suggestPayload: suggestPayload{Material: s.Material.Key}, set: s, request: r}
		d.Sections = append([]document.Section{w.trialsSection(comparedTrials(s, r.Units))}, d.Sections...)
	}
	return document.View{Document: d, Payload: struct {
		Material string               `json:"material"`
		Reason   string               `json:"no_dose_because"`
		Hint     string               `json:"hint"`
		Cautions []wording.CautionRow `json:"cautions"`
		Warnings []string             `json:"warnings"`
	}{s.Material.Key, p.Message, p.Hint, wording.CautionRows(materials.Cautions(s.Material)), []string{p.Message}},
		Figures: true}, nil
}

// cautionsOf are all cautions on a material, those that warn set apart, and what holds
// for every batch.
func cautionsOf(n *trials.Notebook, m trials.Material) document.Section {
	s := document.Section{Heading: "Cautions", Warn: true}
	materials, err := n.Catalogue()
	if err != nil {
		return s
	}
	for _, c := range materials.Cautions(m) {
		row := wording.CautionRows([]trials.Caution{c})[0]
		if c.Level.AtLeast(catalogue.LevelWarn) {
			s.Paragraphs = append(s.Paragraphs, fmt.Sprintf("%s: %s %s [%s]",
				strings.Replace(document.Capital(wording.CautionLevel(row)), "Warn", "Warning", 1),
				row.Text, row.WhatToDo, wording.Evidence(row.Evidence, row.Source)))
			continue
		}
		s.Notes = append(s.Notes, fmt.Sprintf("%s %s [%s]", row.Text, row.WhatToDo, wording.Evidence(row.Evidence,
			row.Source)))
	}
	s.Notes = append(s.Notes, "No medical or legal advice. What is served to others is for the brewer to clear with "+
		"local rules and licensed practice.")
	return s
}
