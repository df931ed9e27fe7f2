package plans

import (
	"fmt"
	"slices"

	"hedgerow/report/decisions"
	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/planning"
	"hedgerow/trials/quantity"
)

// tastePlanOf is an evening of dosing to taste that was recorded, as it was planned.
func tastePlanOf(n *trials.Notebook, p trials.Plan, u quantity.Units) (TastePlan, error) {
	materials, err := n.Catalogue()
	if err != nil {
		return TastePlan{}, err
	}
	d := p.Design
	v := TastePlan{Design: d, ToTaste: d.Taste.Steps, Extract: trials.Extract{Record: trials.Record{Name: d.Taste.Extract},
		MaterialKey: d.MaterialKey, Method: d.Method, Form: d.Form, MassG: d.MassG, SpiritPct: d.SpiritPct,
		Passes: d.Passes}}
	b, _ := n.BatchByID(p.BatchID)
	v.draw(n, materials, tasteSheet{Name: p.Name, Beer: b.Name, At: &p.At, DoneAt: p.DoneAt, units: u})
	return v, nil
}

// draw fills the sheet in: the amounts of the design, what to do, what to gather and what to
// beware of.
func (p *TastePlan) draw(n *trials.Notebook, materials trials.Materials, s tasteSheet) {
	d, t := p.Design, p.Design.Taste
	s.Material, s.Class, s.Used = d.MaterialKey, trials.ClassNames[d.Class], p.ToTaste.Used
	s.Extract = tasteExtract{CarriesGPerL: d.CarriesGPerL, DropsML: 1000 * t.DropsL, BatchML: 1000 * t.BatchL,
		ThereML: 1000 * d.ExtractL}
	if t.Made {
		s.Extract.MassG = d.MassG
	} else {
		s.Extract.Name = t.Extract
	}
	s.GlassML, s.SipML, s.Factor, s.Share = 1000*p.ToTaste.GlassL, 1000*p.ToTaste.SipL, p.ToTaste.StepFactor,
		p.ToTaste.Share
	s.Up, s.Down = tasteSteps(p.ToTaste.UpL, t.Up), tasteSteps(p.downL(), t.Down)
	s.Droppers = []tasteDropper{{2, p.ToTaste.InDropper(2), 1000 * t.StrongL}, {1, p.ToTaste.InDropper(1),
		1000 * t.WeakerL}}
	s.BeerML, s.Warnings, s.tasters = 1000*t.BeerL, t.Warnings, len(d.Vessels)/2
	p.sheet = s
	if !t.Made {
		d.Passes = nil // it is made, and nothing is hot any more
	}
	sheet := planSheet{Kind: trials.PlanBench, Material: d.MaterialKey, Design: d, units: s.units}
	p.sheet.Steps = p.steps(sheet)
	p.sheet.Kit = p.kit(sheet)
	p.sheet.Cautions = wording.CautionRows(planning.Cautions(n, materials, trials.PlanBench, d))
}

// downL is what goes into the glass that goes down: at first from the dropper, then beer.
func (p *TastePlan) downL() []float64 {
	list := slices.Repeat([]float64{p.ToTaste.FillL}, p.ToTaste.DownSteps)
	list[0] = p.ToTaste.DownL
	return list
}

// tasteSteps are the steps of a glass with their doses.
func tasteSteps(litres []float64, doses []trials.StepDoses) []tasteStep {
	list := make([]tasteStep, len(litres))
	for i, l := range litres {
		list[i] = tasteStep{i + 1, 1000 * l, doses[i].WeakerGPerL, doses[i].StrongGPerL}
	}
	return list
}

