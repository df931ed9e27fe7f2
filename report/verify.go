package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"hedgerow/report/document"
	"hedgerow/report/doseresponse"
	"hedgerow/report/panel"
	"hedgerow/trials"
	"hedgerow/trials/checks"
	"hedgerow/trials/figure"
)

// checkRow is one published value with what this program gives for it.
type checkRow struct {
	Line      int     `json:"line"`
	Quantity  string  `json:"quantity"`
	Inputs    string  `json:"inputs"`
	Expected  float64 `json:"expected"`
	Got       float64 `json:"got"`
	Tolerance float64 `json:"tolerance"`
	Source    string  `json:"source"`  // who said it or where it is written
	Outcome   string  `json:"outcome"` // holds, fails or not yet
	Problem   string  `json:"problem,omitempty"`
}

// The outcomes of a row.
const (
	holds  = "holds"
	fails  = "fails"
	notYet = "not yet"
)

// Verification is the outcome of all rows.
type Verification struct {
	Rows   []checkRow `json:"rows"`    // in the order of the tables
	Hold   int        `json:"hold"`    // rows that hold
	Fail   int        `json:"fail"`    // rows that do not
	NotYet int        `json:"not_yet"` // rows of quantities the code does not cover
}

// checkHeader is the header of a file of check rows.
var checkHeader = []string{"quantity", "inputs", "expected", "unit", "tolerance", "source"}

// Verify runs the built-in check rows through the functions that the commands
// use. A quantity that the code does not cover is counted as not yet.
func Verify() (Verification, error) {
	var v Verification
	for _, text := range checks.CheckRows() {
		noFiles := func(string) (io.ReadCloser, error) { return nil, errors.New("built-in rows name no file") }
		if err := v.read(bytes.NewReader(text), noFiles, notYet); err != nil {
			return v, err
		}
	}
	return v, nil
}

// VerifyFile runs the rows of a file; files named in them are read beside it.
// An unknown quantity fails.
func VerifyFile(path string) (Verification, error) {
	f, err := os.Open(path)
	if err != nil {
		return Verification{}, &trials.Problem{Code: trials.NotFound, Message: "cannot read the rows: " + err.Error(),
			Hint: "name a CSV file with the columns quantity,inputs,expected,unit,tolerance,source"}
	}
	defer f.Close()
	root, err := os.OpenRoot(filepath.Dir(path))
	if err != nil {
		return Verification{}, err
	}
	defer root.Close()
	var v Verification
	open := func(name string) (io.ReadCloser, error) { return root.Open(name) }
	return v, v.read(f, open, fails)
}

// read runs every row; unknown is the outcome of a quantity that is not known.
func (v *Verification) read(in io.Reader, open func(string) (io.ReadCloser, error), unknown string) error {
	c := csv.NewReader(in)
	head, err := c.Read()
	if err != nil || !slices.Equal(head, checkHeader) {
		return trials.Refuse("the columns are quantity,inputs,expected,unit,tolerance,source",
			"the header of the check rows is not as it should be")
	}
	before := len(v.Rows)
	var runner checks.Runner
	for {
		record, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return trials.Refuse("check quotes and commas", "the check rows cannot be read: %v", err)
		}
		line, _ := c.FieldPos(0)
		v.add(checkOne(&runner, record, line, open, unknown))
	}
	if len(v.Rows) == before {
		return trials.Refuse("add rows below the header", "there are no check rows")
	}
	return nil
}

// add counts a row.
func (v *Verification) add(r checkRow) {
	v.Rows = append(v.Rows, r)
	switch r.Outcome {
	case holds:
		v.Hold++
	case fails:
		v.Fail++
	default:
		v.NotYet++
	}
}

