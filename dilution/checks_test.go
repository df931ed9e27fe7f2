package dilution

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// TestCheckRows holds every row of the published and independently computed
// check values (science page of the mass balance; the source is in each row).
func TestCheckRows(t *testing.T) {
	if n := holdRows(t, CheckRows()); n != 129 {
		t.Errorf("%d rows, want 129", n)
	}
}

// TestFurtherRows holds rows of the same quantities with inputs of our own. They
// were computed independently, by a program in another language that writes
// every power of the published equations out, finds roots by 200 halvings and
// standard uncertainties by central differences of the whole chain.
func TestFurtherRows(t *testing.T) {
	rows, err := os.ReadFile("testdata/further_rows.csv")
	if err != nil {
		t.Fatal(err)
	}
	if n := holdRows(t, rows); n < 150 {
		t.Errorf("%d rows, want at least 150", n)
	}
}

// holdRows checks every row of a file of check values and returns their number.
func holdRows(t *testing.T, file []byte) int {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(file)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := strings.Join(rows[0], ","), "quantity,inputs,expected,unit,tolerance,source"; got != want {
		t.Fatalf("header is %q, want %q", got, want)
	}
	for i, row := range rows[1:] {
		holdRow(t, i+2, row)
	}
	return len(rows) - 1
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