// steps lists what to do and when. Times beside those of the steeps are common practice,
// no source.
func (p *TastePlan) steps(sheet planSheet) []planStep {
	var list []planStep
	clock := 0.0
	step := func(minutes float64, format string, args ...any) {
		list = append(list, planStep{clock, fmt.Sprintf(format, args...)})
		clock += minutes
	}
	step(10, "Clean everything that touches the beer; open a bottle, or draw %s of beer, all at one temperature.",
		wording.VolumeText(decisions.Rounded(p.sheet.BeerML/1000), p.sheet.units))
	if p.Made() {
		sheet.steepSteps(step)
	}
	step(10, "Fill the two droppers as in the table, out of sight of the tasters. They look alike and bear only their "+
		"codes.")
	step(5, "Put %s of beer into a glass for each taster. The first glass goes up: at each step put in what the sheet "+
		"says, turn the glass, take a small sip. Note the first step that is just right.", p.ml(p.ToTaste.GlassL))
	step(10, "Go on to the first step that is too much, note it and stop.")
	step(5, "Water, plain bread, a pause of five minutes.")
	step(15, "The second glass goes down, from the other dropper: %s of beer with %s from it, far too much. At each step "+
		"drink or pour away %s and fill up with as much beer. Note the first step that is just right, then the first that "+
		"is too little.", p.ml(p.ToTaste.GlassL), p.ml(p.ToTaste.DownL), p.ml(p.ToTaste.FillL))
	if p.sheet.Used {
		step(0, "Keep the rest of the extract cold and closed: it is what goes into the beer at packaging.")
	}
	return list
}

// volume prints what is made or drawn, in the reader's units.
func (p *TastePlan) volume(l float64) string { return wording.VolumeText(l, p.sheet.units) }

// ml prints what a syringe measures.
func (p *TastePlan) ml(l float64) string { return wording.SyringeML(l)[0] + " mL" }

// kit lists what to gather.
func (p *TastePlan) kit(sheet planSheet) []string {
	list := []string{fmt.Sprintf("%s of %s", p.volume(p.sheet.Extract.DropsML/1000), p.Extract.Name)}
	if p.Made() {
		list = sheet.makingKit()
	}
	return append(list, "two droppers or syringes that look alike, marked in "+p.ml(sheet.Design.PourStepL),
		document.Count(2*p.sheet.tasters, "glass")+" of one shape", "syringe of 10 mL for the beer",
		p.volume(decisions.Rounded(p.sheet.BeerML/1000))+" of beer", "sanitiser", "labels and a pen",
		"a sheet for each taster", "water and plain bread")
}

// View draws the plan; what is in which dropper is not in it.
func (p TastePlan) View() document.View {
	s := p.sheet
	d := document.Document{Title: "Dosing " + s.Material + " to taste in " + s.Beer}
	if s.Name != "" {
		d.Title += ": " + s.Name
	}
	use := "The extract is the very one that goes into the beer at packaging, so what is right in the glass is right " +
		"there."
	if !s.Used {
		use = "The extract is not the one that goes into the beer: what is right in the glass can be off in the beer by " +
			"half or more, which only a brew will tell."
	}
	about := []string{
		fmt.Sprintf("%s, each with a glass that goes up from %s effective g/L and one that goes down from %s, in steps of "+
			"%s times.", document.Capital(document.Count(s.tasters, "taster")), document.Significant(s.Up[0].Weak, 2),
			document.Significant(s.Down[0].Strong, 2), trials.Number(s.Factor)), use}
	if s.At != nil {
		when := "Planned for " + wording.DateText(*s.At)
		if s.DoneAt != nil {
			when += "; done on " + wording.DateText(*s.DoneAt)
		}
		about = append(about, when+".")
	}
	d.Sections = append(d.Sections, document.Section{Paragraphs: about, Notes: s.Warnings})
	d.Sections = append(d.Sections, p.extractSection(), p.stepTable("The glass that goes up", "put in\nmL", s.Up),
		p.stepTable("The glass that goes down", "put in\nmL", s.Down))
	steps := document.Table{Columns: []document.Column{{Title: "after", Right: true}, {Title: "do", Wrap: true}}}
	for _, step := range s.Steps {
		steps.Rows = append(steps.Rows, []string{clockText(step.Minute), step.Do})
	}
	care := document.Section{Heading: "Take care"}
	for _, c := range s.Cautions {
		care.Notes = append(care.Notes, wording.CautionLine(c))
	}
	d.Sections = append(d.Sections, document.Section{Heading: "Steps", Table: &steps, Notes: p.logNotes()},
		document.Section{Heading: "To gather", Notes: s.Kit, Short: true}, care)
	return document.View{Document: d, Payload: s}
}

