package report

import (
	_ "embed"
	"html/template"
	"io"
	"strings"
)

//go:embed pages/document.html
var documentPage string

//go:embed pages/sheets.html
var sheetsPage string

//go:embed pages/style.css
var pageStyle string

// WriteHTML draws the document as one self-contained page made for printing: no
// scripts, no links, all columns shown.
func WriteHTML(w io.Writer, d Document) error {
	return writePage(w, documentPage, d)
}

// WriteSheetsHTML draws score sheets for printing, a page for each taster and
// flight, with lines of exactly 100 mm so that a ruler reads the score.
func WriteSheetsHTML(w io.Writer, s ScoreSheets) error {
	return writePage(w, sheetsPage, struct {
		ScoreSheets
		Help  string
		Ticks []int
		Likes []int
	}{s, sheetHelp, []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, []int{1, 2, 3, 4, 5, 6, 7, 8, 9}})
}

// writePage fills one of the pages.
func writePage(w io.Writer, page string, data any) error {
	t, err := template.New("page").Funcs(template.FuncMap{
		"style":   func() template.CSS { return template.CSS(pageStyle) },
		"lines":   func(cell string) []string { return strings.Split(cell, "\n") },
		"heading": sheetHeading,
		"first":   func(page, flight int) bool { return page == 0 && flight == 0 },
		"tick":    func(points int) int { return 2 + 10*points },
	}).Parse(page)
	if err != nil {
		return err
	}
	return t.Execute(w, data)
}
