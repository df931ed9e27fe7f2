package plans

import (
	"fmt"

	"hedgerow/report/decisions"
	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/planning"
)

// describe adds what to do, what to gather and what to beware of.
func (p *TastePlan) describe(n *trials.Notebook, materials trials.Materials, s ledger.TrialSet, r TasteRequest) {
	x := p.Extract
	d := trials.Design{MaterialKey: x.MaterialKey, Class: s.Class, Method: x.Method, Form: x.Form, MassG: x.MassG,
		Passes: x.Passes, SpiritPct: x.SpiritPct, ExtractL: p.Sheet.Extract.ThereML / 1000, PourStepL: r.PourStepL,
		ScaleStepG: r.ScaleStepG, Like: p.Design.Like}
	for i := range 2 * r.Tasters {
		d.Vessels = append(d.Vessels, trials.Vessel{Number: i + 1, BeerL: p.ToTaste.GlassL})
	}
	if !p.Made {
		d.Passes = nil // it is made, and nothing is hot any more
	}
	p.Design = d
	sheet := planSheet{Kind: trials.PlanBench, Material: x.MaterialKey, Design: d, units: r.Units}
	p.Sheet.Steps = p.steps(sheet)
	p.Sheet.Kit = p.kit(sheet)
	p.Sheet.Cautions = wording.CautionRows(planning.Cautions(n, materials, trials.PlanBench, d))
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
		wording.VolumeText(decisions.Rounded(p.Sheet.BeerML/1000), p.Sheet.units))
	if p.Made {
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
	if p.Sheet.Used {
		step(0, "Keep the rest of the extract cold and closed: it is what goes into the beer at packaging.")
	}
	return list
}

// volume prints what is made or drawn, in the reader's units.
func (p *TastePlan) volume(l float64) string { return wording.VolumeText(l, p.Sheet.units) }

// mostDecimals are as many as a drop of 0.05 mL needs.
const mostDecimals = 2

// ml prints what a syringe measures: in millilitres whatever the reader's units, since that
// is what stands on it.
func (p *TastePlan) ml(l float64) string {
	return document.Alike([]float64{1000 * l}, mostDecimals)[0] + " mL"
}

// kit lists what to gather.
func (p *TastePlan) kit(sheet planSheet) []string {
	list := []string{fmt.Sprintf("%s of %s", p.volume(p.Sheet.Extract.DropsML/1000), p.Extract.Name)}
	if p.Made {
		list = sheet.kit()
		// the last four of a bench series are named below, as they are needed here
		list = list[:len(list)-6]
	}
	return append(list, "two droppers or syringes that look alike, marked in "+p.ml(sheet.Design.PourStepL),
		document.Count(2*p.Sheet.tasters, "glass")+" of one shape", "syringe of 10 mL for the beer",
		p.volume(decisions.Rounded(p.Sheet.BeerML/1000))+" of beer", "labels and a pen", "a sheet for each taster",
		"water and plain bread")
}

// View draws the plan; what is in which dropper is not in it.
func (p TastePlan) View() document.View {
	s := p.Sheet
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
	d.Sections = append(d.Sections, document.Section{Paragraphs: []string{
		fmt.Sprintf("%s, each with a glass that goes up from %s effective g/L and one that goes down from %s, in steps of "+
			"%s times.", document.Capital(document.Count(s.tasters, "taster")), document.Significant(s.Up[0].Weak, 2),
			document.Significant(s.Down[0].Strong, 2), trials.Number(s.Factor)), use}, Notes: s.Warnings})
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
	d.Sections = append(d.Sections, document.Section{Heading: "Steps", Table: &steps},
		document.Section{Heading: "To gather", Notes: s.Kit, Short: true}, care)
	return document.View{Document: d, Payload: s}
}

// extractSection says what to make, and how the droppers are filled.
func (p TastePlan) extractSection() document.Section {
	s, x := p.Sheet, p.Extract
	var lines []string
	if p.Made {
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
	return planSheet{Design: trials.Design{ScaleStepG: p.Design.ScaleStepG}, units: p.Sheet.units}.mass(p.Extract.MassG)
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
		amounts[i] = s.InML
	}
	for i, text := range document.Alike(amounts, mostDecimals) {
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
