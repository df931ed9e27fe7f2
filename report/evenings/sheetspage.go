package evenings

import (
	_ "embed"
	"html/template"
	"io"

	"hedgerow/report/document"
)

//go:embed pages/sheets.html
var sheetsPage string

// WriteSheets draws score sheets for printing, a page for each taster and
// flight, with lines of exactly 100 mm so that a ruler reads the score.
func WriteSheets(w io.Writer, s ScoreSheets) error {
	funcs := template.FuncMap{
		"heading": sheetHeading,
		"first":   func(page, flight int) bool { return page == 0 && flight == 0 },
		"tick":    func(points int) int { return 2 + 10*points },
	}
	return document.WritePage(w, sheetsPage, funcs, struct {
		ScoreSheets
		Help  string
		Ticks []int
		Likes []int
	}{s, sheetHelp, []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, []int{1, 2, 3, 4, 5, 6, 7, 8, 9}})
}
