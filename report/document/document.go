package document

// View is one answer of the program, ready to be drawn in any format.
type View struct {
	Document Document // the view as text
	Payload  any      // what --json prints
	Figures  bool     // --csv prints all figures of the payload, not the first table
}

// Document is a view as text: sections in reading order.
type Document struct {
	Title    string    // of the whole
	Sections []Section // in reading order
}

// Section is a heading with paragraphs, a table and notes, each optional and
// drawn in that order.
type Section struct {
	Heading    string   // above the section, empty for none
	NewPage    bool     // begins a page when printed
	Short      bool     // the notes are a list of short lines, printed in two columns or one after another
	Paper      bool     // for a sheet in the hand, such as room to write: not drawn on a terminal
	Paragraphs []string // running text before the table
	Table      *Table   // nil for none
	Notes      []string // footnotes: warnings and assumptions
}

// Table is a table of finished cells.
type Table struct {
	Columns []Column   // heads, one for each cell of a row
	Rows    [][]string // finished cells
}

// Column is the head of one column.
type Column struct {
	Title string // above the column; line ends are kept
	Right bool   // numbers are set to the right
	Wrap  bool   // text that may be broken over lines when the page is narrow
	Wide  bool   // shown only when the reader asks for all columns, or in CSV
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
