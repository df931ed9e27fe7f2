package panel

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"hedgerow/trials/figure"
)

// table is a CSV file with a header. The first thing that goes wrong stays in
// err; after it every column is empty.
type table struct {
	name   string
	header []string
	rows   [][]string
	err    error
}

// readTable reads a whole file; it refuses one without data rows.
func readTable(open func(name string) (io.ReadCloser, error), name string) *table {
	t := &table{name: name}
	f, err := open(name)
	if err != nil {
		t.err = err
		return t
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	switch {
	case err != nil:
		t.err = fmt.Errorf("%s: %w", name, err)
	case len(records) < 2:
		t.err = fmt.Errorf("%s: no data rows under the header", name)
	default:
		t.header, t.rows = records[0], records[1:]
	}
	return t
}

// fail keeps the first error.
func (t *table) fail(format string, args ...any) {
	if t.err == nil {
		t.err = fmt.Errorf("%s: %s", t.name, fmt.Sprintf(format, args...))
	}
}

// texts returns a column as text; blanks for an empty column name.
func (t *table) texts(column string) []string {
	if t.err != nil {
		return nil
	}
	list := make([]string, len(t.rows))
	if column == "" {
		return list
	}
	at := slices.Index(t.header, column)
	if at < 0 {
		t.fail("no column %q: its columns are %s", column, strings.Join(t.header, ", "))
		return nil
	}
	for i, r := range t.rows {
		list[i] = r[at]
	}
	return list
}

// numbers returns a column as numbers.
func (t *table) numbers(column string) []float64 {
	texts := t.texts(column)
	list := make([]float64, len(texts))
	for i, s := range texts {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil || !figure.Finite(v) {
			t.fail("row %d column %q: %q is not a number", i+2, column, s)
			return nil
		}
		list[i] = v
	}
	return list
}

// integers returns a column of whole numbers.
func (t *table) integers(column string) []int {
	values := t.numbers(column)
	list := make([]int, len(values))
	for i, v := range values {
		if v != math.Trunc(v) || math.Abs(v) > 1e9 {
			t.fail("row %d column %q: %v is not a whole number", i+2, column, v)
			return nil
		}
		list[i] = int(v)
	}
	return list
}

// truths returns the whole table as yes (1) and no (0).
func (t *table) truths() [][]bool {
	list := make([][]bool, len(t.rows))
	for _, column := range t.header {
		for i, v := range t.integers(column) {
			if v != 0 && v != 1 {
				t.fail("row %d column %q: %d is neither 0 nor 1", i+2, column, v)
			}
			list[i] = append(list[i], v == 1)
		}
	}
	return list
}

// scores turns three columns into scores. Without a block column all scores
// count as one unnamed taster's.
func (t *table) scores(response, treatment, block string) []Score {
	values, trials, tasters := t.numbers(response), t.texts(treatment), t.texts(block)
	if t.err != nil {
		return nil
	}
	list := make([]Score, len(values))
	for i, v := range values {
		list[i] = Score{Taster: tasters[i], Trial: trials[i], Value: v}
	}
	return list
}

// assayPoints reads the columns sample, dose, y, block and col.
func (t *table) assayPoints(transform, blocks string) []AssayPoint {
	block, column := "", ""
	switch blocks {
	case "none":
	case "block":
		block = "block"
	case "latin":
		block, column = "block", "col"
	default:
		t.fail("blocks %q: use none, block or latin", blocks)
	}
	samples, doses, y := t.texts("sample"), t.numbers("dose"), t.transformed("y", transform)
	rows, cols := t.texts(block), t.texts(column)
	if t.err != nil {
		return nil
	}
	points := make([]AssayPoint, len(y))
	for i := range y {
		points[i] = AssayPoint{Sample: samples[i], Dose: doses[i], Y: y[i], Block: rows[i], Column: cols[i]}
	}
	return points
}

// transformed reads a column of numbers and applies the named transform.
func (t *table) transformed(column, transform string) []float64 {
	list := t.numbers(column)
	for i, v := range list {
		switch transform {
		case "none":
		case "square":
			list[i] = v * v
		case "ln":
			if !(v > 0) {
				t.fail("row %d column %q: %v has no logarithm", i+2, column, v)
			}
			list[i] = math.Log(v)
		default:
			t.fail("transform %q: use none, ln or square", transform)
		}
	}
	return list
}
