package document

// View is one answer of the program, ready to be drawn in any format.
type View struct {
	Document Document
	Payload  any // what --json prints
}

// Document is a view as text: sections in reading order.
type Document struct {
	Title    string
	Sections []Section
}

// Section is a heading with paragraphs, a table and notes, each optional and
// drawn in that order.
type Section struct {
	Heading    string
	NewPage    bool // begins a page when printed
	Short      bool // the notes are a list of short lines, printed in two columns
	Paragraphs []string
	Table      *Table
	Notes      []string // footnotes: warnings and assumptions
}

// Table is a table of finished cells.
type Table struct {
	Columns []Column
	Rows    [][]string
}

// Column is the head of one column.
type Column struct {
	Title string
	Right bool // numbers are set to the right
	Wrap  bool // text that may be broken over lines when the page is narrow
	Wide  bool // shown only when the reader asks for all columns, or in CSV
}

// visible returns the table without its wide columns unless all is true.
func (t Table) visible(all bool) Table {
	if all {
		return t
	}
	var out Table
	for i, c := range t.Columns {
		if c.Wide {
			continue
		}
		out.Columns = append(out.Columns, c)
		for j, row := range t.Rows {
			if len(out.Rows) <= j {
				out.Rows = append(out.Rows, nil)
			}
			out.Rows[j] = append(out.Rows[j], row[i])
		}
	}
	return out
}

// Style says how a document is drawn.
type Style struct {
	Width int  // columns of the terminal
	All   bool // show the wide columns too
}
