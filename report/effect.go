package report

import (
	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

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
	// the step before, not the state at the time: additions of one moment follow each other in the books
	before, after := wording.StateView(l.Steps[max(at-1, 0)].State()), wording.StateView(step.State())
	change, changed := step.Change()
	e := effect{before: before, after: after, change: wording.ChangeView(change, changed)}
	if l.Conditioning != nil {
		e.conditioned = new(wording.StateView(l.Last().State()))
	}
	var warnings []ledger.Warning
	for _, w := range l.Warnings {
		// of the batch's other warnings nothing is new: they were told when what they are about was logged
		if w.Record == a.Name || w.Code == ledger.CodeUnread {
			w.Record = "" // the whole answer is about it
			warnings = append(warnings, w)
		}
	}
	sections := []document.Section{{Paragraphs: []string{"logged " + a.Name + ": " + wording.AdditionSentence(n, a, u)},
		Table: e.table(u), Notes: append(conditionedNotes(n, l), wordsOf(warnings)...)}}
	doses, heading := doseViews(dosesOf(step.Doses, a.Name)), "Effective dose"
	if a.IsPlant() && !a.InWort() {
		// At its own moment it has given nothing yet.
		doses, heading = doseViews(dosesOf(l.Doses, a.Name)), "Effective dose so far"
		if _, out := a.TakenOut(); out {
			heading = "Effective dose when it is taken out"
		}
	}
	if d := doseSection(doses, heading); d != nil {
		sections = append(sections, *d)
	}
	return document.View{
		Document: document.Document{Sections: sections},
		Payload: struct {
			Saved  trials.Addition `json:"saved"`
			Before wording.State   `json:"before"`
			After  wording.State   `json:"after"`
			Change *wording.State  `json:"change"` // after less before; null for what changes nothing
			// as it is expected after fermentation in the package; null where nothing ferments
			Conditioned  *wording.State    `json:"after_conditioning"`
			Conditioning *conditioningView `json:"conditioning"`
			Label        *labelView        `json:"label"`
			AddedL       float64           `json:"added_l"`
			Doses        []ledgerDose      `json:"doses"`
			Warnings     []string          `json:"warnings"`
		}{a, before, after, e.change, e.conditioned, viewOfConditioning(l.Conditioning), labelOf(n, l), step.AddedL, doses,
			append(ledger.TextsOf(warnings), told...)},
	}
}

// effect is a batch around an addition: before and after it, what it changed, and
// as it is expected after fermentation in the package; nil where that does not
// apply.
type effect struct {
	before, after       wording.State
	change, conditioned *wording.State
}

// effectFigure is one row of the table of an effect.
type effectFigure struct {
	name            string
	of              func(wording.State) *figure.Stated
	atLeast, atMost int // decimals
	changeFinest    int // decimals that a change may have, being known better
}

// effectFigures are the rows; the volume is one of its own, having units.
var effectFigures = []effectFigure{
	{"gravity", func(s wording.State) *figure.Stated { return s.GravitySG }, 3, 4, 4},
	{"equivalent OG", func(s wording.State) *figure.Stated { return s.OriginalSG }, 3, 4, 4},
	{"strength, % vol", func(s wording.State) *figure.Stated { return s.ABVPct }, 1, 2, 3},
	{"bitterness, IBU", func(s wording.State) *figure.Stated { return s.IBU }, 1, 2, 2},
}

// table puts the states beside one another.
func (e effect) table(u quantity.Units) *document.Table {
	t := document.Table{Columns: []document.Column{{Title: ""}, {Title: "before", Right: true},
		{Title: "after", Right: true}}}
	if e.change != nil {
		t.Columns = append(t.Columns, document.Column{Title: "change", Right: true})
	}
	if e.conditioned != nil {
		t.Columns = append(t.Columns, document.Column{Title: "conditioned", Right: true})
	}
	row := func(name string, cell func(wording.State) string, changed func(wording.State) string) {
		cells := []string{name, cell(e.before), cell(e.after)}
		if cells[1] == "-" && cells[2] == "-" {
			return
		}
		if e.change != nil {
			cells = append(cells, changed(*e.change))
		}
		if e.conditioned != nil {
			cells = append(cells, cell(*e.conditioned))
		}
		t.Rows = append(t.Rows, cells)
	}
	row("volume, "+wording.VolumeUnit(u), func(s wording.State) string { return wording.VolumeEstimate(s.VolumeL, u) },
		func(s wording.State) string { return wording.VolumeChange(s.VolumeL, u) })
	for _, f := range effectFigures {
		row(f.name, func(s wording.State) string { return document.PlusMinusOrDash(f.of(s), f.atLeast, f.atMost) },
			func(s wording.State) string {
				return document.SignedPlusMinus(f.of(s), f.atLeast, f.atMost, f.changeFinest)
			})
	}
	return &t
}

// conditionedNotes tell what ferments in the package and what to put on a label,
// none for a beer in which nothing does.
func conditionedNotes(n *trials.Notebook, l ledger.Ledger) []string {
	if l.Conditioning == nil {
		return nil
	}
	return append(conditioningLines(l), labelOf(n, l).words()...)
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
