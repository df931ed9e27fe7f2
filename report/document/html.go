package document

import (
	_ "embed"
	"html/template"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"hedgerow/report/plot"
)

//go:embed pages/document.html
var documentPage string

//go:embed pages/style.css
var pageStyle string

//go:embed pages/look.css
var pageLook string

// WriteHTML draws the document as one self-contained page for phone, desk and paper: no
// scripts, no links, pictures in it.
func WriteHTML(w io.Writer, d Document) error {
	return WritePage(w, documentPage, nil, d.cleaned())
}

// WritePage fills a page, an HTML template, with data. Beside the functions
// given, the page has style, the style sheet of sheets to write on, look, that of pages
// to read, and those that draw the parts of a document.
func WritePage(w io.Writer, page string, funcs template.FuncMap, data any) error {
	known := template.FuncMap{
		// our own sheets, not a reader's text: the template would else blank them as unsafe
		"style": func() template.CSS { return template.CSS(pageStyle) },
		"look":  func() template.CSS { return template.CSS(pageLook) },
		// our own drawings, whose texts package plot has made harmless
		"picture": func(p plot.Plot) template.HTML { return template.HTML(p.SVG()) },
		"hundred": func(v []int) template.HTML { return template.HTML(plot.Hundred(v[0], v[1], v[2])) },
		"squares": squares,
		"glyph":   func(k Key) template.HTML { return template.HTML(plot.Glyph(k.Shape, k.Ink)) },
		"lines":   func(cell string) []string { return strings.Split(cell, "\n") },
		"cut":     cut,
		"bound":   bound,
		"brief":   func(cell string) bool { return utf8.RuneCountInString(cell) <= 16 },
		"shown":   func(t Table) Table { return t.only(func(c Column) bool { return c.Paper || !c.Wide }) },
		"classes": classes,
		"stacks":  func(t Table) bool { return len(t.Columns) > 3 },
		"one":     func(s string) string { return strings.Join(strings.Fields(s), " ") },
		"ballots": func(t Table) bool {
			return slices.ContainsFunc(t.Columns, func(c Column) bool { return c.Ballot != plot.NoBallot })
		},
	}
	maps.Copy(known, funcs)
	t, err := template.New("page").Funcs(known).Parse(page)
	if err != nil {
		return err
	}
	return t.Execute(w, data)
}

// classes are the names under which the style sheet knows a section.
func classes(s Section) string {
	var names []string
	for _, c := range []struct {
		is   bool
		name string
	}{{s.Heading == "", "plain"}, {s.NewPage, "newpage"}, {s.Folded, "long"}} {
		if c.is {
			names = append(names, c.name)
		}
	}
	return strings.Join(names, " ")
}

// squares draws the votes of a cell.
func squares(b plot.Ballot, cell string) template.HTML {
	n, err := strconv.Atoi(cell)
	if err != nil {
		return ""
	}
	return template.HTML(plot.Squares(n, b))
}

// cut parts the value of a line of a cell from its doubt, which a page prints smaller:
// "4.72" from "±0.28", "1.3" from "(0.9 to 1.5)".
func cut(line string) [2]string {
	for _, sign := range []string{" ±", " ("} {
		if value, doubt, ok := strings.Cut(line, sign); ok && isNumber(value) {
			return [2]string{value, strings.TrimPrefix(sign, " ") + doubt}
		}
	}
	return [2]string{line}
}
