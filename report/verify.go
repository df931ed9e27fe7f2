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

	"hedgerow/report/doseresponse"
	"hedgerow/report/panel"
	"hedgerow/trials"
	"hedgerow/trials/checks"
	"hedgerow/trials/figure"
)

// checkRow is one value from outside with what this program gives for it.
type checkRow struct {
	Line      int     `json:"line"`
	Quantity  string  `json:"quantity"`
	Inputs    string  `json:"inputs"`
	Expected  float64 `json:"expected"`
	Got       float64 `json:"got"`
	Tolerance float64 `json:"tolerance"`
	Source    string  `json:"source"`  // a key of Verification.Origins, or as the file says
	Kind      string  `json:"kind"`    // of the origin: see package checks; fromFile for a file's own
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
	Rows    []checkRow      `json:"rows"`    // in the order of the tables
	Hold    int             `json:"hold"`    // rows that hold
	Fail    int             `json:"fail"`    // rows that do not
	NotYet  int             `json:"not_yet"` // rows of quantities the code does not cover
	Origins []checks.Origin `json:"origins"` // where the values come from
}

// fromFile is the kind of a row that is not built in: what its source is, only
// the file knows.
const fromFile = "from the file"

// checkHeader is the header of a file of check rows.
var checkHeader = []string{"quantity", "inputs", "expected", "unit", "tolerance", "source"}

// Verify runs the built-in check rows through the functions that the commands
// use. A quantity that the code does not cover is counted as not yet.
func Verify() (Verification, error) {
	origins, err := checks.Origins()
	if err != nil {
		return Verification{}, err
	}
	v := Verification{Origins: origins}
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
	// rows may come from others: names in them reach nothing outside the folder of the file
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
		// lines, not rows: inputs may run over several, and an editor counts lines
		line, _ := c.FieldPos(0)
		v.add(checkOne(&runner, record, line, open, unknown))
	}
	// "0 of 0 hold" would pass for a success
	if len(v.Rows) == before {
		return trials.Refuse("add rows below the header", "there are no check rows")
	}
	return nil
}

// add counts a row and gives it the kind of its origin.
func (v *Verification) add(r checkRow) {
	at := slices.IndexFunc(v.Origins, func(o checks.Origin) bool { return o.Key == r.Source })
	if at < 0 {
		at = len(v.Origins)
		v.Origins = append(v.Origins, checks.Origin{Key: r.Source, Kind: fromFile, Place: r.Source})
	}
	r.Kind = v.Origins[at].Kind
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
		// JSON has no NaN: the row would spoil the whole answer
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
	// NaN is compared by name, since every comparison with it is false and would let it pass
	case math.IsNaN(got) || math.Abs(got-r.Expected) > r.Tolerance:
		r.Got, r.Problem = got, fmt.Sprintf("got %.8g", got)
		// the problem above says what came out; JSON could not hold it
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
