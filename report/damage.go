package report

import (
	"fmt"

	"hedgerow/report/document"
	"hedgerow/trials"
)

// Damage shows what a check of the notebook found.
func Damage(found []trials.Damage) document.View {
	const most = 50 // a page that says enough; --json has all
	s := document.Section{Paragraphs: []string{"Nothing is damaged."}}
	if len(found) > 0 {
		t := document.Table{Columns: []document.Column{{Title: "record", Wrap: true}, {Title: "what is wrong", Wrap: true},
			{Title: "what to do", Wrap: true}}}
		for _, d := range found[:min(len(found), most)] {
			t.Rows = append(t.Rows, []string{d.Record, d.What, d.Do})
		}
		s = document.Section{Paragraphs: []string{"Found: " + document.Count(len(found), "problem") + "."}, Table: &t}
		if len(found) > most {
			s.Notes = []string{fmt.Sprintf("%d more; --json lists all", len(found)-most)}
		}
	}
	return document.View{Document: document.Document{Sections: []document.Section{s}}, Payload: struct {
		OK       bool            `json:"ok"`
		Problems []trials.Damage `json:"problems"`
	}{len(found) == 0, append([]trials.Damage{}, found...)}}
}
