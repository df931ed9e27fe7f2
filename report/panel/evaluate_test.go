package panel

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

func openTestdata(name string) (io.ReadCloser, error) {
	return os.Open("../../testdata/datasets/" + name)
}

// Every row of testdata/datasets/rows.csv names the source of its expected value:
// R 4.2.2 with the package named, or the printed table. Rows of the dose model
// belong to another package.
func TestRows(t *testing.T) {
	f, err := openTestdata("rows.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{"quantity", "inputs", "expected", "unit", "tolerance", "source"}; !slices.Equal(rows[0], want) {
		t.Fatalf("header %q, want %q", rows[0], want)
	}
	checked := 0
	for i, r := range rows[1:] {
		if strings.HasPrefix(r[0], "rightdose.") {
			continue
		}
		checked++
		want, err := strconv.ParseFloat(r[2], 64)
		if err != nil {
			t.Fatalf("row %d: expected value: %v", i+2, err)
		}
		tol, err := strconv.ParseFloat(r[4], 64)
		if err != nil || !(tol > 0) {
			t.Fatalf("row %d: tolerance %q", i+2, r[4])
		}
		got, known, err := Evaluate(r[0], json.RawMessage(r[1]), openTestdata)
		switch {
		case err != nil:
			t.Errorf("row %d: %v", i+2, err)
		case !known:
			t.Errorf("row %d: quantity %q is not known", i+2, r[0])
		case !(math.Abs(got-want) <= tol):
			t.Errorf("row %d: %s %s = %.12g, want %.12g ± %g (%s)", i+2, r[0], r[1], got, want, tol, r[5])
		}
	}
	if checked == 0 {
		t.Fatal("no row was checked")
	}
}

func TestEvaluateRefuses(t *testing.T) {
	cases := []struct{ quantity, inputs, says string }{
		{"tukey.p", `{"csv": "missing.csv"}`, "missing.csv"},
		{"tukey.p", `{"csv": "wine.csv", "respons": "rating"}`, "respons"},
		{"tukey.p", `{"csv": "wine.csv", "response": "nothing"}`, `no column "nothing"`},
		{"tukey.p", `{"csv": "wine.csv", "response": "temp", "treatment": "treatment"}`, `"cold" is not a number`},
		{"tukey.p",
			`{"csv": "wine.csv", "response": "rating", "treatment": "treatment", "block": "judge", ` +
				`"a": "cold plain", "b": "ice"}`, `"ice"`},
		{"dunnett.p",
			`{"csv": "wine.csv", "response": "rating", "treatment": "treatment", "block": "judge", "control": "ice"}`, `"ice"`},
		{"threshold.group", `{"csv": "friedman.csv"}`, "neither 0 nor 1"},
		{"tukey.p", `{}`, "no scores"},
		{"parallel.slope_ln", `{"csv": "diphtheria.csv", "transform": "cube", "blocks": "none", "standard": "S"}`, "cube"},
		{"parallel.slope_ln",
			`{"csv": "diphtheria.csv", "transform": "ln", "blocks": "none", "standard": "S"}`, "no logarithm"},
		{"parallel.slope_ln", `{"csv": "diphtheria.csv", "transform": "none", "blocks": "rows", "standard": "S"}`, "rows"},
		{"parallel.slope_ln", `{"csv": "diphtheria.csv", "transform": "none", "blocks": "latin", "standard": "Z"}`, `"Z"`},
		{"threshold.group", `{"csv": "small12_afc.csv", "concentrations": [1, 2]}`, "6 answers for 2"},
		{"friedman.p",
			`{"csv": "recovery_dunnett.csv", "response": "minutes", "treatment": "blanket", "block": "minutes"}`,
			"needs three or more"},
		{"binomial.low", `not JSON`, "inputs"},
		{"difference.min_correct", `{"test": "quartet", "n": 5, "alpha": 0.05}`, "quartet"},
		{"difference.min_correct", `{"test": "triangle", "n": 2, "alpha": 0.05}`, "cannot reach"},
		{"difference.proportion_correct", `{"test": "triangle", "dprime": -1}`, "-1"},
		{"binomial.low", `{"correct": 9, "n": 5, "p0": 0.5}`, "9 correct of 5"},
	}
	for _, c := range cases {
		if _, _, err := Evaluate(c.quantity, json.RawMessage(c.inputs),
			openTestdata); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s %s: error %v, want it to say %q", c.quantity, c.inputs, err, c.says)
		}
	}
}

func TestEvaluateUnknown(t *testing.T) {
	wine := `{"csv": "wine.csv", "response": "rating", "treatment": "treatment", "block": "judge"}`
	for _, q := range []string{"rightdose.ln_median", "blend.abv", "", "friedman", "friedman.z"} {
		if _, known, err := Evaluate(q, json.RawMessage(wine), openTestdata); known || err != nil {
			t.Errorf("%q: known %v, error %v; want neither", q, known, err)
		}
	}
}

func ExampleEvaluate() {
	p, _, err := Evaluate("difference.min_correct", json.RawMessage(`{"test": "triangle", "n": 12, "alpha": 0.05}`), nil)
	fmt.Println(p, err)
	// Output: 8 <nil>
}
