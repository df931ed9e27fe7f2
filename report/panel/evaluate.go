package panel

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"hedgerow/trials/figure"
)

// checkInputs are all keys that the inputs of a check value may have; every
// family reads its own.
type checkInputs struct {
	CSV                        string    // name of the data file
	Response, Treatment, Block string    // columns of scores, trials and tasters
	A, B, Level, Control       string    // levels to pick
	Transform, Blocks          string    // parallel: of y; none, block or latin
	Standard, Test             string    // parallel: samples; difference: the test
	Concentrations             []float64 // threshold: of the columns in order
	Correct, N                 int
	P0, Alpha, DPrime          float64
}

// checkedLevel is the confidence level of all check values with limits.
const checkedLevel = 0.95

// family works out the values of one family of quantities, by name.
type family func(in checkInputs, t *table) (map[string]float64, error)

func families() map[string]family {
	return map[string]family{
		"tukey":      checkTukey,
		"dunnett":    checkDunnett,
		"friedman":   checkRanks,
		"kendall":    checkRanks,
		"parallel":   checkParallel,
		"threshold":  checkThreshold,
		"binomial":   checkBinomial,
		"difference": checkDifference,
	}
}

// Evaluate works out one quantity of a file of check values from its inputs,
// through the exported functions of this package. The quantity is a family and
// a name, "tukey.p"; inputs is a JSON object; open gives the CSV file that the
// inputs name under "csv". known is false for a quantity of some other
// package. Families and their inputs:
//
//	tukey, dunnett, friedman, kendall  csv, response, treatment, block, a, b, level, control
//	parallel                                          csv, transform, blocks, standard
//	threshold                                         csv, concentrations
//	binomial, difference                              correct, n, p0, test, alpha, dprime
//
// Errors: inputs that are not such an object or hold an unknown key, a file or
// column that is missing, and whatever the function itself refuses.
func Evaluate(quantity string, inputs json.RawMessage, open func(name string) (io.ReadCloser, error)) (
	value float64, known bool, err error) {
	prefix, name, _ := strings.Cut(quantity, ".")
	run, ok := families()[prefix]
	if !ok {
		return 0, false, nil
	}
	value, known, err = evaluate(run, name, inputs, open)
	if err == nil && known && !figure.Finite(value) {
		err = fmt.Errorf("the answer is not a number")
	}
	if err != nil {
		return 0, true, fmt.Errorf("%s: %w", quantity, err)
	}
	return value, known, nil
}

func evaluate(run family, name string, inputs json.RawMessage, open func(name string) (io.ReadCloser, error)) (
	float64, bool, error) {
	var in checkInputs
	d := json.NewDecoder(bytes.NewReader(inputs))
	d.DisallowUnknownFields()
	if err := d.Decode(&in); err != nil {
		return 0, true, fmt.Errorf("inputs: %w", err)
	}
	t := &table{}
	if in.CSV != "" {
		t = readTable(open, in.CSV)
	}
	values, err := run(in, t)
	if t.err != nil {
		err = t.err // the reason behind whatever was refused
	}
	if err != nil {
		return 0, true, err
	}
	value, ok := values[name]
	return value, ok, nil
}
