package plans

import (
	"fmt"
	"strings"

	"hedgerow/report/decisions"
	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
)

// document draws the sheet.
func (s planSheet) document() document.Document {
	sections := []document.Section{{Paragraphs: s.intro()}, s.amounts()}
	if s.Design.Direct == nil {
		sections = append(sections, s.extractSection())
	}
	if s.Wort != nil {
		sections = append(sections, s.wortSection())
	}
	sections = append(sections, s.stepsSection(), document.Section{Heading: "To gather", Notes: s.Kit, Short: true})
	sections = append(sections, s.cautionSections()...)
	// a batch is at its own scale already
	if len(s.ScaledUp) > 0 && s.Kind != trials.PlanBatch {
		sections = append(sections, s.scaleSection())
	}
	return document.Document{Title: s.title(), Sections: append(sections, s.doneSection())}
}

// title names the plan.
func (s planSheet) title() string {
	title := map[string]string{trials.PlanBench: "Bench series with ", trials.PlanSplit: "Split with ",
		trials.PlanBatch: "Batch with "}[s.Kind] + s.Material
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
	way := "as " + d.Method
	if d.Method == trials.MethodContact {
		way = "straight into the beer"
	}
	text := fmt.Sprintf("%s of %s with %s %s%s.", document.Capital(s.vessels()),
		wording.VolumeText(d.Vessels[0].BeerL, s.units), s.Material, way, like)
	if s.Kind == trials.PlanBatch {
		text = fmt.Sprintf("%s with %s %s%s.", wording.VolumeText(d.Vessels[0].BeerL, s.units), s.Material, way, like)
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
		parts = append(parts, "planned for "+wording.DateText(*s.At))
	}
	if s.DoneAt != nil {
		parts = append(parts, "done on "+wording.DateText(*s.DoneAt))
	}
	if len(parts) > 0 {
		list = append(list, document.Capital(strings.Join(parts, "; "))+".")
	}
	return list
}

// amounts is the table of what goes into each vessel.
func (s planSheet) amounts() document.Section {
	d := s.Design
	t := document.Table{Columns: []document.Column{{Title: s.vessel(), Right: true},
		{Title: "dose wanted\ng/L", Right: true}}}
	if d.Direct != nil {
		t.Columns = append(t.Columns, document.Column{Title: "weigh in", Right: true})
	} else {
		t.Columns = append(t.Columns, document.Column{Title: "extract\nmL", Right: true})
		// a batch has no other vessel to be made like, so nothing is topped up
		if s.Kind != trials.PlanBatch {
			t.Columns = append(t.Columns, document.Column{Title: s.topUpWord() + "\nmL", Right: true})
		}
	}
	t.Columns = append(t.Columns, document.Column{Title: "dose reached\ng/L", Right: true},
		document.Column{Title: "off by", Right: true})
	if s.Name != "" {
		t.Columns = append(t.Columns, document.Column{Title: "logged as", Wrap: true})
	}
	for _, v := range d.Vessels {
		t.Rows = append(t.Rows, s.amountRow(v))
	}
	sec := document.Section{Heading: "What goes into each", Table: &t}
	sec.Notes = append(sec.Notes, "doses are effective grams per litre after mixing, "+s.Class+" class")
	if s.Kind != trials.PlanBatch && d.Direct == nil {
		sec.Notes = append(sec.Notes, fmt.Sprintf("each gets %s mL of liquid, the control too, %s %% of what is in "+
			"it, so that all are thinned alike", s.ml(d.AddedL), document.Significant(s.AddedPct, 2)))
	}
	sec.Notes = append(sec.Notes, s.roundingNote())
	sec.Notes = append(sec.Notes, s.Warnings...)
	return sec
}

