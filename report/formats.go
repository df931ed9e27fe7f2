package report

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// WriteMarkdown draws the document as Markdown, all columns shown.
func WriteMarkdown(w io.Writer, d Document) error {
	var b strings.Builder
	if d.Title != "" {
		fmt.Fprintf(&b, "# %s\n\n", escapeMarkdown(d.Title))
	}
	for _, s := range d.Sections {
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
	_, err := io.WriteString(w, clean(b.String()))
	return err
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
		out[i] = strings.ReplaceAll(escapeMarkdown(c), "\n", "<br>")
	}
	fmt.Fprintf(b, "| %s |\n", strings.Join(out, " | "))
}

// escapeMarkdown keeps text from being read as markup.
func escapeMarkdown(s string) string {
	return strings.NewReplacer("|", `\|`, "*", `\*`, "<", "&lt;", "_", `\_`).Replace(s)
}

// WriteCSV writes the first table of the document with all its columns. A cell
// that a spreadsheet would take for a formula gets an apostrophe in front.
func WriteCSV(w io.Writer, d Document) error {
	out := csv.NewWriter(w)
	for _, s := range d.Sections {
		if s.Table == nil {
			continue
		}
		head := make([]string, len(s.Table.Columns))
		for i, c := range s.Table.Columns {
			head[i] = c.Title
		}
		if err := out.Write(head); err != nil {
			return err
		}
		for _, r := range s.Table.Rows {
			if err := out.Write(disarm(r)); err != nil {
				return err
			}
		}
		break
	}
	out.Flush()
	return out.Error()
}

// disarm puts an apostrophe before text cells that begin like a formula.
// Plain numbers keep their sign.
func disarm(row []string) []string {
	out := make([]string, len(row))
	for i, cell := range row {
		out[i] = clean(cell)
		if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) && !isNumber(cell) && cell != "-" {
			out[i] = "'" + out[i]
		}
	}
	return out
}

// isNumber reports whether the whole cell is one number.
func isNumber(cell string) bool {
	var v float64
	var rest string
	n, _ := fmt.Sscanf(cell, "%g%s", &v, &rest)
	return n == 1
}

// WriteJSON writes the payload, indented, one final line end.
func WriteJSON(w io.Writer, payload any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(payload)
}
