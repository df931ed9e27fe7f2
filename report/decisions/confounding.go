package decisions

import (
	"fmt"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// difference is something beside the dose in which the trials differed.
type difference struct {
	What   string              `json:"what"`
	Groups map[string][]string `json:"trials_by_value"`
	order  []string
}

// factors are the things that may differ between trials beside the dose.
func factors(u quantity.Units) []struct {
	name string
	of   func(ledger.Trial) string
} {
	return []struct {
		name string
		of   func(ledger.Trial) string
	}{
		{"brew", func(t ledger.Trial) string { return t.Group }},
		{"kind", func(t ledger.Trial) string { return t.Batch.Kind }},
		{"style", func(t ledger.Trial) string { return t.Style }},
		{"method", func(t ledger.Trial) string { return t.Method }},
		{"form", func(t ledger.Trial) string { return firstUse(t, u).form }},
		{"lot", func(t ledger.Trial) string { return firstUse(t, u).lot }},
		{"temperature", func(t ledger.Trial) string { return firstUse(t, u).temp }},
		{"stage", func(t ledger.Trial) string { return firstUse(t, u).stage }},
		{"liquid added, per cent", func(t ledger.Trial) string { return addedShare(t) }},
		{"tasted on", func(t ledger.Trial) string { return tastedOn(t) }},
		{"age when tasted", func(t ledger.Trial) string { return ageBand(t) }},
	}
}

// use is how a material went into a trial for the first time.
type use struct{ form, lot, temp, stage string }

// firstUse looks at the first addition of the material.
func firstUse(t ledger.Trial, u quantity.Units) use {
	if len(t.Uses) == 0 {
		return use{}
	}
	a, x := t.Uses[0].Addition, t.Uses[0].Extract
	first := use{form: a.Form, lot: a.Lot, stage: a.Stage}
	if a.StartC != nil {
		first.temp = wording.TempText(*a.StartC, u)
	}
	if x != nil {
		first.form, first.lot = x.Form, x.Lot
		if len(x.Passes) > 0 {
			first.temp = wording.TempText(x.Passes[0].StartC, u)
		}
	}
	return first
}

// addedShare is the added liquid in per cent of the trial, rounded.
func addedShare(t ledger.Trial) string {
	if len(t.Ledger.Steps) == 0 {
		return ""
	}
	return document.Fixed(100*t.AddedShare, 0)
}

// tastedOn lists the days on which a trial was tasted.
func tastedOn(t ledger.Trial) string {
	var days []string
	for _, at := range t.TastedAt {
		days = append(days, wording.DateText(at))
	}
	return strings.Join(days, " and ")
}

// ageBand is the age at the first tasting in whole weeks.
func ageBand(t ledger.Trial) string {
	days := ageOf(t)
	if days == nil {
		return ""
	}
	return fmt.Sprintf("%.0f weeks", *days/7)
}

// confounding lists what differed between the trials with a dose, beside the
// dose.
func confounding(s ledger.TrialSet, u quantity.Units) []difference {
	list := []difference{}
	for _, f := range factors(u) {
		d := difference{What: f.name, Groups: map[string][]string{}}
		for _, t := range s.Trials {
			v := f.of(t)
			// a control differs by being one, and what was not logged may well be the same
			if t.Control || v == "" {
				continue
			}
			if _, seen := d.Groups[v]; !seen {
				d.order = append(d.order, v)
			}
			d.Groups[v] = append(d.Groups[v], t.Batch.Name)
		}
		if len(d.Groups) > 1 {
			// by value, so that the order of the records does not show
			slices.Sort(d.order)
			list = append(list, d)
		}
	}
	return list
}

// differedTable is the table of what else differed.
func differedTable(list []difference) document.Section {
	if len(list) == 0 {
		return document.Section{Heading: "What else differed",
			Paragraphs: []string{"Nothing that was logged: the trials differ in dose alone."}}
	}
	t := document.Table{Columns: []document.Column{{Title: "what"}, {Title: "trials", Wrap: true}}}
	for _, d := range list {
		var parts []string
		for _, v := range d.order {
			parts = append(parts, v+": "+strings.Join(d.Groups[v], ", "))
		}
		t.Rows = append(t.Rows, []string{d.What, strings.Join(parts, "; ")})
	}
	return document.Section{Heading: "What else differed between the trials with a dose",
		Paragraphs: []string{"Each of these could explain a difference as well as the dose does."}, Table: &t}
}
