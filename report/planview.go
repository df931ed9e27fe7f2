package report

import (
	"fmt"
	"strings"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/quantity"
)

// planSheet is a plan as --json prints it, and all that its page needs.
type planSheet struct {
	Kind     string         `json:"kind"`
	Material string         `json:"material"`
	Class    string         `json:"class"`
	Name     string         `json:"plan"`    // empty for one that was not recorded
	Beer     string         `json:"batch"`   // the beer it is made with
	Tasting  string         `json:"tasting"` // set up with it
	Why      string         `json:"doses_are"`
	At       *time.Time     `json:"at"`
	DoneAt   *time.Time     `json:"done_at"`
	Design   trials.Design  `json:"design"`
	AddedPct float64        `json:"added_pct"` // added liquid as a share of what is in each vessel
	RoundPct float64        `json:"rounding_pct"`
	ScaledUp []scaledDose   `json:"scale_up"`
	Wort     *wortView      `json:"brew"`
	Steps    []planStep     `json:"steps"`
	Kit      []string       `json:"kit"`
	Cautions []cautionRow   `json:"cautions"`
	Warnings []string       `json:"warnings"`
	units    quantity.Units `json:"-"`
}

// scaledDose is what a dose of the series means in the batch it is for.
type scaledDose struct {
	GPerL   float64 `json:"dose_g_per_l"`
	MassG   float64 `json:"mass_g"`
	LiquidL float64 `json:"liquid_l"`
}

// wortView is what to brew so that the strength stays.
type wortView struct {
	OG         float64 `json:"og"`
	FG         float64 `json:"fg"`
	PlainPct   float64 `json:"abv_pct"`
	ThinnedPct float64 `json:"abv_thinned_pct"`
}

// PlanView is a plan that was not recorded.
func PlanView(n *trials.Notebook, kind string, d trials.Design, why string, u quantity.Units) (View, error) {
	return planView(n, planSheet{Kind: kind, Design: d, Why: why, units: u})
}

// PlanOf is a recorded plan.
func PlanOf(n *trials.Notebook, p trials.Plan, why string, u quantity.Units) (View, error) {
	b, _ := n.BatchByID(p.BatchID)
	s := planSheet{Kind: p.Kind, Design: p.Design, Why: why, Name: p.Name, Beer: b.Name, At: &p.At, DoneAt: p.DoneAt, units: u}
	if p.TastingID != nil {
		for _, t := range n.Tastings {
			if t.ID == *p.TastingID {
				s.Tasting = t.Name
			}
		}
	}
	return planView(n, s)
}

// planView fills in what follows from the design.
func planView(n *trials.Notebook, s planSheet) (View, error) {
	materials, err := n.Catalogue()
	if err != nil {
		return View{}, err
	}
	d := s.Design
	s.Material, s.Class, s.RoundPct, s.Warnings = d.MaterialKey, trials.ClassNames[d.Class], d.WorstPct(), []string{}
	s.AddedPct = 100 * d.AddedL / (d.Vessels[0].BeerL + d.AddedL)
	s.Steps, s.Kit, s.Cautions = s.steps(), s.kit(), cautionRows(n.PlanCautions(materials, s.Kind, d))
	s.scaleUp(n, materials)
	if err := s.brew(n, materials); err != nil {
		return View{}, err
	}
	s.warn()
	return View{Document: s.document(), Payload: s}, nil
}

// scaleUp works out what each dose means in the batch in the end.
func (s *planSheet) scaleUp(n *trials.Notebook, materials trials.Materials) {
	s.ScaledUp = []scaledDose{}
	d := s.Design
	if d.ScaleUpL <= 0 {
		return
	}
	for _, v := range d.Vessels {
		if v.AimGPerL <= 0 {
			continue
		}
		r, err := n.Recipe(materials, n.PatternOf(d), v.AimGPerL, d.Class, d.ScaleUpL)
		if err == nil {
			s.ScaledUp = append(s.ScaledUp, scaledDose{v.AimGPerL, r.MassG, r.LiquidL})
		}
	}
}

// brew works out how strong to brew.
func (s *planSheet) brew(n *trials.Notebook, materials trials.Materials) error {
	d := s.Design
	if s.Kind != trials.PlanBatch || d.BaseOG == nil || d.BaseFG == nil || d.Direct != nil {
		return nil
	}
	w, err := n.StrongerFor(materials, d, *d.BaseOG, *d.BaseFG, d.Vessels[0].BeerL)
	if err != nil {
		return err
	}
	s.Wort = &wortView{w.OG, w.FG, w.PlainABVPct, w.ThinnedABVPct}
	return nil
}

