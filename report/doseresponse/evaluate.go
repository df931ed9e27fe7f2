package doseresponse

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"hedgerow/report/evidence"
)

// An evaluation is the inputs of a check row.
type evaluation struct {
	CSV  string  `json:"csv"`  // name of the file with the scores
	Span float64 `json:"span"` // the claim is 1 to span
}

// Evaluate returns the value of a quantity rightdose.* of the shared check
// rows for the given JSON inputs; open opens the CSV file that they name.
// known is false for a quantity that this package does not have.
//
// The panel's right ln dose (median, low90, high90) is before the widening by
// the model discrepancy; p_right_best, _half and _double are the share of
// "just right" at the best dose, half and double of it.
func Evaluate(quantity string, inputs json.RawMessage,
	open func(name string) (io.ReadCloser, error)) (value float64, known bool, err error) {
	if !strings.HasPrefix(quantity, "rightdose.") {
		return 0, false, nil
	}
	var in evaluation
	if err := json.Unmarshal(inputs, &in); err != nil {
		return 0, true, fmt.Errorf("inputs of %s: %w", quantity, err)
	}
	if !(in.Span >= 1 && in.Span <= evidence.MaxDoseGPerL) {
		return 0, true, fmt.Errorf("inputs of %s: span %g is not from 1 to 1000", quantity, in.Span)
	}
	s, err := readRows(in, open)
	if err != nil {
		return 0, true, err
	}
	p, err := Fit(s, Options{plain: true})
	if err != nil {
		return 0, true, err
	}
	value, known = p.quantity(quantity)
	return value, known, nil
}

// quantity reads one quantity off a posterior; known is false for a name that
// is not listed at Evaluate. Logs are of doses in the unit of the claim.
func (p *Posterior) quantity(name string) (value float64, known bool) {
	switch name {
	case "rightdose.ln_median":
		return p.psiQ.mid + p.prob.Origin, true
	case "rightdose.ln_low90":
		return p.psiQ.low + p.prob.Origin, true
	case "rightdose.ln_high90":
		return p.psiQ.high + p.prob.Origin, true
	case "rightdose.p_right_best":
		return p.rightShare(p.best), true
	case "rightdose.p_right_half":
		return p.rightShare(p.best - math.Ln2), true
	case "rightdose.p_right_double":
		return p.rightShare(p.best + math.Ln2), true
	}
	return 0, false
}

// rightShare returns the expected share of "just right" at relative ln dose x.
func (p *Posterior) rightShare(x float64) float64 {
	_, right, _ := p.votesAt(x)
	return right
}

// readRows reads the columns taster, batch, x (ln dose), jar (vote) and y
// (intensity) into a study with the claim [1, span]. It refuses a file with
// other columns or without rows.
func readRows(in evaluation, open func(name string) (io.ReadCloser, error)) (evidence.Study, error) {
	file, err := open(in.CSV)
	if err != nil {
		return evidence.Study{}, fmt.Errorf("open %q: %w", in.CSV, err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		return evidence.Study{}, fmt.Errorf("read %q: %w", in.CSV, err)
	}
	if len(rows) < 2 || !slices.Equal(rows[0], []string{"taster", "batch", "x", "jar", "y"}) {
		return evidence.Study{}, fmt.Errorf("%q has not the columns taster, batch, x, jar, y and a row below", in.CSV)
	}
	s := evidence.Study{ID: in.CSV, ClaimsGPerL: [][2]float64{{1, in.Span}}}
	for i, row := range rows[1:] {
		if err := addRow(&s, row); err != nil {
			return evidence.Study{}, fmt.Errorf("%q row %d: %w", in.CSV, i+2, err)
		}
	}
	return s, nil
}

// addRow adds one score; rows of one batch and x are one trial, rows of one
// batch and different x are jars that share its potency.
func addRow(s *evidence.Study, row []string) error {
	x, err := strconv.ParseFloat(row[2], 64)
	if err != nil {
		return err
	}
	vote, err := strconv.Atoi(row[3])
	if err != nil {
		return err
	}
	y, err := strconv.ParseFloat(row[4], 64)
	if err != nil {
		return err
	}
	id := row[1] + "@" + row[2]
	k := slices.IndexFunc(s.Trials, func(t evidence.Trial) bool { return t.ID == id })
	if k < 0 {
		k = len(s.Trials)
		s.Trials = append(s.Trials, evidence.Trial{ID: id, DoseGPerL: math.Exp(x), Kind: evidence.Batch, Group: row[1]})
	}
	s.Trials[k].Scores = append(s.Trials[k].Scores, evidence.Score{Taster: row[0], Vote: &vote, Intensity: &y})
	return nil
}
