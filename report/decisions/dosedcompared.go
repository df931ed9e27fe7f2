package decisions

import (
	"fmt"
	"slices"

	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// dosedRow is a glass that was dosed to taste, as --json prints it.
type dosedRow struct {
	Tasting   string   `json:"tasting"`            // the evening
	For       string   `json:"attribute"`          // what the dose was to be right for
	Taster    string   `json:"taster"`             // who dosed it
	Direction string   `json:"direction"`          // up or down
	Used      bool     `json:"used"`               // with the very extract that goes into the beer
	Method    string   `json:"method"`             // of the extract: tea, cold-tea, tincture
	TooLittle *float64 `json:"too_little_g_per_l"` // going down, where it was too little for the first time
	Right     *float64 `json:"right_g_per_l"`      // where it was just right for the first time
	TooMuch   *float64 `json:"too_much_g_per_l"`   // going up, where it was too much for the first time
	Stopped   *float64 `json:"stopped_at_g_per_l"` // the last dose that was tasted
}

// dosedRows lists the glasses of closed evenings of dosing to taste.
func dosedRows(s ledger.TrialSet) []dosedRow {
	rows := []dosedRow{}
	for _, d := range s.Dosed {
		r := dosedRow{Tasting: d.Tasting.Name, For: d.Tasting.Attributes[0], Taster: d.Taster, Direction: d.Direction,
			Used: d.Used, Method: d.Method, Right: d.RightGPerL, Stopped: d.StoppedGPerL}
		if d.Direction == trials.DirectionDown {
			r.TooLittle = d.PastGPerL
		} else {
			r.TooMuch = d.PastGPerL
		}
		rows = append(rows, r)
	}
	return rows
}

// dosedSection is what the droppers said, glass by glass; nil without any.
func dosedSection(material string, rows []dosedRow) *document.Section {
	if len(rows) == 0 {
		return nil
	}
	t := document.Table{Columns: []document.Column{{Title: "tasting", Wrap: true}, {Title: "taster", Wrap: true},
		{Title: "glass"}, {Title: "too little\ng/L", Right: true}, {Title: "just right\ng/L", Right: true},
		{Title: "too much\ng/L", Right: true}, {Title: "last tasted\ng/L", Right: true}, {Title: "for", Wide: true},
		{Title: "extract", Wide: true}}}
	var right []float64
	said := false // anything but where a taster gave up
	for _, r := range rows {
		said = said || r.TooLittle != nil || r.Right != nil || r.TooMuch != nil
		extract := r.Method + " made for the evening"
		if r.Used {
			extract = r.Method + " that goes in"
		}
		row := []string{r.Tasting, r.Taster, r.Direction}
		for _, dose := range []*float64{r.TooLittle, r.Right, r.TooMuch, r.Stopped} {
			row = append(row, document.SignificantOrDash(dose, 2))
		}
		t.Rows = append(t.Rows, append(row, r.For, extract))
		if r.Right != nil {
			right = append(right, *r.Right)
		}
	}
	sec := document.Section{Heading: "Dosed to taste", Table: &t, Notes: []string{
		"effective g/L at the first step that was called so; a glass goes up to too much, or down to too little"}}
	if said {
		sec.Notes = append(sec.Notes, "hedgerow suggest "+material+
			" weighs these glasses: a dose is called a little early, up and down")
	}
	if len(right) > 0 {
		sec.Paragraphs = []string{fmt.Sprintf("%s: just right at %s to %s g/L.", document.Capital(document.Count(len(rows),
			"glass")), document.Significant(slices.Min(right), 2), document.Significant(slices.Max(right), 2))}
	}
	return &sec
}