// warn collects what to keep in mind.
func (s *planSheet) warn() {
	d := s.Design
	const muchRounding = 10 // per cent; judgement
	if s.RoundPct > muchRounding {
		s.Warnings = append(s.Warnings, fmt.Sprintf("rounding moves a dose by %s %%: take a finer syringe or scale, or more beer in each", fixed(s.RoundPct, 0)))
	}
	if d.ScaleDoubtPct > muchRounding {
		s.Warnings = append(s.Warnings, fmt.Sprintf("half a step of the scale is %s %% of what is weighed: take a finer scale", fixed(d.ScaleDoubtPct, 0)))
	}
	if tooThin(d) {
		s.Warnings = append(s.Warnings, fmt.Sprintf("%s %% of each is added liquid: the beer tastes thin, in the control too; a stronger extract (less water, squeezed) would be better", fixed(s.AddedPct, 0)))
	}
	if s.Kind == trials.PlanBench {
		s.Warnings = append(s.Warnings, "glasses and batches differ: a tea tasted ten minutes after pouring is not a beer that stood on it for weeks, so take the best glass as a guess for jars or a batch")
	}
}

// document draws the sheet.
func (s planSheet) document() Document {
	sections := []Section{{Paragraphs: s.intro()}, s.amounts()}
	if s.Design.Direct == nil {
		sections = append(sections, s.extractSection())
	}
	if s.Wort != nil {
		sections = append(sections, s.wortSection())
	}
	sections = append(sections, s.stepsSection(), Section{Heading: "To gather", Notes: s.Kit, Short: true}, s.cautionSection())
	if len(s.ScaledUp) > 0 && s.Kind != trials.PlanBatch {
		sections = append(sections, s.scaleSection())
	}
	return Document{Title: s.title(), Sections: append(sections, s.doneSection())}
}

// title names the plan.
func (s planSheet) title() string {
	title := map[string]string{trials.PlanBench: "Bench series with ", trials.PlanSplit: "Split with ", trials.PlanBatch: "Batch with "}[s.Kind] + s.Material
	if s.Name != "" {
		title += ": " + s.Name
	}
	return title
}

// intro says in sentences what it is.
func (s planSheet) intro() []string {
	d := s.Design
	like := ""
	if d.Like != "" {
		like = ", made like " + d.Like
	}
	text := fmt.Sprintf("%s of %s with %s as %s%s.", capital(s.vessels()), VolumeText(d.Vessels[0].BeerL, s.units), s.Material, d.Method, like)
	if s.Kind == trials.PlanBatch {
		text = fmt.Sprintf("%s with %s as %s%s.", VolumeText(d.Vessels[0].BeerL, s.units), s.Material, d.Method, like)
	}
	list := []string{text}
	if s.Why != "" {
		list = append(list, s.Why)
	}
	var parts []string
	if s.Beer != "" {
		parts = append(parts, "beer: "+s.Beer)
	}
	if s.Tasting != "" {
		parts = append(parts, "tasting: "+s.Tasting)
	}
	if s.At != nil {
		parts = append(parts, "planned for "+dateText(*s.At))
	}
	if s.DoneAt != nil {
		parts = append(parts, "done on "+dateText(*s.DoneAt))
	}
	if len(parts) > 0 {
		list = append(list, capital(strings.Join(parts, "; "))+".")
	}
	return list
}

