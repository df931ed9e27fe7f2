package quantity

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// readTable returns the rows of a file in testdata below its header. It fails
// on another header and on a file without rows, so that a test cannot pass by
// reading nothing.
func readTable(t *testing.T, name, header string) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	r.FieldsPerRecord = len(strings.Split(header, ","))
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 2 || !slices.Equal(rows[0], strings.Split(header, ",")) {
		t.Fatalf("%s: header %v with %d rows, want %s and at least one row", name, rows[0], len(rows)-1, header)
	}
	return rows[1:]
}

// mustFloat returns a number of a table.
func mustFloat(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// near reports whether got is want within a relative tolerance.
func near(got, want, tolerance float64) bool {
	return math.Abs(got-want) <= tolerance*math.Abs(want)
}

// lastDigit returns half a unit of the last digit that is written in text, the
// error that its rounding may have.
func lastDigit(text string) float64 {
	_, decimals, _ := strings.Cut(text, ".")
	return 0.5 * math.Pow(10, -float64(len(decimals)))
}

// wantError checks that err is an *Error in the form that all have, and that
// its hint contains a text.
func wantError(t *testing.T, text string, err error, hint string) {
	t.Helper()
	var e *Error
	switch {
	case err == nil:
		t.Errorf("%q was accepted", text)
	case !errors.As(err, &e):
		t.Errorf("%q: error is a %T: %v", text, err, err)
	case e.Hint == "" || e.Problem == "":
		t.Errorf("%q: %q without a hint or a problem", text, err)
	case strings.ContainsAny(e.Error()+e.Hint, "\n\r") || strings.HasSuffix(e.Problem, ".") || strings.HasSuffix(e.Hint,
		"."):
		t.Errorf("%q: %q, %q: want one line each without a full stop", text, e, e.Hint)
	case strings.Contains(e.Problem, "strconv") || strings.Contains(e.Problem, "NaN") || strings.Contains(e.Problem,
		"Inf"):
		t.Errorf("%q: %q is not for a reader", text, e)
	case !strings.Contains(e.Hint, hint):
		t.Errorf("%q: hint %q, want %q in it", text, e.Hint, hint)
	}
}

// coriander are the spoon weights of whole coriander seed, testdata/spoons.csv
// (USDA Standard Reference, item 02013).
func coriander() SpoonWeights {
	tsp, tbsp := 1.8, 5.0
	return SpoonWeights{Material: "coriander seed", GramsPerTsp: &tsp, GramsPerTbsp: &tbsp}
}