// amountRow is one vessel of the table.
func (s planSheet) amountRow(v trials.Vessel) []string {
	row := []string{fmt.Sprint(v.Number), "control"}
	off := "-"
	// off by how much has no meaning beside a dose of 0
	if v.AimGPerL > 0 {
		row[1] = document.Significant(v.AimGPerL, 2)
		off = document.Signed(100*(v.ReachedGPerL/v.AimGPerL-1), 1) + " %"
	}
	switch {
	case s.Design.Direct != nil:
		row = append(row, s.mass(v.MassG))
	case s.Kind == trials.PlanBatch:
		row = append(row, s.ml(v.PourL))
	default:
		row = append(row, s.ml(v.PourL), s.ml(v.WaterL))
	}
	row = append(row, document.Significant(v.ReachedGPerL, 3), off)
	if s.Name != "" {
		row = append(row, v.Name)
	}
	return row
}

// ml prints millilitres to the step of the syringe.
func (s planSheet) ml(l float64) string {
	return document.Fixed(1000*l, stepDecimals(1000*s.Design.PourStepL))
}

// roundingNote says what the steps of syringe and scale do.
func (s planSheet) roundingNote() string {
	d := s.Design
	if d.Direct != nil {
		return fmt.Sprintf("a scale that shows %s g moves a dose by %s", document.Significant(d.ScaleStepG, 1),
			pctText(s.RoundPct))
	}
	scale := fmt.Sprintf("half a step of the scale (%s g on %s) moves ", document.Significant(d.ScaleStepG/2, 1),
		s.mass(d.MassG))
	if s.Kind == trials.PlanBatch {
		return scale + "the dose by " + pctText(d.ScaleDoubtPct)
	}
	return fmt.Sprintf("steps of %s mL move single doses by %s; %sall of them alike, by %s",
		document.Significant(1000*d.PourStepL, 1), pctText(s.RoundPct), scale, pctText(d.ScaleDoubtPct))
}

// pctText prints a small share in per cent.
func pctText(pct float64) string {
	if pct < 0.1 {
		return "less than 0.1 %"
	}
	return document.Significant(pct, 2) + " %"
}

// extractSection says which extract to make.
func (s planSheet) extractSection() document.Section {
	d := s.Design
	passes := "one pass"
	if len(d.Passes) > 1 {
		passes = fmt.Sprintf("%d passes", len(d.Passes))
	}
	spare := d.ExtractL - d.PouredL()
	text := fmt.Sprintf("%s of %s, %s, as %s in %s, see the steps. It should give about %s, which carries %s "+
		"effective g/L",
		s.mass(d.MassG), s.Material, d.Form, d.Method, passes,
		wording.VolumeText(decisions.Rounded(d.ExtractL), s.units), document.Significant(d.CarriesGPerL, 3))
	switch {
	case s.Kind == trials.PlanBatch && spare <= 0:
		text += "; all of it goes in"
	case spare > 0.5*d.ExtractL:
		text += "; " + wording.VolumeText(d.PouredL(), s.units) + " of it is poured. Keep the rest cold: less than " +
			"150 mL of tea is cold before it has drawn"
	// less is lost in jug and syringe anyway
	case spare > 0.02*d.ExtractL:
		text += "; " + wording.VolumeText(d.PouredL(), s.units) + " of it is poured, the rest is spare"
	}
	return document.Section{Heading: "Extract to make first", Paragraphs: []string{text + "."}}
}

// wortSection says how strong to brew.
func (s planSheet) wortSection() document.Section {
	w := s.Wort
	before, after := document.Fixed(w.PlainPct, 2), document.Fixed(w.ThinnedPct, 2)
	if before == after {
		return document.Section{Heading: "How strong to brew", Paragraphs: []string{
			"What goes in leaves the strength at " + before + " % vol: brew as planned."}}
	}
	what := "The liquid would thin"
	switch {
	case w.ThinnedPct > w.PlainPct:
		what = "Its sugar, once fermented, would raise"
	case s.Design.Direct != nil:
		what = "Its own water would thin"
	}
	return document.Section{Heading: "How strong to brew", Paragraphs: []string{
		fmt.Sprintf("%s %s %% vol to %s %% vol. To keep the strength, brew to OG %s; it should "+
			"then end at about %s.", what, before, after, document.Fixed(w.OG, 4), document.Fixed(w.FG, 4))},
		Notes: []string{"assumed: the wort ferments to the same share as the plain beer would"}}
}

