package document

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// WriteMarkdown draws the document as Markdown, all columns shown.
func WriteMarkdown(w io.Writer, d Document) error {
	d = d.cleaned()
	var b strings.Builder
	if d.Title != "" {
		fmt.Fprintf(&b, "# %s\n\n", escapeMarkdown(d.Title))
	}
	markdownFacts(&b, d)
	for _, s := range d.Sections {
		if !s.tells(Style{}) {
			continue
		}
		if s.Heading != "" {
			fmt.Fprintf(&b, "## %s\n\n", escapeMarkdown(s.Heading))
		}
		for _, p := range s.Paragraphs {
			fmt.Fprintf(&b, "%s\n\n", escapeMarkdown(p))
		}
		if s.Table != nil {
			markdownTable(&b, *s.Table)
		}
		for _, n := range s.Notes {
			fmt.Fprintf(&b, "- %s\n", escapeMarkdown(n))
		}
		if len(s.Notes) > 0 {
			b.WriteByte('\n')
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// markdownFacts draws what to know at a glance.
func markdownFacts(b *strings.Builder, d Document) {
	for _, line := range append([]string{d.Made, d.Lead}, d.Remarks...) {
		if line != "" {
			fmt.Fprintf(b, "%s\n\n", escapeMarkdown(line))
		}
	}
	for _, f := range d.Facts {
		fmt.Fprintf(b, "- **%s:** %s\n", escapeMarkdown(f.Term), escapeMarkdown(f.Text))
	}
	if len(d.Facts) > 0 {
		b.WriteByte('\n')
	}
}

// markdownTable draws one table.
func markdownTable(b *strings.Builder, t Table) {
	rule := make([]string, len(t.Columns))
	head := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		head[i], rule[i] = c.Title, "---"
		if c.Right {
			rule[i] = "---:"
		}
	}
	markdownRow(b, head)
	fmt.Fprintf(b, "| %s |\n", strings.Join(rule, " | "))
	for _, r := range t.Rows {
		markdownRow(b, r)
	}
	b.WriteByte('\n')
}

// markdownRow draws one row of cells.
func markdownRow(b *strings.Builder, cells []string) {
	out := make([]string, len(cells))
	for i, c := range cells {
		// a line end would end the row: tables of Markdown have no other way
		out[i] = strings.ReplaceAll(escapeMarkdown(c), "\n", "<br>")
	}
	fmt.Fprintf(b, "| %s |\n", strings.Join(out, " | "))
}

// escapeMarkdown keeps text from being read as markup: punctuation gets a
// backslash, signs of HTML become entities (CommonMark 2.4 and 2.5).
func escapeMarkdown(s string) string {
	return strings.NewReplacer(`\`, `\\`, "|", `\|`, "*", `\*`, "_", `\_`, "`", "\\`", "[", `\[`, "]", `\]`, "#", `\#`,
		"~", `\~`,
		"&", "&amp;", "<", "&lt;", ">", "&gt;").Replace(s)
}

// WriteCSV writes the first table of the document with all its columns, each
// cell on one line. A cell that a spreadsheet would take for a formula gets an
// apostrophe in front.
func WriteCSV(w io.Writer, d Document) error {
	out := csv.NewWriter(w)
	for _, s := range d.Sections {
		if s.Table == nil {
			continue
		}
		head := make([]string, len(s.Table.Columns))
		for i, c := range s.Table.Columns {
			head[i] = disarm(c.Title)
		}
		if err := out.Write(head); err != nil {
			return err
		}
		for _, r := range s.Table.Rows {
			if err := out.Write(mapped(r, disarm)); err != nil {
				return err
			}
		}
		// one file holds one table, since columns of two do not agree; the first is what was asked for
		break
	}
	out.Flush()
	return out.Error()
}

// WriteRows writes rows of plain text as CSV, the header first. Line ends in a cell
// stay; what a spreadsheet would take for a formula gets an apostrophe in front.
func WriteRows(w io.Writer, rows [][]string) error {
	out := csv.NewWriter(w)
	for _, r := range rows {
		cells := make([]string, len(r))
		for i, cell := range r {
			cells[i] = clean(cell)
			if disarm(cell) != oneLine(cell) {
				cells[i] = "'" + cells[i]
			}
		}
		if err := out.Write(cells); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// formulaSigns begin a formula in one spreadsheet or another, full-width signs
// included.
const formulaSigns = "=+-@＝＋－＠"

// disarm puts an apostrophe before text that begins like a formula. Plain
// numbers keep their sign, a dash alone stands for nothing.
func disarm(cell string) string {
	cell = oneLine(cell)
	first, _ := utf8.DecodeRuneInString(cell)
	// a spreadsheet would run it: names and notes come from people
	if cell != "" && strings.ContainsRune(formulaSigns, first) && !isNumber(cell) && cell != "-" {
		return "'" + cell
	}
	return cell
}

// isNumber reports whether the whole cell is one number.
func isNumber(cell string) bool {
	var v float64
	var rest string
	n, _ := fmt.Sscanf(cell, "%g%s", &v, &rest)
	return n == 1
}

// WriteJSON writes the payload, indented, one final line end; nothing if it
// cannot be written whole.
func WriteJSON(w io.Writer, payload any) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	// written for terminals and programs, not into a page: & and < stay readable
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(payload); err != nil {
		return err
	}
	// by way of memory: half an object on a pipe would look like another answer
	_, err := io.WriteString(w, escapeSteering(b.String()))
	return err
}
