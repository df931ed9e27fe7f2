package dilution

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// table is a CSV file of published or independently computed values.
type table struct {
	columns map[string]int
	rows    [][]string
}

// readTable reads testdata/name and fails on another header or no rows.
func readTable(t *testing.T, name, header string) table {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 2 {
		t.Fatalf("%s has no rows", name)
	}
	if got := strings.Join(rows[0], ","); got != header {
		t.Fatalf("%s: header is %q, want %q", name, got, header)
	}
	tab := table{columns: map[string]int{}, rows: rows[1:]}
	for i, c := range rows[0] {
		tab.columns[c] = i
	}
	return tab
}

// text returns a cell.
func (tab table) text(row []string, column string) string { return row[tab.columns[column]] }

// num returns a number; false for an empty cell.
func (tab table) num(t *testing.T, row []string, column string) (float64, bool) {
	t.Helper()
	cell := tab.text(row, column)
	if cell == "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		t.Fatalf("column %s: %v", column, err)
	}
	return v, true
}

// closeTo fails unless got is within tolerance of want.
func closeTo(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.9g, want %.9g within %g", what, got, want, tolerance)
	}
}

// must passes a result through and fails on its error: must(f())(t).
func must[T any](v T, err error) func(*testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}
