package report

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hedgerow/testdata/drawing"
	"hedgerow/trials"
	"hedgerow/trials/checks"
)

// rowsFile writes check rows into a file of their own.
func rowsFile(t testing.TB, lines ...string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "rows.csv")
	if err := os.WriteFile(path, []byte(strings.Join(lines, "\n")+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

const rowsHeader = "quantity,inputs,expected,unit,tolerance,source"

// ofOneFormula are the built-in rows of plain formulas, with where they come from: a
// figure of a whole answer, which stands behind a point in the name, is drawn, and all
// rows are run by the tests of trials/checks and by the script of verify.
func ofOneFormula(t *testing.T) Verification {
	t.Helper()
	origins, err := checks.Origins()
	if err != nil {
		t.Fatal(err)
	}
	v := Verification{Origins: origins}
	for _, table := range checks.CheckRows() {
		rows, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		plain := slices.DeleteFunc(rows[1:], func(row []string) bool { return strings.Contains(row[0], ".") })
		if len(plain) == 0 {
			continue
		}
		var kept bytes.Buffer
		csv.NewWriter(&kept).WriteAll(slices.Concat(rows[:1], plain))
		if err := v.read(&kept, nil, notYet); err != nil {
			t.Fatal(err)
		}
	}
	return v
}

// Built-in rows hold, and are counted by what they are: 40 of dilution and 50 of
// extraction are the least.
func TestBuiltInRowsHold(t *testing.T) {
	v := ofOneFormula(t)
	if v.Hold < 90 || v.Fail != 0 || v.Hold+v.Fail+v.NotYet != len(v.Rows) {
		t.Errorf("%d hold, %d fail, %d not yet of %d", v.Hold, v.Fail, v.NotYet, len(v.Rows))
	}
	text := drawing.AsText(t, VerifyView(v, false).Document, 80)
	for _, kind := range []string{checks.Published, checks.Computed, checks.ClosedForm} {
		n := 0
		for _, r := range v.Rows {
			if r.Kind == kind {
				n++
			}
		}
		want := fmt.Sprintf("%d of %d %s", n, n, kind)
		if n == 0 || !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	if strings.Contains(text, "Rows that fail") {
		t.Errorf("\n%s", text)
	}
	all := VerifyView(v, true)
	drawing.CheckView(t, "verify", all)
	if n := len(all.Document.Sections[0].Table.Rows); n != len(v.Rows) {
		t.Errorf("%d rows listed of %d", n, len(v.Rows))
	}
}

// 100 C is 212 F and 1 US gal is 3.785411784 L by definition; rows with another
// expected value fail and say what came out.
func TestRowsOfAFile(t *testing.T) {
	v, err := VerifyFile(rowsFile(t, rowsHeader,
		`water_density,"{""t_C"": 4}",999.96881,kg/m3,0.01,table`,
		`water_density,"{""t_C"": 4}",990,kg/m3,0.01,wrong`,
		`water_density,"{""t_C"": ""hot""}",990,kg/m3,0.01,wrong`,
		`phlogiston,{},1,1,1,unknown`,
		`water_density,"{""t_C"": 4}",NaN,kg/m3,0.01,no number`,
		`water_density,"{""t_C"": 4}",999.96881,kg/m3,Inf,no tolerance`,
		`water_density,"{""t_C"": 4}",999.96881,kg/m3,wide,no tolerance`,
	))
	if err != nil {
		t.Fatal(err)
	}
	if v.Hold != 1 || v.Fail != 6 || v.NotYet != 0 {
		t.Errorf("%+v", v)
	}
	for i, want := range []string{"", "got 999.96", "", "not known", "not a number", "not a number", "not a number"} {
		if r := v.Rows[i]; !strings.Contains(r.Problem, want) || i > 0 && r.Problem == "" || r.Line != i+2 {
			t.Errorf("row %d: %+v", i, r)
		}
	}
	drawing.CheckView(t, "verify", VerifyView(v, false))
	if text := drawing.AsText(t, VerifyView(v, false).Document, 80); !strings.Contains(text, "Rows that fail") ||
		!strings.Contains(text, "1 of 7 check rows hold.") {
		t.Errorf("\n%s", text)
	}
}

// A file that is none, or has other columns or no row, is refused.
func TestFilesOfRowsThatAreRefused(t *testing.T) {
	cases := map[string]struct {
		path string
		code trials.Code
	}{
		"missing":       {filepath.Join(t.TempDir(), "none.csv"), trials.NotFound},
		"other columns": {rowsFile(t, "quantity,expected", "water_density,1"), trials.Invalid},
		"no rows":       {rowsFile(t, rowsHeader), trials.Invalid},
		"empty":         {rowsFile(t), trials.Invalid},
		"ragged":        {rowsFile(t, rowsHeader, "water_density,1"), trials.Invalid},
	}
	for what, c := range cases {
		if _, err := VerifyFile(c.path); trials.CodeOf(err) != c.code {
			t.Errorf("%s: %v (%s)", what, err, trials.CodeOf(err))
		}
	}
}

// Data files that a row names are read beside it and nowhere else.
func TestRowsReadNoFileElsewhere(t *testing.T) {
	v, err := VerifyFile(rowsFile(t, rowsHeader, `anova.taster_sd,"{""file"": ""../../../etc/passwd""}",1,1,1,elsewhere`))
	if err != nil {
		t.Fatal(err)
	}
	if v.Hold != 0 || v.Fail != 1 {
		t.Errorf("%+v", v.Rows)
	}
}
