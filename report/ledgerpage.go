package report

import (
	"fmt"
	"slices"
	"strconv"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/quantity"
)

// LedgerPage lays the view of a ledger out as a page: what the beer is now, what each
// addition did, the days as a picture, and the steps with their numbers.
func LedgerPage(n *trials.Notebook, v document.View, u quantity.Units) document.Document {
	p := v.Payload.(ledgerPayload)
	d := document.Document{Made: n.Settings[trials.SettingHeading], Foot: "hedgerow ledger " + p.Batch + ", written on " +
		wording.DateText(n.Now) + ". 95 % limits after ±."}
	first, last := p.Steps[0], p.Steps[len(p.Steps)-1]
	d.Over = fmt.Sprintf("Ledger of %s, %s to %s", p.Batch, wording.DateText(first.At), wording.DateText(last.At))
	d.Title = p.Batch + ": " + wording.VolumeEstimate(last.State.VolumeL, u) + " " + wording.VolumeUnit(u)
	if last.State.ABVPct != nil {
		d.Title += " at " + document.PlusMinus(*last.State.ABVPct, 1, 1) + " % vol"
	}
	if did := additionsDid(p.Steps, u); did != nil {
		d.Sections = append(d.Sections, *did)
		d.Lead = oneAddition(p.Steps, u)
	}
	sections := slices.Clone(v.Document.Sections)
	steps := sections[0]
	d.Sections = append(d.Sections, document.Section{Heading: "Over the days", Pictures: steps.Pictures})
	steps.Heading, steps.Pictures, steps.Table = "Step by step", nil, numbered(*steps.Table)
	// what was in a beer that was tasted at another age is in the doses below
	d.Sections = append(append(d.Sections, steps), sections[1:]...)
	if len(d.Sections[slices.IndexFunc(d.Sections, isDays)].Pictures) == 0 {
		d.Sections = slices.DeleteFunc(d.Sections, isDays)
	}
	return d
}

// oneAddition says what the only addition did; empty where there were several.
func oneAddition(steps []ledgerStep, u quantity.Units) string {
	i := slices.IndexFunc(steps, isAddition)
	if i < 1 || slices.ContainsFunc(steps[i+1:], isAddition) {
		return ""
	}
	before, after := steps[i-1].State, steps[i].State
	if before.ABVPct == nil || after.ABVPct == nil || before.VolumeL == nil || after.VolumeL == nil {
		return ""
	}
	added := wording.VolumeText(after.VolumeL.Value-before.VolumeL.Value, u)
	from, to := document.Fixed(before.ABVPct.Value, 1), document.Fixed(after.ABVPct.Value, 1)
	if from == to {
		return "The addition brought " + added + " and left the beer at " + to + " % vol."
	}
	return "The addition brought " + added + " and took the beer from " + from + " to " + to + " % vol."
}

// isDays reports whether a section is that of the picture.
func isDays(s document.Section) bool { return s.Heading == "Over the days" }

// numbered puts the numbers of the steps before a table of them, as the picture has them.
func numbered(t document.Table) *document.Table {
	out := document.Table{Columns: append([]document.Column{{Title: "step", Right: true}}, t.Columns...)}
	for i, r := range t.Rows {
		out.Rows = append(out.Rows, append([]string{strconv.Itoa(i + 1)}, r...))
	}
	return &out
}

// additionsDid is what each addition did to the beer; nil without any.
func additionsDid(steps []ledgerStep, u quantity.Units) *document.Section {
	t := document.Table{Columns: []document.Column{{Title: "what went in", Wrap: true},
		{Title: wording.VolumeUnit(u) + " before", Right: true}, {Title: wording.VolumeUnit(u) + " after", Right: true},
		{Title: "% vol before", Right: true}, {Title: "% vol after", Right: true}, {Title: "change of % vol", Right: true}}}
	for i, s := range steps {
		if !isAddition(s) || i == 0 {
			continue
		}
		before := steps[i-1].State
		t.Rows = append(t.Rows, []string{s.What, wording.VolumeEstimate(before.VolumeL, u),
			wording.VolumeEstimate(s.State.VolumeL, u), document.PlusMinusOrDash(before.ABVPct, 1, 1),
			document.PlusMinusOrDash(s.State.ABVPct, 1, 1), strengthChange(s.Change)})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	heading := "What the addition did"
	if len(t.Rows) > 1 {
		heading = "What the additions did"
	}
	return &document.Section{Heading: heading, Table: &t, Side: "95 % limits. A change is known better than the two " +
		"figures: they share their errors."}
}
