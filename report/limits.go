package report

import (
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
)

// limitSection quotes legal limits with their date.
func limitSection(limits []trials.Limit) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "substance", Wrap: true}, {Title: "in", Wrap: true},
		{Title: "most", Right: true, Wrap: true}, {Title: "where and by what", Wrap: true}, {Title: "evidence", Wrap: true}}}
	for _, l := range limits {
		t.Rows = append(t.Rows, []string{l.Substance, l.FoodCategory, most(l), l.Jurisdiction + ": " + instrument(l),
			wording.Evidence(l.Evidence, l.SourceID)})
	}
	notes := []string{"check the current local code; whether a beer complies is not worked out here", evidenceNote}
	return document.Section{Heading: "Legal limits, as quoted", Table: &t, Notes: append(notes, secondHand(limits)...)}
}

// secondHand returns what is known of how the secondary rows came about, each
// remark once.
func secondHand(limits []trials.Limit) []string {
	var notes []string
	for _, l := range limits {
		note := wording.Citation(l.SourceID) + ": " + l.Note
		if l.Evidence == trials.EvidenceSecondary && l.Note != "" && !slices.Contains(notes, note) {
			notes = append(notes, note)
		}
	}
	return notes
}

// evidenceNote explains the words of the column evidence.
const evidenceNote = "read: the source was read for this table; secondary: another text reports it, the original " +
	"was not seen; named, not reopened: an older reading"

// most is the level of a limit with its unit, in words if it was not seen.
func most(l trials.Limit) string {
	if l.MaxLevel == "" {
		return "not seen"
	}
	return strings.TrimSpace(l.MaxLevel + " " + l.Unit)
}

// instrument names the law of a limit with its article and the version quoted.
func instrument(l trials.Limit) string {
	text := l.Instrument
	// some names of laws hold their article already
	if !strings.Contains(text, l.Article) {
		text += ", " + l.Article
	}
	return text + ", " + l.Version
}

// limitRow is a legal limit as --json prints it.
type limitRow struct {
	Jurisdiction string `json:"jurisdiction"`
	Instrument   string `json:"instrument"`
	Date         string `json:"date"` // day of the evening
	Substance    string `json:"substance"`
	Food         string `json:"food_category"`
	Most         string `json:"max_level"`
	Unit         string `json:"unit"` // of the figure
	Status       string `json:"status"`
	Article      string `json:"article"`
	Version      string `json:"version"`  // of the text that was read or reported
	Evidence     string `json:"evidence"` // read or secondary
	Source       string `json:"source"`
	Note         string `json:"note"`
}

// limitRows turns limits into their printed form.
func limitRows(list []trials.Limit) []limitRow {
	rows := make([]limitRow, len(list))
	for i, l := range list {
		rows[i] = limitRow{l.Jurisdiction, l.Instrument, l.Date, l.Substance, l.FoodCategory, l.MaxLevel, l.Unit, l.Status,
			l.Article, l.Version, l.Evidence, l.SourceID, l.Note}
	}
	return rows
}