// capital puts a capital letter first.
func capital(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

// amounts is the table of what goes into each vessel.
func (s planSheet) amounts() Section {
	d := s.Design
	t := Table{Columns: []Column{{Title: s.vessel(), Right: true}, {Title: "dose wanted\ng/L", Right: true}}}
	if d.Direct != nil {
		t.Columns = append(t.Columns, Column{Title: "weigh in", Right: true})
	} else {
		t.Columns = append(t.Columns, Column{Title: "extract\nmL", Right: true})
		if s.Kind != trials.PlanBatch {
			t.Columns = append(t.Columns, Column{Title: s.topUpWord() + "\nmL", Right: true})
		}
	}
	t.Columns = append(t.Columns, Column{Title: "dose reached\ng/L", Right: true}, Column{Title: "off by", Right: true})
	if s.Name != "" {
		t.Columns = append(t.Columns, Column{Title: "logged as", Wrap: true})
	}
	for _, v := range d.Vessels {
		t.Rows = append(t.Rows, s.amountRow(v))
	}
	sec := Section{Heading: "What goes into each", Table: &t}
	sec.Notes = append(sec.Notes, "doses are effective grams per litre after mixing, "+s.Class+" class")
	if s.Kind != trials.PlanBatch && d.Direct == nil {
		sec.Notes = append(sec.Notes, fmt.Sprintf("each gets %s mL of liquid, the control too, %s %% of what is in it, so that all are thinned alike", s.ml(d.AddedL), significant(s.AddedPct, 2)))
	}
	sec.Notes = append(sec.Notes, s.roundingNote())
	sec.Notes = append(sec.Notes, s.Warnings...)
	return sec
}

// amountRow is one vessel of the table.
func (s planSheet) amountRow(v trials.Vessel) []string {
	row := []string{fmt.Sprint(v.Number), "control"}
	off := "-"
	if v.AimGPerL > 0 {
		row[1] = significant(v.AimGPerL, 2)
		off = signed(100*(v.ReachedGPerL/v.AimGPerL-1), 1) + " %"
	}
	switch {
	case s.Design.Direct != nil:
		row = append(row, s.mass(v.MassG))
	case s.Kind == trials.PlanBatch:
		row = append(row, s.ml(v.PourL))
	default:
		row = append(row, s.ml(v.PourL), s.ml(v.WaterL))
	}
	row = append(row, significant(v.ReachedGPerL, 3), off)
	if s.Name != "" {
		row = append(row, v.Name)
	}
	return row
}

// ml prints millilitres to the step of the syringe.
func (s planSheet) ml(l float64) string { return fixed(1000*l, stepDecimals(1000*s.Design.PourStepL)) }

// roundingNote says what the steps of syringe and scale do.
func (s planSheet) roundingNote() string {
	d := s.Design
	if d.Direct != nil {
		return fmt.Sprintf("a scale that shows %s g moves a dose by %s", significant(d.ScaleStepG, 1), pctText(s.RoundPct))
	}
	scale := fmt.Sprintf("half a step of the scale (%s g on %s) moves ", significant(d.ScaleStepG/2, 1), s.mass(d.MassG))
	if s.Kind == trials.PlanBatch {
		return scale + "the dose by " + pctText(d.ScaleDoubtPct)
	}
	return fmt.Sprintf("steps of %s mL move single doses by %s; %sall of them alike, by %s", significant(1000*d.PourStepL, 1), pctText(s.RoundPct), scale, pctText(d.ScaleDoubtPct))
}

// pctText prints a small share in per cent.
func pctText(pct float64) string {
	if pct < 0.1 {
		return "less than 0.1 %"
	}
	return significant(pct, 2) + " %"
}

// extractSection says which extract to make.
func (s planSheet) extractSection() Section {
	d := s.Design
	lines := []string{fmt.Sprintf("%s of %s, %s, as %s:", s.mass(d.MassG), s.Material, d.Form, d.Method)}
	for i, p := range d.Passes {
		lines = append(lines, fmt.Sprintf("Pass %d: %s.", i+1, passWords(p, s.units)))
	}
	spare := d.ExtractL - d.PouredL()
	text := fmt.Sprintf("This should give about %s, which carries %s effective g/L", VolumeText(rounded(d.ExtractL), s.units), significant(d.CarriesGPerL, 3))
	switch {
	case s.Kind == trials.PlanBatch:
		text += "; all of it goes in"
	case spare > 0.02*d.ExtractL:
		text += "; " + VolumeText(d.PouredL(), s.units) + " of it is poured, the rest is spare"
	}
	return Section{Heading: "Extract to make first", Paragraphs: append(lines, text+".")}
}

// wortSection says how strong to brew.
func (s planSheet) wortSection() Section {
	w := s.Wort
	return Section{Heading: "How strong to brew", Paragraphs: []string{
		fmt.Sprintf("The liquid would thin %s %% vol to %s %% vol. To keep the strength, brew to OG %s; it should then end at about %s.", fixed(w.PlainPct, 2), fixed(w.ThinnedPct, 2), fixed(w.OG, 4), fixed(w.FG, 4))},
		Notes: []string{"taken: the wort ferments to the same share as the plain beer would"}}
}

// stepsSection is the table of steps with their times.
func (s planSheet) stepsSection() Section {
	t := Table{Columns: []Column{{Title: "after", Right: true}, {Title: "do", Wrap: true}}}
	for _, step := range s.Steps {
		t.Rows = append(t.Rows, []string{clockText(step.Minute), step.Do})
	}
	return Section{Heading: "Steps", Table: &t}
}

// clockText prints minutes as hours and minutes, long times in days.
func clockText(minutes float64) string {
	if minutes >= 2*24*60 {
		return DurationText(minutes)
	}
	return fmt.Sprintf("%d:%02d", int(minutes)/60, int(minutes)%60)
}

// cautionSection lists what to beware of.
func (s planSheet) cautionSection() Section {
	sec := Section{Heading: "Take care"}
	for _, c := range s.Cautions {
		sec.Notes = append(sec.Notes, fmt.Sprintf("%s: %s %s", c.Level, c.Text, c.WhatToDo))
	}
	return sec
}

// scaleSection says what the doses mean in a batch.
func (s planSheet) scaleSection() Section {
	t := Table{Columns: []Column{{Title: "if this is right, g/L", Right: true}, {Title: "weigh", Right: true}, {Title: "liquid that goes in", Right: true}}}
	for _, r := range s.ScaledUp {
		t.Rows = append(t.Rows, []string{significant(r.GPerL, 2), MassText(rounded(r.MassG), s.units), VolumeText(rounded(r.LiquidL), s.units)})
	}
	return Section{Heading: "In " + VolumeText(s.Design.ScaleUpL, s.units) + " of beer", Table: &t, Notes: []string{"made the same way; a larger steep cools more slowly, so log its own temperatures"}}
}

// doneSection is the place to write down what was really done.
func (s planSheet) doneSection() Section {
	d := s.Design
	const blank = "........"
	titles := []string{s.vessel(), "beer taken", "extract", s.topUpWord(), "remarks"}
	switch {
	case d.Direct != nil:
		titles = []string{s.vessel(), "beer", "weighed in", "remarks"}
	case s.Kind == trials.PlanBatch:
		titles = []string{s.vessel(), "beer", "extract", "remarks"}
	}
	t := Table{}
	for _, title := range titles {
		t.Columns = append(t.Columns, Column{Title: title})
	}
	for _, v := range d.Vessels {
		row := []string{fmt.Sprint(v.Number)}
		for range titles[2:] {
			row = append(row, blank)
		}
		t.Rows = append(t.Rows, append(row, blank+blank))
	}
	begun := "Begun at " + blank
	if d.Direct == nil {
		begun += ", weighed " + blank + " g" + s.cameOut(blank)
	}
	sec := Section{Heading: "What was really done", Table: &t, Paragraphs: []string{begun}}
	sec.Notes = []string{s.logNote()}
	return sec
}

// logNote says how it is logged.
func (s planSheet) logNote() string {
	switch {
	case s.Name != "":
		return "log it, with corrections only: hedgerow plan done " + s.Name + s.doneExample()
	case s.Kind == trials.PlanBatch:
		return "nothing is logged yet: the same command with --record NAME --from BATCH writes the extract and the addition"
	}
	return "nothing is logged yet: the same command with --record NAME --from BATCH makes the trials and the tasting"
}

// cameOut leaves room for what each pass gave.
func (s planSheet) cameOut(blank string) string {
	text := ""
	for i := range s.Design.Passes {
		text += fmt.Sprintf(", pass %d gave %s mL", i+1, blank)
	}
	return text
}

// doneExample shows how a correction is written.
func (s planSheet) doneExample() string {
	last := s.Design.Vessels[len(s.Design.Vessels)-1]
	if s.Design.Direct != nil {
		return fmt.Sprintf(" --weighed %d=%s", last.Number, strings.ReplaceAll(s.mass(last.MassG), " ", ""))
	}
	return fmt.Sprintf(" --recovered 1=%smL --poured %d=%smL", fixed(800*s.Design.ExtractL, 0), last.Number, s.ml(last.PourL))
}

// PlanList lists the recorded plans.
func PlanList(n *trials.Notebook) View {
	type row struct {
		Plan     string     `json:"plan"`
		Kind     string     `json:"kind"`
		Material string     `json:"material"`
		Batch    string     `json:"batch"`
		Vessels  int        `json:"vessels"`
		At       time.Time  `json:"at"`
		DoneAt   *time.Time `json:"done_at"`
	}
	t := Table{Columns: []Column{{Title: "plan", Wrap: true}, {Title: "kind"}, {Title: "material", Wrap: true}, {Title: "beer", Wrap: true}, {Title: "vessels", Right: true}, {Title: "planned for"}, {Title: "done"}}}
	var list []row
	for _, p := range n.Plans {
		b, _ := n.BatchByID(p.BatchID)
		r := row{p.Name, p.Kind, p.MaterialKey, b.Name, len(p.Design.Vessels), p.At, p.DoneAt}
		done := "not yet"
		if p.DoneAt != nil {
			done = dateText(*p.DoneAt)
		}
		list = append(list, r)
		t.Rows = append(t.Rows, []string{r.Plan, r.Kind, r.Material, r.Batch, fmt.Sprint(r.Vessels), dateText(r.At), done})
	}
	return listView(list, "There is no plan yet: hedgerow plan bench MATERIAL --from BATCH --record NAME", t)
}
