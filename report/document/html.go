package document

import (
	_ "embed"
	"html/template"
	"io"
	"maps"
	"strings"
)

//go:embed pages/document.html
var documentPage string

//go:embed pages/style.css
var pageStyle string

// WriteHTML draws the document as one self-contained page made for printing: no
// scripts, no links, all columns shown.
func WriteHTML(w io.Writer, d Document) error {
	return WritePage(w, documentPage, nil, d)
}

// WritePage fills a page, an HTML template, with data. Beside the functions
// given, the page has style, the style sheet of all pages, and lines, which
// parts a cell at its line ends.
func WritePage(w io.Writer, page string, funcs template.FuncMap, data any) error {
	known := template.FuncMap{
		// our own sheet, not a reader's text: the template would else blank it as unsafe
		"style": func() template.CSS { return template.CSS(pageStyle) },
		"lines": func(cell string) []string { return strings.Split(cell, "\n") },
	}
	maps.Copy(known, funcs)
	t, err := template.New("page").Funcs(known).Parse(page)
	if err != nil {
		return err
	}
	return t.Execute(w, data)
}
