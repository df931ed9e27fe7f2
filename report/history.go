package report

import (
	"hedgerow/report/document"
	"hedgerow/trials"
)

// History lists the writes that the journal keeps, the newest first: what undo
// takes back next, and what redo does again.
func History(list []trials.Written) document.View {
	t := document.Table{Columns: []document.Column{{Title: "written"}, {Title: "what", Wrap: true}, {Title: "state"}}}
	next := "undo takes this back"
	for _, w := range list {
		state := next
		switch {
		case w.Undone:
			state = "taken back"
		case w.Lost:
			state, next = "too old", ""
		default:
			next = ""
		}
		t.Rows = append(t.Rows, []string{w.At.Local().Format("2006-01-02 15:04"), w.What, state})
	}
	return document.ListView(list, "Nothing has been written yet.", t)
}
