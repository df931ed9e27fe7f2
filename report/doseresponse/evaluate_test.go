package doseresponse

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// openTestdata opens a file of the open data.
func openTestdata(name string) (io.ReadCloser, error) {
	return os.Open(filepath.Join("..", "..", "testdata", "datasets", name))
}

// checkRows returns the rows of the dose model in testdata/datasets/rows.csv; the
// others belong to package panel.
func checkRows(t testing.TB) [][]string {
	t.Helper()
	file, err := openTestdata("rows.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"quantity", "inputs", "expected", "unit", "tolerance", "source"}
	if len(rows) < 2 || !slices.Equal(rows[0], want) {
		t.Fatalf("rows.csv: header %q or no rows", rows[0])
	}
	own := slices.DeleteFunc(rows[1:], func(r []string) bool { return !strings.HasPrefix(r[0], "rightdose.") })
	if len(own) == 0 {
		t.Fatal("rows.csv: no rows of the dose model")
	}
	return own
}

// The expected values are exact posteriors of the same model, computed
// independently by importance sampling from the prior with 12 million draws;
// the tolerances are those of the rows.
func TestEvaluateRows(t *testing.T) {
	for _, row := range checkRows(t) {
		want, errWant := strconv.ParseFloat(row[2], 64)
		tol, errTol := strconv.ParseFloat(row[4], 64)
		if errWant != nil || errTol != nil {
			t.Fatalf("row %q: not numbers", row)
		}
		got, known, err := Evaluate(row[0], json.RawMessage(row[1]), openTestdata)
		if err != nil || !known {
			t.Errorf("%s %s: known %v, err %v", row[0], row[1], known, err)
			continue
		}
		if math.Abs(got-want) > tol {
			t.Errorf("%s %s = %.4f, want %.4f within %g", row[0], row[1], got, want, tol)
		}
	}
}

func TestEvaluateRefusals(t *testing.T) {
	text := func(s string) func(string) (io.ReadCloser, error) {
		return func(string) (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(s)), nil }
	}
	good := "taster,batch,x,jar,y\n0,0,1,-1,2\n"
	tests := []struct {
		name, quantity, inputs string
		open                   func(string) (io.ReadCloser, error)
		known                  bool
		err                    string
	}{
		{"other quantity", "panel.icc", `{}`, text(good), false, ""},
		{"unknown of ours", "rightdose.mode", `{"csv":"a","span":8}`, text(good), false, ""},
		{"inputs not JSON", "rightdose.ln_median", `{`, text(good), true, "inputs of"},
		{"span below 1", "rightdose.ln_median", `{"csv":"a","span":0.5}`, text(good), true, "span 0.5"},
		{"no file", "rightdose.ln_median", `{"csv":"none.csv","span":8}`, openTestdata, true, "none.csv"},
		{"other columns", "rightdose.ln_median", `{"csv":"a","span":8}`, text("a,b\n1,2\n"), true, "columns"},
		{"vote not a number", "rightdose.ln_median", `{"csv":"a","span":8}`,
			text("taster,batch,x,jar,y\n0,0,1,x,2\n"), true, "row 2"},
		{"vote off its scale", "rightdose.ln_median", `{"csv":"a","span":8}`,
			text("taster,batch,x,jar,y\n0,0,1,4,2\n"), true, "vote 4"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, known, err := Evaluate(tt.quantity, json.RawMessage(tt.inputs), tt.open)
			if known != tt.known {
				t.Errorf("known = %v, want %v", known, tt.known)
			}
			if (tt.err == "") != (err == nil) || (err != nil && !strings.Contains(err.Error(), tt.err)) {
				t.Errorf("err = %v, want it to hold %q", err, tt.err)
			}
		})
	}
}
