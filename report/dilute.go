package report

import (
	"fmt"

	"hedgerow/report/document"
	"hedgerow/report/wording"
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
	// since the beer before, with the errors that both share cancelled; null for it
	Change *wording.State `json:"change"`
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
		stages[i] = diluteStage{s.Name, wording.StateView(s.State), wording.EstimateView(s.CO2G),
			wording.ChangeView(s.Change, i > 0)}
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
			Change   *wording.State `json:"change"` // after less before; null without additions
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
		}{stages[0].State, last.State, last.Change, factor, stages, withoutView(d), pressureOrNil(d.Pressure),
			d.Largest(), method,
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
			// a row of dashes tells nothing: a beer of which no bitterness was given has no such line
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
	t.Rows = append(t.Rows, changeRow(stages)...)
	row("  from the inputs alone", func(s wording.State) string { return document.PlusMinusOrDash(s.ABVInputsPct, 1, 2) })
	row("real extract, %", func(s wording.State) string { return document.PlusMinusOrDash(s.RealExtractPct, 1, 2) })
	row("bitterness, IBU", func(s wording.State) string { return document.PlusMinusOrDash(s.IBU, 1, 2) })
	row("colour, SRM", func(s wording.State) string { return document.PlusMinusOrDash(s.SRM, 1, 2) })
	row("CO2, volumes", func(s wording.State) string { return document.PlusMinusOrDash(s.CO2Volumes, 1, 2) })
	sec := document.Section{Table: &t, Notes: wordsOf(d.Warnings)}
	// first: it answers what people ask for, and the other notes are on how sure it is
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
		// less would print as 0 g
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

// changeRow is the change of the strength since the beer before, one row, none
// without additions.
func changeRow(stages []diluteStage) [][]string {
	if len(stages) < 2 {
		return nil
	}
	cells := []string{"  change"}
	for _, s := range stages {
		cells = append(cells, strengthChange(s.Change))
	}
	return [][]string{cells}
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
