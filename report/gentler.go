package report

import (
	"strconv"

	"hedgerow/report/document"
	"hedgerow/trials/steeps"
)

// gentleRow is one way to less astringency, as --json prints it.
type gentleRow struct {
	Place   int      `json:"place"`
	Change  string   `json:"change"`
	Kept    string   `json:"wanted_kept"` // how much of the wanted family still comes out, in words
	Grade   string   `json:"grade"`
	Because string   `json:"because"`
	Against []string `json:"against"`
}

// Gentler shows what would give less astringency at the same dose of a family: places
// and what they rest on, no ratios.
func Gentler(ways []steeps.GentleWay, wanted string) document.View {
	rows, said := []gentleRow{}, map[string]bool{}
	t := document.Table{Columns: []document.Column{{Title: "place", Right: true}, {Title: "change", Wrap: true},
		{Title: wanted}, {Title: "grade"}}}
	var why []string
	for _, w := range ways {
		rows = append(rows, gentleRow{w.Place, w.What, w.Kept, w.Grade, w.Because, append([]string{}, w.Against...)})
		t.Rows = append(t.Rows, []string{strconv.Itoa(w.Place), w.What, w.Kept, w.Grade})
		// several ways rest on the same: it is said once
		if text := w.What + ": " + w.Because; !said[w.Because] {
			why = append(why, text)
		}
		said[w.Because] = true
		for _, a := range w.Against {
			if !said[a] {
				why = append(why, "against "+w.What+": "+a)
			}
			said[a] = true
		}
	}
	notes := append(why, "places, not amounts: how much less is not known to a factor of 1.5; take more of the material "+
		"where less "+wanted+" comes out, and taste", "unsupported: "+steeps.Unsupported)
	section := document.Section{Heading: "Less astringency at the same " + wanted, Table: &t, Notes: notes}
	if len(rows) == 0 {
		section.Table, section.Paragraphs = nil, []string{"Nothing more: of what is known, nothing makes it gentler."}
	}
	return document.View{Document: document.Document{Sections: []document.Section{section}}, Payload: struct {
		Wanted      string      `json:"wanted"`
		Ways        []gentleRow `json:"ways"`
		Unsupported []string    `json:"unsupported"`
		Warnings    []string    `json:"warnings"`
	}{wanted, rows, []string{steeps.Unsupported}, []string{}}}
}