// logNotes say how what was done is logged, of an evening that was recorded.
func (p TastePlan) logNotes() []string {
	s := p.sheet
	switch {
	case s.At == nil:
		return nil
	case !p.Made():
		return []string{"on another day: hedgerow plan done " + s.Name + " --at .."}
	}
	// four fifths is an example only, so that no one takes it for what came out
	return []string{fmt.Sprintf("log what came out of the steep: hedgerow plan done %s --recovered 1=%smL", s.Name,
		document.Fixed(0.8*s.Extract.ThereML, 0))}
}

// extractSection says what to make, and how the droppers are filled.
func (p TastePlan) extractSection() document.Section {
	s, x := p.sheet, p.Extract
	var lines []string
	if p.Made() {
		lines = append(lines, fmt.Sprintf("%s of %s, %s, as %s:", p.mass(), s.Material, x.Form,
			x.Method))
		for i, pass := range x.Passes {
			lines = append(lines, fmt.Sprintf("Pass %d: %s.", i+1, wording.PassWords(pass, s.units)))
		}
		lines = append(lines, fmt.Sprintf("This should give about %s, which carries %s effective g/L.",
			p.volume(decisions.Rounded(s.Extract.ThereML/1000)), document.Significant(s.Extract.CarriesGPerL, 3)))
	} else {
		lines = append(lines, fmt.Sprintf("%s: %s left, which carries %s effective g/L.", x.Name,
			p.volume(s.Extract.ThereML/1000),
			document.Significant(s.Extract.CarriesGPerL, 3)))
	}
	takes := fmt.Sprintf("The droppers take %s of it", p.volume(s.Extract.DropsML/1000))
	if s.Used {
		takes += fmt.Sprintf("; up to %s go into the beer", p.volume(decisions.Rounded(s.Extract.BatchML/1000)))
	}
	t := document.Table{Columns: []document.Column{{Title: "dropper"}, {Title: "extract", Right: true},
		{Title: p.thinner(), Right: true}, {Title: "fill at least\nmL", Right: true}}}
	for _, d := range s.Droppers {
		name := "the weaker"
		if d.Strength == 2 {
			name = "the stronger"
		}
		parts := int(1/d.Extract+0.5) - 1
		thin := "none"
		if parts > 0 {
			thin = document.Count(parts, "part")
		}
		t.Rows = append(t.Rows, []string{name, "1 part", thin, document.Fixed(d.FillML, 0)})
	}
	return document.Section{Heading: "Extract and droppers", Paragraphs: append(lines, takes+"."), Table: &t}
}

// mass is what is weighed for the extract.
func (p TastePlan) mass() string {
	return planSheet{Design: trials.Design{ScaleStepG: p.Design.ScaleStepG}, units: p.sheet.units}.mass(p.Extract.MassG)
}

// thinner is what a dropper is thinned with.
func (p TastePlan) thinner() string {
	if x := p.Extract; x.SpiritPct != nil {
		return document.Significant(*x.SpiritPct, 2) + " % spirit"
	}
	return "water"
}

// stepTable is the table of one glass: what goes in, and what it comes to with either
// dropper.
func (p TastePlan) stepTable(heading, in string, steps []tasteStep) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "step", Right: true}, {Title: in, Right: true},
		{Title: "g/L with\nthe weaker", Right: true}, {Title: "g/L with\nthe stronger", Right: true}}}
	amounts := make([]float64, len(steps))
	for i, s := range steps {
		amounts[i] = s.InML / 1000
	}
	for i, text := range wording.SyringeML(amounts...) {
		s := steps[i]
		t.Rows = append(t.Rows, []string{fmt.Sprint(s.Step), text, document.Significant(s.Weak, 2),
			document.Significant(s.Strong, 2)})
	}
	sec := document.Section{Heading: heading, Table: &t}
	if steps[0].InML != steps[len(steps)-1].InML && heading == "The glass that goes down" {
		sec.Notes = []string{"step 1 from the dropper, from then on beer, as much as was drunk or poured away"}
	}
	return sec
}
