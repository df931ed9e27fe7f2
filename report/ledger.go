package report

import (
	"time"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// ledgerStep is one step of a ledger as --json prints it.
type ledgerStep struct {
	Day   float64       `json:"day"`
	At    time.Time     `json:"at"`    // when it happened
	Batch string        `json:"batch"` // the beer
	Kind  string        `json:"kind"`  // what it is
	Name  string        `json:"name"`  // unique among records of its kind
	What  string        `json:"what"`
	PH    *ledgerPH     `json:"ph"`
	State wording.State `json:"state"` // the beer then
	// what an addition, or the fermentation in the package, changed; null for all else
	Change *wording.State `json:"change"`
	Doses  []ledgerDose   `json:"doses"`
}

// ledgerPH is a pH reading as --json prints it.
type ledgerPH struct {
	Value       float64 `json:"value"` // corrected
	Shown       float64 `json:"shown"`
	Calibration *string `json:"calibration"` // name of the one that corrects it
}

// phView is the pH of an event, nil where none was read.
func phView(n *trials.Notebook, e ledger.Event) *ledgerPH {
	if e.Reading == nil {
		return nil
	}
	p, ok := ledger.PHOf(n, *e.Reading)
	if !ok {
		return nil
	}
	v := ledgerPH{Value: p.Value, Shown: p.Shown}
	if p.By != nil {
		v.Calibration = &p.By.Name
	}
	return &v
}

// ledgerDose is the dose of one addition at a moment as --json prints it.
type ledgerDose struct {
	Addition  string                   `json:"addition"`
	Material  string                   `json:"material"` // key of the material
	Method    string                   `json:"method"`   // tea, cold-tea, tincture, contact ...
	Class     string                   `json:"class"`    // solute class, an index into ClassNames
	AsWeighed float64                  `json:"dose_g_per_l"`
	Effective map[string]figure.Stated `json:"effective_dose_g_per_l"`
}

// ledgerPayload is a ledger as --json prints it.
type ledgerPayload struct {
	Batch         string            `json:"batch"` // the beer
	Steps         []ledgerStep      `json:"steps"`
	LargestABV    string            `json:"largest_contribution_to_abv"`
	LargestVolume string            `json:"largest_contribution_to_volume"`
	Pressure      *pressureView     `json:"package_pressure"`      // null where nothing is known of the sugar left
	Conditioning  *conditioningView `json:"conditioning"`          // null where nothing ferments in the package
	Label         *labelView        `json:"label"`                 // null for a beer that is not packaged
	Draws         int               `json:"draws"`                 // behind the intervals
	Seed          uint64            `json:"seed"`                  // of the random numbers
	Explain       *explanation      `json:"explanation,omitempty"` // show how it was worked out
	Warnings      []string          `json:"warnings"`              // remarks, one sentence each
}

// Ledger shows the step by step account of a batch.
func Ledger(n *trials.Notebook, l ledger.Ledger, u quantity.Units) document.View {
	return ledgerView(n, l, u, false)
}

// ExplainedLedger shows the account with formulas, inputs and masses.
func ExplainedLedger(n *trials.Notebook, l ledger.Ledger, u quantity.Units) document.View {
	return ledgerView(n, l, u, true)
}

// ledgerView is the account, explained or not.
func ledgerView(n *trials.Notebook, l ledger.Ledger, u quantity.Units, explain bool) document.View {
	p := ledgerPayload{Batch: l.Batch.Name, Steps: ledgerSteps(n, l, u), Draws: l.Draws.N, Seed: l.Draws.Seed,
		Warnings: ledger.TextsOf(l.Warnings)}
	sections := []document.Section{ledgerTable(p.Steps, u)}
	sections[0].Pictures = ledgerPicture(l.Batch.Name, p.Steps, u)
	if d := doseSection(doseViews(l.Doses), "Effective dose at the end"); d != nil {
		if last := l.Steps[len(l.Steps)-1].At; l.StillIn() && last.After(n.Now) {
			d.Heading = "Effective dose on " + wording.DateText(last)
		} else if l.StillIn() {
			d.Heading = "Effective dose today"
		}
		sections = append(sections, *d)
	}
	last := &sections[len(sections)-1]
	p.Conditioning, p.Label = viewOfConditioning(l.Conditioning), labelOf(n, l)
	last.Notes = append(last.Notes, conditioningLines(l)...)
	last.Notes = append(last.Notes, p.Label.words()...)
	last.Notes = append(last.Notes, wordsOf(l.Warnings)...)
	if pressure, ok := ledger.PressureIn(n, l); ok {
		p.Pressure = viewOfPressure(pressure)
		// the figures are always in JSON; a beer that still ferments in the open builds up none, so no word is due
		if pressure.Matters() && concernsPressure(n, l) {
			last.Notes = append(last.Notes, PressureLines(pressure, u)...)
		}
	}
	// the account stands without it: what to measure better is advice on top
	if x, err := l.Explain(); err == nil {
		p.LargestABV, p.LargestVolume = x.LargestABV, x.LargestVolume
		last.Notes = append(last.Notes, leastCertain(x)...)
		if explain {
			p.Explain = ledgerExplanation(n, l, x)
			sections = append(sections, p.Explain.sections("after")...)
			sections = append(sections, steepSections(l)...)
		}
	}
	return document.View{Document: document.Document{Title: "Ledger of " + l.Batch.Name, Sections: sections},
		Payload: p, Figures: true}
}

// concernsPressure reports whether a word on pressure is due: the batch is
// packaged, or sugar went in late.
func concernsPressure(n *trials.Notebook, l ledger.Ledger) bool {
	if _, packaged := n.Packaged(l.Batch.ID); packaged {
		return true
	}
	return l.FermentableWentIn()
}

// ledgerSteps turns the steps into their printed form.
func ledgerSteps(n *trials.Notebook, l ledger.Ledger, u quantity.Units) []ledgerStep {
	start := l.Steps[0].At
	steps := make([]ledgerStep, len(l.Steps))
	for i, s := range l.Steps {
		change, changed := s.Change()
		what := wording.EventSentence(n, s.Event, u)
		if s.Kind == ledger.EventTasting {
			what += wording.DosesText(s.Doses)
		}
		steps[i] = ledgerStep{
			Change: wording.ChangeView(change, changed),
			Day:    s.At.Sub(start).Hours() / 24, At: s.At, Batch: s.Batch.Name, Kind: string(s.Kind), Name: s.Name,
			What: what, PH: phView(n, s.Event), State: wording.StateView(s.State()), Doses: doseViews(s.Doses),
		}
	}
	return steps
}

// doseViews turns doses into their printed form.
func doseViews(doses []ledger.Dose) []ledgerDose {
	list := make([]ledgerDose, 0, len(doses))
	for _, d := range doses {
		v := ledgerDose{Addition: d.Addition, Material: d.MaterialKey, Method: d.Method,
			Class: trials.ClassNames[d.Class], AsWeighed: d.AsWeighed, Effective: map[string]figure.Stated{}}
		for c, e := range d.GPerL[:trials.ShownClasses] {
			if view := wording.EstimateView(e); view != nil {
				v.Effective[trials.ClassNames[c]] = *view
			}
		}
		list = append(list, v)
	}
	return list
}

// ledgerTable is the table of steps.
func ledgerTable(steps []ledgerStep, u quantity.Units) document.Section {
	bitter := false
	for _, s := range steps {
		bitter = bitter || s.State.IBU != nil
	}
	t := document.Table{Columns: []document.Column{
		{Title: "day", Right: true}, {Title: "what happened", Wrap: true}, {Title: wording.VolumeUnit(u),
			Right: true}, {Title: "gravity", Right: true},
		// 80 columns hold what is read at every step; the rest shows on a wider page and in CSV
		{Title: "OG", Right: true, Wide: true}, {Title: "% vol", Right: true}, {Title: "RE %", Right: true, Wide: true},
		{Title: "IBU", Right: true, Wide: !bitter}, {Title: "SRM", Right: true, Wide: true},
		{Title: "change of % vol", Right: true, Wide: true},
	}}
	for _, s := range steps {
		t.Rows = append(t.Rows, []string{
			document.Fixed(s.Day, 0), s.What, wording.VolumeEstimate(s.State.VolumeL, u),
			document.GravityEstimate(s.State.GravitySG), document.GravityEstimate(s.State.OriginalSG),
			document.PlusMinusOrDash(s.State.ABVPct, 1, 2),
			document.PlusMinusOrDash(s.State.RealExtractPct, 1, 2), document.PlainEstimate(s.State.IBU,
				1), document.PlainEstimate(s.State.SRM, 1), strengthChange(s.Change),
		})
	}
	return document.Section{Table: &t}
}

// strengthChange is what a step changed of the strength, empty for one that
// changes nothing.
func strengthChange(change *wording.State) string {
	if change == nil {
		return ""
	}
	return document.SignedPlusMinus(change.ABVPct, 1, 2, 3)
}

// doseTotals are the rows of the materials that went in more than once: what all of it
// comes to. The limits add, since the doubts are mostly shared.
func doseTotals(doses []ledgerDose) [][]string {
	type total struct {
		weighed float64
		sum     figure.Stated
		times   int
		bounded bool
	}
	totals, order := map[string]total{}, []ledgerDose{}
	for _, d := range doses {
		e := d.Effective[d.Class]
		x, seen := totals[d.Material]
		if !seen {
			order = append(order, d)
			x.bounded = true
		}
		x.weighed, x.times = x.weighed+d.AsWeighed, x.times+1
		low, high := 0.0, 0.0
		if x.bounded = x.bounded && e.Low != nil && e.High != nil; x.bounded {
			if x.sum.Low != nil {
				low, high = *x.sum.Low, *x.sum.High
			}
			low, high = low+*e.Low, high+*e.High
		}
		x.sum = figure.Stated{Value: x.sum.Value + e.Value}
		if x.bounded {
			x.sum.Low, x.sum.High, x.sum.Level = &low, &high, e.Level
		}
		totals[d.Material] = x
	}
	var rows [][]string
	for _, d := range order {
		if x := totals[d.Material]; x.times > 1 {
			rows = append(rows, []string{d.Material, "together", document.Significant(x.weighed, 3), d.Class + " *",
				document.SignificantSpread(x.sum)})
		}
	}
	return rows
}

// doseSection is a table of effective doses, nil for none.
func doseSection(doses []ledgerDose, heading string) *document.Section {
	if len(doses) == 0 {
		return nil
	}
	t := document.Table{Columns: []document.Column{
		{Title: "material", Wrap: true}, {Title: "how"}, {Title: "as weighed g/L",
			Right: true}, {Title: "class"}, {Title: "effective g/L", Right: true},
	}}
	for _, d := range doses {
		for c, name := range trials.ClassNames[:trials.ShownClasses] {
			e, ok := d.Effective[name]
			if !ok {
				continue
			}
			row := []string{"", "", "", name, document.SignificantSpread(e)}
			// once for the classes of a dose, so that the eye finds where the next begins
			if c == 0 {
				row[0], row[1], row[2] = d.Material, d.Method, document.Significant(d.AsWeighed, 3)
			}
			if name == d.Class {
				row[3] += " *"
			}
			t.Rows = append(t.Rows, row)
		}
	}
	t.Rows = append(t.Rows, doseTotals(doses)...)
	return &document.Section{Heading: heading, Table: &t,
		Notes: []string{"the solute class that counts for the material; 95 % intervals. Effective dose is fully " +
			"extracted, as-dried material per litre: it puts unlike forms and steeps of ONE material on one scale."}}
}

// wordsOf puts warnings as footnotes; their codes are for programs.
func wordsOf(warnings []ledger.Warning) []string {
	notes := make([]string, len(warnings))
	for i, w := range warnings {
		notes[i] = w.Words()
	}
	return notes
}
