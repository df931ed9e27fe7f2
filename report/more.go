package report

import (
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials/figure"
	"hedgerow/trials/quantity"
	"hedgerow/trials/steeps"
)

// gainRow is one change to a steep as --json prints it.
type gainRow struct {
	Change  string        `json:"change"`
	Factor  figure.Stated `json:"dose_factor"`
	P       float64       `json:"p_gain"`
	Extra   float64       `json:"extra_liquid_ml"`
	Minutes float64       `json:"extra_minutes"` // how long
}

// gainRows turns changes into their printed form.
func gainRows(list []steeps.Gain) []gainRow {
	var rows []gainRow
	for _, g := range list {
		factor := figure.StatedExactly(g.Ratio.Value)
		if g.Ratio.Level > 0 {
			factor = figure.StatedBetween(g.Ratio.Value, g.Ratio.Low, g.Ratio.High, g.Ratio.Level)
		}
		rows = append(rows, gainRow{g.What, factor, g.P, g.ExtraML, g.ExtraMinutes})
	}
	return rows
}

// moreSection is the table of what would get more out.
func moreSection(list []steeps.Gain, u quantity.Units) document.Section {
	if len(list) == 0 {
		return document.Section{Heading: "What would get more out",
			Paragraphs: []string{"Nothing more: it is fully extracted."}}
	}
	t := document.Table{Columns: []document.Column{{Title: "change", Wrap: true},
		{Title: "effective dose\n(80 %)", Right: true}, {Title: "chance of\nany gain", Right: true},
		{Title: "more liquid", Right: true}, {Title: "more time", Right: true}}}
	var idle []string
	for _, g := range gainRows(list) {
		// listed in a sentence all the same: that a change was weighed and does nothing saves the trial
		if g.idle() {
			idle = append(idle, g.Change)
			continue
		}
		t.Rows = append(t.Rows, []string{g.Change, factorText(g.Factor), document.Chance(g.P), signedVolume(g.Extra, u),
			moreTime(g.Minutes)})
	}
	section := document.Section{Heading: "What would get more out", Table: &t,
		Notes: []string{"dose: times what it is now, added liquid counted in; chance of any gain: that the dose rises " +
			"at all"}}
	// a head without rows would look like a fault
	if len(t.Rows) == 0 {
		section.Table, section.Notes = nil, nil
	}
	if len(idle) > 0 {
		section.Paragraphs = []string{"Would change nothing to speak of: " + strings.Join(idle, "; ") + "."}
	}
	return section
}

// idle reports whether a change moves the dose by less than half a per cent either
// way.
func (g gainRow) idle() bool {
	const least = 0.005
	return g.Factor.Low != nil && *g.Factor.Low > 1-least && *g.Factor.High < 1+least
}

// factorText prints "x 1.24 (1.10 to 1.60)".
func factorText(e figure.Stated) string {
	if e.Low == nil {
		return "from nothing"
	}
	return "x " + document.Fixed(e.Value, 2) + " (" + document.Fixed(*e.Low, 2) + " to " + document.Fixed(*e.High, 2) + ")"
}

// signedVolume prints more or less liquid.
func signedVolume(ml float64, u quantity.Units) string {
	switch {
	case ml > 0.5:
		return "+" + wording.VolumeText(ml/1000, u)
	case ml < -0.5:
		return "-" + wording.VolumeText(-ml/1000, u)
	}
	return "-"
}

// moreTime prints more time.
func moreTime(minutes float64) string {
	if minutes < 0.5 {
		return "-"
	}
	return "+" + wording.DurationText(minutes)
}
