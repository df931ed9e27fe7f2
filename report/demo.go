package report

import (
	"fmt"

	"hedgerow/report/document"
)

// Demo puts the views of the demo behind each other, marked as invented.
func Demo(path string, ledger, comparison, suggestion document.View) document.View {
	d := document.Document{Title: "An invented series: dried hibiscus in a pale wheat saison"}
	d.Sections = append(d.Sections, document.Section{Paragraphs: []string{
		"Nothing of this happened: brews, doses, tasters and scores are made up to show what hedgerow does. First " +
			"the account of one trial, then all trials side by side, then what to try next.",
	}})
	for _, v := range []document.View{ledger, comparison, suggestion} {
		// a copy: the heading is for the demo alone, and the view may be shown again
		sections := append([]document.Section{}, v.Document.Sections...)
		if sections[0].Heading == "" {
			sections[0].Heading = v.Document.Title
		} else {
			sections = append([]document.Section{{Heading: v.Document.Title}}, sections...)
		}
		d.Sections = append(d.Sections, sections...)
	}
	d.Sections = append(d.Sections, document.Section{Heading: "Look around", Paragraphs: []string{
		"The demo notebook is at " + path,
		fmt.Sprintf("Use it with: export HEDGEROW_DB=%s", path),
		"then: hedgerow batch list | hedgerow ledger hib-3 | hedgerow extract show cold-4 | hedgerow tasting show " +
			"spring | hedgerow suggest hibiscus --volume 12L | hedgerow demo --script",
	}})
	return document.View{Document: d, Payload: struct {
		Invented   bool     `json:"invented"`
		Notebook   string   `json:"notebook"`
		Ledger     any      `json:"ledger"`
		Comparison any      `json:"comparison"`
		Suggestion any      `json:"suggestion"`
		Warnings   []string `json:"warnings"`
	}{true, path, ledger.Payload, comparison.Payload, suggestion.Payload, []string{"every figure of this series is " +
		"invented"}}}
}
