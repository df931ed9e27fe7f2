package decisions

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/studies"
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

// factor is something that may differ between trials beside the dose; of tells
// what a trial has, "" where that is not known.
type factor struct {
	name string
	of   func(i int, t ledger.Trial) string
}

// factors are the things that may differ between the trials of a set: those that
// every trial has, and then what is in some of the beers beside the material.
func factors(s ledger.TrialSet, u quantity.Units) []factor {
	first := func(t ledger.Trial) studies.Use { return studies.FirstUse(t, u) }
	list := []factor{
		{"brew", func(_ int, t ledger.Trial) string { return t.Group }},
		{"kind", func(_ int, t ledger.Trial) string { return t.Batch.Kind }},
		{"style", func(_ int, t ledger.Trial) string { return t.Style }},
		{"method", func(_ int, t ledger.Trial) string { return t.Method }},
		{"form", func(_ int, t ledger.Trial) string { return first(t).Form }},
		{"lot", func(_ int, t ledger.Trial) string { return first(t).Lot }},
		{"temperature", func(_ int, t ledger.Trial) string { return first(t).Temp }},
		{"stage", func(_ int, t ledger.Trial) string { return first(t).Stage }},
		{"time of contact", func(_ int, t ledger.Trial) string { return contactText(t) }},
		{"liquid added, per cent", func(_ int, t ledger.Trial) string { return addedShare(t) }},
		{"tasted on", func(_ int, t ledger.Trial) string { return tastedOn(t) }},
		{"age when tasted", func(_ int, t ledger.Trial) string { return ageBand(t) }},
	}
	others := studies.Besides(s)
	for _, name := range slices.Sorted(maps.Keys(others)) {
		list = append(list, factor{name, func(i int, _ ledger.Trial) string { return others[name][i] }})
	}
	return list
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
	days := studies.AgeOf(t)
	if days == nil {
		return ""
	}
	return fmt.Sprintf("%.0f weeks", *days/7)
}

// contactText is how long the material was in the beer at the first tasting, in
// days.
func contactText(t ledger.Trial) string {
	days := studies.ContactWhenTasted(t)
	if days == nil {
		return ""
	}
	return document.Significant(*days, 2) + " days"
}

// confounding lists what differed between the trials with a dose, beside the
// dose.
func confounding(s ledger.TrialSet, u quantity.Units) []difference {
	list := []difference{}
	for _, f := range factors(s, u) {
		d := difference{What: f.name, Groups: map[string][]string{}}
		for i, t := range s.Trials {
			v := f.of(i, t)
			// a control differs by being one, and what was not logged may well be the same
			if t.Control || v == "" {
				continue
			}
			if _, seen := d.Groups[v]; !seen {
				d.order = append(d.order, v)
			}
			d.Groups[v] = append(d.Groups[v], t.Name())
		}
		if len(d.Groups) > 1 {
			// by value, so that the order of the records does not show
			slices.Sort(d.order)
			list = append(list, d)
		}
	}
	return list
}

// differedTable is the table of what else differed between the trials with a
// dose, of which there are as many as dosed says.
func differedTable(list []difference, dosed int) document.Section {
	if dosed < 2 {
		return document.Section{Heading: "What else differed",
			Paragraphs: []string{"There is " + document.Count(dosed, "trial") + " with a dose: nothing to set beside another."}}
	}
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
