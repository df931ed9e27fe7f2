package catalogue

import (
	"embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hedgerow/trials/figure"
)

// files are the tables as embedded, read by readTable.
//
//go:embed data/*.csv
var files embed.FS

// record is one row of a table. The first cell that cannot be read is kept in
// err, so that a caller may read all cells and ask once.
type record struct {
	file    string
	line    int // 1 is the header
	columns []string
	cells   []string
	err     error
}

// readTable reads one embedded table and passes each row to take. It refuses a
// header other than the one asked for, a row of another width and a table
// without rows, so that a changed file cannot be read as if it were the old one.
func readTable(name string, columns []string, take func(*record) error) error {
	file := "data/" + name
	f, err := files.Open(file)
	if err != nil {
		return fmt.Errorf("open the built-in table: %w", err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return fmt.Errorf("read the built-in table %s: %w", file, err)
	}
	if len(rows) < 2 {
		return fmt.Errorf("the built-in table %s has no rows", file)
	}
	if !slices.Equal(rows[0], columns) {
		return fmt.Errorf("the built-in table %s has the header %q, want %q", file, rows[0], columns)
	}
	for i, cells := range rows[1:] {
		// line 1 is the header
		r := &record{file: file, line: i + 2, columns: columns, cells: cells}
		if err := take(r); err != nil {
			return err
		}
		// cells are read without an error each: the first that failed is kept by the record
		if r.err != nil {
			return r.err
		}
	}
	return nil
}

// text returns the cell of a column without surrounding space.
func (r *record) text(column string) string {
	i := slices.Index(r.columns, column)
	if i < 0 {
		r.fail(fmt.Errorf("%s has no column %q", r.file, column))
		return ""
	}
	return strings.TrimSpace(r.cells[i])
}

// list returns the parts of a cell that are separated by semicolons.
func (r *record) list(column string) []string { return splitList(r.text(column)) }

// number returns the cell as a number, nil if it is empty.
func (r *record) number(column string) *float64 {
	text := r.text(column)
	if text == "" {
		return nil
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !figure.Finite(v) {
		r.fail(fmt.Errorf("%s line %d: %s %q is not a number", r.file, r.line, column, text))
		return nil
	}
	return &v
}

// yes returns whether the cell says yes; any word but yes and no is an error.
func (r *record) yes(column string) bool {
	text := r.text(column)
	if text != "yes" && text != "no" {
		r.fail(fmt.Errorf("%s line %d: %s %q is neither yes nor no", r.file, r.line, column, text))
	}
	return text == "yes"
}

// fraction returns a cell given in percent as a mass fraction, nil if it is
// empty.
func (r *record) fraction(column string) *float64 {
	v := r.number(column)
	if v == nil {
		return nil
	}
	f := *v / 100
	return &f
}

// fail keeps the first error of the row.
func (r *record) fail(err error) {
	if r.err == nil {
		r.err = err
	}
}

// splitList splits at semicolons and drops empty parts.
func splitList(text string) []string {
	var parts []string
	for part := range strings.SplitSeq(text, ";") {
		if part = strings.TrimSpace(part); part != "" {
			parts = append(parts, part)
		}
	}
	return parts
}