// stepsSection is the table of steps with their times.
func (s planSheet) stepsSection() document.Section {
	t := document.Table{Columns: []document.Column{{Title: "after", Right: true}, {Title: "do", Wrap: true}}}
	for _, step := range s.Steps {
		t.Rows = append(t.Rows, []string{clockText(step.Minute), step.Do})
	}
	return document.Section{Heading: "Steps", Table: &t, Notes: []string{s.logNote()}}
}

// clockText prints minutes as hours and minutes, long times in days.
func clockText(minutes float64) string {
	// hours and minutes for what one stands beside; nobody counts 96:00
	if minutes >= 2*24*60 {
		return wording.DurationText(minutes)
	}
	return fmt.Sprintf("%d:%02d", int(minutes)/60, int(minutes)%60)
}

// cautionSections list what to beware of; what is only good practice stands on paper.
func (s planSheet) cautionSections() []document.Section {
	care, practice := document.Section{Heading: "Take care"}, document.Section{Heading: "Good practice", Paper: true}
	for _, c := range s.Cautions {
		to := &care
		if c.Level == "note" {
			to = &practice
		}
		to.Notes = append(to.Notes, wording.CautionLine(c))
	}
	var list []document.Section
	for _, sec := range []document.Section{care, practice} {
		if len(sec.Notes) > 0 {
			list = append(list, sec)
		}
	}
	return list
}

// scaleSection says what the doses mean in a batch.
func (s planSheet) scaleSection() document.Section {
	t := document.Table{Columns: []document.Column{{Title: "if this is right, g/L", Right: true},
		{Title: "weigh", Right: true}, {Title: "liquid that goes in", Right: true}}}
	for _, r := range s.ScaledUp {
		t.Rows = append(t.Rows, []string{document.Significant(r.GPerL, 2),
			wording.MassText(decisions.Rounded(r.MassG), s.units),
			wording.VolumeText(decisions.Rounded(r.LiquidL), s.units)})
	}
	return document.Section{Heading: "In " + wording.VolumeText(s.Design.ScaleUpL, s.units) + " of beer", Table: &t,
		Notes: []string{"made the same way; a larger steep cools more slowly, so log its own temperatures"}}
}

// doneSection is the place to write down what was really done.
func (s planSheet) doneSection() document.Section {
	d := s.Design
	const blank = "........"
	titles := []string{s.vessel(), "beer taken", "extract", s.topUpWord(), "notes"}
	switch {
	case d.Direct != nil:
		titles = []string{s.vessel(), "beer", "weighed in", "notes"}
	case s.Kind == trials.PlanBatch:
		titles = []string{s.vessel(), "beer", "extract", "notes"}
	}
	t := document.Table{}
	for _, title := range titles {
		t.Columns = append(t.Columns, document.Column{Title: title})
	}
	for _, v := range d.Vessels {
		row := []string{fmt.Sprint(v.Number)}
		// the first column is filled in and the last is wider, for remarks
		for range titles[2:] {
			row = append(row, blank)
		}
		t.Rows = append(t.Rows, append(row, blank+blank))
	}
	begun := "Begun at " + blank
	if d.Direct == nil {
		begun += ", weighed " + blank + " g" + s.cameOut(blank)
	}
	return document.Section{Heading: "What was really done", Table: &t, Paragraphs: []string{begun}, Paper: true}
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
	// four fifths is an example only, so that no one takes it for what came out
	return fmt.Sprintf(" --recovered 1=%smL --poured %d=%smL", document.Fixed(800*s.Design.ExtractL, 0), last.Number,
		s.ml(last.PourL))
}
