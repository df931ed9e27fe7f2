package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hedgerow/report/document"
	"hedgerow/trials/exchange"
)

// mergePayload is what --json prints of a merge.
type mergePayload struct {
	File     string            `json:"file"`     // as it was named
	New      map[string]int    `json:"new"`      // new records by kind
	Updated  int               `json:"updated"`  // records that the other side changed
	Same     int               `json:"same"`     // records that both have alike
	Asks     []exchange.Ask    `json:"asks"`     // changed on both sides
	Remarks  []exchange.Remark `json:"remarks"`  // what was renamed, joined or left
	Written  bool              `json:"written"`  // whether it is in the notebook now
	Warnings []string          `json:"warnings"` // the remarks, one sentence each
}

// MergeBrings reports whether a merge changes anything.
func MergeBrings(m exchange.Merged) bool {
	return len(m.Counts) > 0 || len(m.Update) > 0 || len(m.Add.Settings) > 0
}

// Merge shows what joining another notebook does or did.
func Merge(file string, m exchange.Merged, written bool) document.View {
	p := mergePayload{File: file, New: m.Counts, Updated: len(m.Update), Same: m.Same, Asks: listOf(m.Asks),
		Remarks: listOf(m.Remarks), Written: written, Warnings: []string{}}
	for _, r := range m.Remarks {
		p.Warnings = append(p.Warnings, r.Text)
	}
	state := "nothing is written yet"
	switch {
	case written:
		state = "written; `hedgerow undo` takes it back"
	case len(m.Asks) > 0:
		state = "nothing is written before the questions below are answered"
	}
	said := fmt.Sprintf("%s: %s the same in both, %d changed by them, %d to be asked; %s.", file,
		document.Count(m.Same, "record"), len(m.Update), len(m.Asks), state)
	if !MergeBrings(m) && len(m.Asks) == 0 {
		said = file + " brings nothing new."
	}
	first := document.Section{Paragraphs: []string{said}, Notes: p.Warnings}
	if len(m.Counts) > 0 {
		t := document.Table{Columns: []document.Column{{Title: "kind"}, {Title: "new", Right: true}}}
		for kind, count := range m.Counts {
			t.Rows = append(t.Rows, []string{strings.ReplaceAll(kind, "_", " "), strconv.Itoa(count)})
		}
		slices.SortFunc(t.Rows, slices.Compare)
		first.Table = &t
	}
	d := document.Document{Sections: []document.Section{first}}
	if len(m.Asks) > 0 {
		d.Sections = append(d.Sections, bothChanged(m.Asks))
	}
	return document.View{Document: d, Payload: p}
}

// bothChanged lists what was changed on both sides, figure by figure.
func bothChanged(list []exchange.Ask) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "record"}, {Title: "figure"}, {Title: "ours", Wrap: true},
		{Title: "theirs", Wrap: true}}}
	for _, a := range list {
		for _, f := range a.Fields {
			t.Rows = append(t.Rows, []string{a.Key, f.Name, valueText(f.Ours), valueText(f.Theirs)})
		}
	}
	return document.Section{Heading: "Changed on both sides", Table: &t,
		Notes: []string{fmt.Sprintf("say which counts, such as --answer %q or --answer %q", list[0].Key+"=ours",
			list[0].Key+"=theirs")}}
}

// valueText prints a figure of a record, a dash for none.
func valueText(v any) string {
	if v == nil || v == "" {
		return "-"
	}
	return fmt.Sprint(v)
}
