package report

import (
	"fmt"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// diluteMethod says how the figures were got.
const diluteMethod = "component masses of water, ethanol and extract; intervals by Monte Carlo, %d draws, seed %d"

// diluteStage is one stage as --json prints it.
type diluteStage struct {
	Name       string         `json:"name"`  // unique among records of its kind
	State      wording.State  `json:"state"` // the beer then
	CO2ToComeG *figure.Stated `json:"co2_to_come_g"`
}

// DiluteExtra is what was asked beyond the mix itself.
type DiluteExtra struct {
	Explain bool            // show how it was worked out
	Aimed   *ledger.Aimed   // how to reach a target; nil if none was given
	PH      *ledger.PHTrial // the answer to the question after the pH; nil if not asked
}

// Dilution shows what additions do to a beer.
func Dilution(d ledger.Dilution, u quantity.Units, extra DiluteExtra) document.View {
	stages := make([]diluteStage, len(d.Moments))
	for i, s := range d.Moments {
		stages[i] = diluteStage{s.Name, wording.StateView(s.State), wording.EstimateView(s.CO2G)}
	}
	last := stages[len(stages)-1]
	factor := wording.EstimateView(d.Factor)
	method := fmt.Sprintf(diluteMethod, d.Draws.N, d.Draws.Seed)
	sections := []document.Section{diluteTable(d, stages, factor, u)}
	var aim *aimView
	if extra.Aimed != nil {
		aim = viewOfAim(*extra.Aimed)
		sections = append(sections, aim.section(d.Additions, u))
	}
	var pH *phAnswer
	if extra.PH != nil {
		pH = answerOfPH(*extra.PH)
		sections = append(sections, pH.section(u))
	}
	var explained *explanation
	if extra.Explain {
		explained = diluteExplanation(d)
		sections = append(sections, explained.sections("stage")...)
	}
	return document.View{
		Document: document.Document{Sections: sections},
		Payload: struct {
			Before   wording.State  `json:"before"`
			After    wording.State  `json:"after"`
			Factor   *figure.Stated `json:"dilution_factor"`
			Stages   []diluteStage  `json:"stages"`
			Without  *wording.State `json:"without_additions"`
			Pressure *pressureView  `json:"package_pressure"` // if closed in before its sugar has fermented
			Largest  string         `json:"largest_contribution_to_abv"`
			Method   string         `json:"method"`
			Aim      *aimView       `json:"plan,omitempty"`
			PH       *phAnswer      `json:"ph,omitempty"`
			Explain  *explanation   `json:"explanation,omitempty"`
			Warnings []string       `json:"warnings"`
		}{stages[0].State, last.State, factor, stages, withoutView(d), pressureOrNil(d.Pressure), d.Largest(), method,
			aim, pH, explained, ledger.TextsOf(d.Warnings)},
	}
}

// withoutView is the beer without the additions.
func withoutView(d ledger.Dilution) *wording.State {
	if d.Without == nil {
		return nil
	}
	s := wording.StateView(*d.Without)
	return &s
}

// pressureOrNil is a pressure in its printed form, nil for none.
func pressureOrNil(p *ledger.Pressure) *pressureView {
	if p == nil {
		return nil
	}
	return viewOfPressure(*p)
}

// diluteTable puts the stages side by side.
func diluteTable(d ledger.Dilution, stages []diluteStage, factor *figure.Stated,
	u quantity.Units) document.Section {
	t := document.Table{Columns: []document.Column{{Title: ""}}}
	for _, s := range stages {
		t.Columns = append(t.Columns, document.Column{Title: s.Name, Right: true})
	}
	row := func(name string, cell func(wording.State) string) {
		cells := []string{name}
		some := false
		for _, s := range stages {
			c := cell(s.State)
			some = some || c != "-"
			cells = append(cells, c)
		}
		if some {
			t.Rows = append(t.Rows, cells)
		}
	}
	row("volume, "+wording.VolumeUnit(u), func(s wording.State) string { return wording.VolumeEstimate(s.VolumeL, u) })
	row("gravity", func(s wording.State) string { return document.GravityEstimate(s.GravitySG) })
	row(originalTitle(d), func(s wording.State) string { return document.GravityEstimate(s.OriginalSG) })
	row("strength, % vol", func(s wording.State) string { return document.PlusMinusOrDash(s.ABVPct, 1, 2) })
	row("  from the inputs alone", func(s wording.State) string { return document.PlusMinusOrDash(s.ABVInputsPct, 1, 2) })
	row("real extract, %", func(s wording.State) string { return document.PlusMinusOrDash(s.RealExtractPct, 1, 2) })
	row("bitterness, IBU", func(s wording.State) string { return document.PlusMinusOrDash(s.IBU, 1, 2) })
	row("colour, SRM", func(s wording.State) string { return document.PlusMinusOrDash(s.SRM, 1, 2) })
	row("CO2, volumes", func(s wording.State) string { return document.PlusMinusOrDash(s.CO2Volumes, 1, 2) })
	sec := document.Section{Table: &t, Notes: wordsOf(d.Warnings)}
	if factor != nil {
		sec.Notes = append([]string{"dilution factor " + document.PlusMinus(*factor, 2, 4) +
			": what does not ferment or evaporate is thinned by it"}, sec.Notes...)
	}
	if l := d.Largest(); l != "" {
		sec.Notes = append(sec.Notes, "the strength would gain most from a better "+l)
	}
	if d.Without != nil {
		w := wording.StateView(*d.Without)
		sec.Notes = append(sec.Notes, "without the additions it would end at "+document.GravityEstimate(w.GravitySG)+
			" and "+document.PlusMinusOrDash(w.ABVPct, 1, 2)+" % vol")
	}
	for _, s := range stages {
		if s.CO2ToComeG != nil && s.CO2ToComeG.Value > 0.5 {
			sec.Notes = append(sec.Notes, fmt.Sprintf("%s: %s g of CO2 still to come", s.Name,
				document.PlusMinus(*s.CO2ToComeG, 0, 0)))
		}
	}
	if d.Pressure != nil {
		sec.Notes = append(sec.Notes, PressureLines(*d.Pressure, u)...)
	}
	return sec
}

// originalTitle names the original gravity, as an equivalent after an addition.
func originalTitle(d ledger.Dilution) string {
	if len(d.Moments) > 1 {
		return "equivalent OG"
	}
	return "original gravity"
}

// diluteExplanation is formula, inputs, intermediate values and sources.
func diluteExplanation(d ledger.Dilution) *explanation {
	x := explanation{Formulas: []string{formulaState, formulaFerment, formulaAdd, formulaDoubt},
		Inputs: explainedInputs(d.Inputs()), Sources: balanceSources}
	for _, s := range d.Moments {
		w, e, ex := s.Masses()
		x.Masses = append(x.Masses, explainedMass{s.Name, w, e, ex})
	}
	return &x
}

// AdditionEffect shows a batch before and after an addition. Told are remarks
// that people have been given on the way; --json has them among the warnings.
func AdditionEffect(n *trials.Notebook, l ledger.Ledger, a trials.Addition, u quantity.Units,
	told []string) document.View {
	at := 0
	for i, s := range l.Steps {
		if s.Name == a.Name && s.Kind == ledger.EventAddition {
			at = i
		}
	}
	step := l.Steps[at]
	before, after := wording.StateView(l.Steps[max(at-1, 0)].State()), wording.StateView(step.State())
	t := document.Table{Columns: []document.Column{{Title: ""}, {Title: "before", Right: true},
		{Title: "after", Right: true}}}
	row := func(name, b, c string) {
		if b != "-" || c != "-" {
			t.Rows = append(t.Rows, []string{name, b, c})
		}
	}
	row("volume, "+wording.VolumeUnit(u), wording.VolumeEstimate(before.VolumeL, u),
		wording.VolumeEstimate(after.VolumeL, u))
	row("gravity", document.GravityEstimate(before.GravitySG), document.GravityEstimate(after.GravitySG))
	row("equivalent OG", document.GravityEstimate(before.OriginalSG), document.GravityEstimate(after.OriginalSG))
	row("strength, % vol", document.PlusMinusOrDash(before.ABVPct, 1, 2), document.PlusMinusOrDash(after.ABVPct, 1, 2))
	row("bitterness, IBU", document.PlusMinusOrDash(before.IBU, 1, 2), document.PlusMinusOrDash(after.IBU, 1, 2))
	var warnings []ledger.Warning
	for _, w := range l.Warnings {
		if w.Record == a.Name {
			w.Record = "" // the whole answer is about it
			warnings = append(warnings, w)
		}
	}
	sections := []document.Section{{Paragraphs: []string{"logged " + a.Name + ": " + wording.AdditionSentence(n, a, u)},
		Table: &t, Notes: wordsOf(warnings)}}
	doses := doseViews(dosesOf(step.Doses, a.Name))
	if d := doseSection(doses); d != nil {
		d.Heading = "Effective dose"
		sections = append(sections, *d)
	}
	return document.View{
		Document: document.Document{Sections: sections},
		Payload: struct {
			Saved    trials.Addition `json:"saved"`
			Before   wording.State   `json:"before"`
			After    wording.State   `json:"after"`
			AddedL   float64         `json:"added_l"`
			Doses    []ledgerDose    `json:"doses"`
			Warnings []string        `json:"warnings"`
		}{a, before, after, step.AddedL, doses, append(ledger.TextsOf(warnings), told...)},
	}
}

// dosesOf keeps the doses of one addition.
func dosesOf(all []ledger.Dose, addition string) []ledger.Dose {
	var list []ledger.Dose
	for _, d := range all {
		if d.Addition == addition {
			list = append(list, d)
		}
	}
	return list
}
