package panel

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// opener gives the data file of that name.
type opener func(name string) (io.ReadCloser, error)

// Evaluate works out one quantity of a file of check values from its inputs,
// through the exported functions of this package. The quantity is a family and
// a name, "tukey.p"; inputs is a JSON object; open gives the CSV file that the
// inputs name under "csv". known is false for a quantity of some other
// package. Families and their inputs:
//
//	blocks, mixed, tukey, dunnett, friedman, kendall  csv, response, treatment, block, a, b, level, control
//	icc                                               csv, response, subject, rater, type
//	clm, clmm                                         csv, response, terms, block, cut, term, level
//	parallel                                          csv, transform (none, ln, square), blocks (none, block, latin), standard, test
//	logistic3, logistic4                              csv, x, y, log_x, where
//	logit                                             csv, dose, successes, total, group, level, p
//	cochran, penalty, threshold                       csv, vote, liking, concentrations
//	binomial, difference                              correct, n, p0, test, alpha, dprime
//
// Errors: inputs that are not such an object or hold an unknown key, a file or
// column that is missing, and whatever the function itself refuses.
func Evaluate(quantity string, inputs json.RawMessage, open func(name string) (io.ReadCloser, error)) (value float64, known bool, err error) {
	family, name, _ := strings.Cut(quantity, ".")
	run, ok := families()[family]
	if !ok {
		return 0, false, nil
	}
	value, known, err = run(name, inputs, open)
	if err != nil {
		return 0, true, fmt.Errorf("%s: %w", quantity, err)
	}
	if known && !finite(value) {
		return 0, true, fmt.Errorf("%s: the answer is not a number", quantity)
	}
	return value, known, nil
}

// evaluator works out the named quantity of one family.
type evaluator func(name string, inputs json.RawMessage, open opener) (float64, bool, error)

func families() map[string]evaluator {
	return map[string]evaluator{
		"blocks":     evalBlocks,
		"mixed":      evalMixed,
		"tukey":      evalTukey,
		"dunnett":    evalDunnett,
		"friedman":   evalRanks,
		"kendall":    evalRanks,
		"icc":        evalICC,
		"clm":        evalCLM,
		"clmm":       evalCLMM,
		"parallel":   evalParallel,
		"logistic3":  evalLogistic3,
		"logistic4":  evalLogistic4,
		"logit":      evalLogit,
		"cochran":    evalCochran,
		"penalty":    evalPenalty,
		"threshold":  evalThreshold,
		"binomial":   evalBinomial,
		"difference": evalDifference,
	}
}

// decode reads the inputs and refuses keys that nothing reads.
func decode(inputs json.RawMessage, into any) error {
	d := json.NewDecoder(bytes.NewReader(inputs))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return fmt.Errorf("inputs: %w", err)
	}
	return nil
}

// named picks one of several values by name.
func named(name string, values map[string]float64) (float64, bool, error) {
	v, ok := values[name]
	return v, ok, nil
}
