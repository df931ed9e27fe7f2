package document

import "hedgerow/report/plot"

// View is one answer of the program, ready to be drawn in any format.
type View struct {
	Document Document // the view as text
	Payload  any      // what --json prints
	Figures  bool     // --csv prints all figures of the payload, not the first table
}

// Document is a view as text: sections in reading order.
type Document struct {
	Made     string    // above all: that what follows is invented; empty for what is not
	Over     string    // above the title: what the page is about
	Title    string    // of the whole
	Lead     string    // below the title: the next thing to know
	Facts    []Fact    // what to know at a glance
	Remarks  []string  // below the facts: what their words mean
	Sections []Section // in reading order
	Foot     string    // at the very end: how it was made
}

// Fact is a line of what to know at a glance.
type Fact struct {
	Term  string // what it is about
	Text  string // in a sentence or two
	Votes []int  // too little, just right and too much of 100, which a page draws in place of the text; nil for none
}

// Picture is a picture of the numbers of a section.
type Picture struct {
	Heading string    // above it: what it shows, with the finding
	Plot    plot.Plot // the picture
	Finding string    // below it, first: what there is to see
	Keys    []Key     // what its marks stand for
	Caption string    // below it, last: how to read it
}

// Key says what a mark stands for.
type Key struct {
	Shape plot.Shape // as in the picture
	Ink   plot.Ink   // as in the picture
	Text  string     // what it is
}

// Section is a heading with paragraphs, a table and notes, each optional and
// drawn in that order.
type Section struct {
	Heading    string    // above the section, empty for none
	Side       string    // beside it on a page, below the heading: how to read it
	NewPage    bool      // begins a page when printed
	Short      bool      // the notes are a list of short lines, printed in two columns or one after another
	Paper      bool      // for a sheet in the hand, such as room to write: not drawn on a terminal
	Folded     bool      // a page shows it when asked to; on paper it stands open
	Warn       bool      // the paragraphs are warnings
	Paragraphs []string  // running text before the table
	Pictures   []Picture // after the paragraphs, on a page and, if they can be, in characters
	Table      *Table    // nil for none
	Notes      []string  // footnotes: warnings and assumptions
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
	Paper bool   // shown on a page all the same

	Ballot plot.Ballot // the cells count votes, which a page draws beside the number; NoBallot for others
}

// visible returns the table without its wide columns unless all is true.
func (t Table) visible(all bool) Table {
	return t.only(func(c Column) bool { return all || !c.Wide })
}

// only returns the table with the columns that are kept.
func (t Table) only(keep func(Column) bool) Table {
	var out Table
	for i, c := range t.Columns {
		if !keep(c) {
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
	Width    int  // columns of the terminal
	All      bool // show the wide columns too
	Pictures bool // draw pictures in characters
}
