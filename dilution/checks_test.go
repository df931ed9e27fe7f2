package dilution

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"
)

// TestCheckRows holds every row of the published and independently computed
// check values (science page of the mass balance; the source is in each row).
func TestCheckRows(t *testing.T) {
	rows, err := csv.NewReader(bytes.NewReader(CheckRows())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := strings.Join(rows[0], ","), "quantity,inputs,expected,unit,tolerance,source"; got != want {
		t.Fatalf("header is %q, want %q", got, want)
	}
	if len(rows)-1 != 129 {
		t.Fatalf("%d rows, want 129", len(rows)-1)
	}
	for i, row := range rows[1:] {
		holdRow(t, i+2, row)
	}
}

// holdRow checks one row of the check values.
func holdRow(t *testing.T, line int, row []string) {
	t.Helper()
	want, err := strconv.ParseFloat(row[2], 64)
	if err != nil {
		t.Fatalf("line %d: expected: %v", line, err)
	}
	tolerance, err := strconv.ParseFloat(row[4], 64)
	if err != nil {
		t.Fatalf("line %d: tolerance: %v", line, err)
	}
	got, known, err := Evaluate(row[0], json.RawMessage(row[1]))
	if err != nil || !known {
		t.Errorf("line %d: %s: known %v, error %v", line, row[0], known, err)
		return
	}
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("line %d: %s %s = %.9g, want %.9g within %g", line, row[0], row[1], got, want, tolerance)
	}
}