// checkOne runs one row.
func checkOne(runner *checks.Runner, record []string, line int, open func(string) (io.ReadCloser, error),
	unknown string) checkRow {
	r := checkRow{Line: line, Quantity: record[0], Inputs: record[1], Source: record[5], Outcome: fails}
	var errExpected, errTolerance error
	r.Expected, errExpected = strconv.ParseFloat(record[2], 64)
	r.Tolerance, errTolerance = strconv.ParseFloat(record[4], 64)
	if errExpected != nil || errTolerance != nil || !figure.Finite(r.Expected) || !figure.Finite(r.Tolerance) {
		r.Expected, r.Tolerance = 0, 0
		r.Problem = "expected value or tolerance is not a number"
		return r
	}
	got, known, err := evaluate(runner, r.Quantity, json.RawMessage(r.Inputs), open)
	switch {
	case !known:
		r.Outcome, r.Problem = unknown, "this quantity is not known"
	case err != nil:
		r.Problem = err.Error()
	case math.IsNaN(got) || math.Abs(got-r.Expected) > r.Tolerance:
		r.Got, r.Problem = got, fmt.Sprintf("got %.8g", got)
		if !figure.Finite(got) {
			r.Got = 0
		}
	default:
		r.Got, r.Outcome = got, holds
	}
	return r
}

// evaluate asks the packages in turn for a quantity.
func evaluate(runner *checks.Runner, quantity string, inputs json.RawMessage,
	open func(string) (io.ReadCloser, error)) (float64, bool, error) {
	if v, known, err := runner.Evaluate(quantity, inputs); known {
		return v, true, err
	}
	if v, known, err := panel.Evaluate(quantity, inputs, open); known {
		return v, true, err
	}
	return doseresponse.Evaluate(quantity, inputs, open)
}

// VerifyView shows how many rows of each source hold and the worst miss.
func VerifyView(v Verification) document.View {
	type source struct {
		hold, all, notYet int
		worst             float64
	}
	by := map[string]*source{}
	var order []string
	for _, r := range v.Rows {
		s := by[r.Source]
		if s == nil {
			s = &source{}
			by[r.Source] = s
			order = append(order, r.Source)
		}
		s.all++
		switch {
		case r.Outcome == notYet:
			s.notYet++
		case r.Outcome == holds:
			s.hold++
			fallthrough
		default:
			if r.Tolerance > 0 {
				s.worst = max(s.worst, math.Abs(r.Got-r.Expected)/r.Tolerance)
			}
		}
	}
	t := document.Table{Columns: []document.Column{{Title: "source", Wrap: true}, {Title: "hold", Right: true},
		{Title: "of", Right: true}, {Title: "worst miss", Right: true}}}
	for _, name := range order {
		s := by[name]
		t.Rows = append(t.Rows, []string{name, fmt.Sprint(s.hold), fmt.Sprint(s.all - s.notYet),
			document.Fixed(100*s.worst, 0) + " %"})
	}
	line := fmt.Sprintf("%d of %d published values hold", v.Hold, v.Hold+v.Fail)
	if v.NotYet > 0 {
		line += fmt.Sprintf("; %d rows are of quantities not covered yet", v.NotYet)
	}
	sec := document.Section{Paragraphs: []string{line + "."}, Table: &t,
		Notes: []string{"worst miss: the largest distance from the published value, in per cent of its tolerance"}}
	var failed document.Table
	failed.Columns = []document.Column{{Title: "line", Right: true}, {Title: "quantity", Wrap: true},
		{Title: "expected", Right: true}, {Title: "problem", Wrap: true}}
	for _, r := range v.Rows {
		if r.Outcome == fails {
			failed.Rows = append(failed.Rows, []string{fmt.Sprint(r.Line), r.Quantity,
				document.Significant(r.Expected, 8), r.Problem})
		}
	}
	sections := []document.Section{sec}
	if len(failed.Rows) > 0 {
		sections = append(sections, document.Section{Heading: "Rows that fail", Table: &failed})
	}
	return document.View{Document: document.Document{Sections: sections}, Payload: v}
}
