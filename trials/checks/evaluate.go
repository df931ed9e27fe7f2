package checks

import (
	_ "embed" // for the check rows
	"encoding/json"
	"errors"
	"fmt"
	"hedgerow/trials/figure"
	"slices"
	"strings"
)

//go:embed rows/dilution.csv
var dilutionRows []byte

//go:embed rows/extraction.csv
var extractionRows []byte

//go:embed rows/steep.csv
var steepRows []byte

//go:embed rows/plants.csv
var plantRows []byte

//go:embed rows/condition.csv
var conditionRows []byte

// CheckRows returns the tables of check values that come with the program, as
// CSV with the columns quantity, inputs, expected, unit, tolerance, source.
func CheckRows() [][]byte {
	return [][]byte{slices.Clone(dilutionRows), slices.Clone(extractionRows), slices.Clone(steepRows),
		slices.Clone(plantRows), slices.Clone(conditionRows)}
}

// evaluator computes one quantity from the inputs of a row.
type evaluator func(in *inputs) (float64, error)

// Runner runs check rows. Rows that ask for several figures of one answer stand
// together, so it remembers answers; the zero value is ready.
type Runner struct {
	answers map[string]any
}

// Evaluate works out one check quantity from its inputs, a JSON object, through
// the functions that the commands call. known is false, with no error, for a
// quantity that no command computes. Inputs that are missing, unknown, of the
// wrong kind or impossible are errors.
func (r *Runner) Evaluate(quantity string, given json.RawMessage) (value float64, known bool, err error) {
	compute, ok := evaluatorOf(quantity)
	if !ok {
		return 0, false, nil
	}
	if r.answers == nil {
		r.answers = map[string]any{}
	}
	in := inputs{given: string(given), used: map[string]bool{}, answers: r.answers}
	if err := json.Unmarshal(given, &in.values); err != nil {
		return 0, true, fmt.Errorf("inputs of %s are not a JSON object: %w", quantity, err)
	}
	value, err = compute(&in)
	switch {
	case in.err != nil:
		err = in.err // it explains the error that a zero in its place may have caused
	// an input nobody asked for is misspelt, and a default was taken in its place
	case err == nil:
		err = in.unasked()
	}
	if err == nil && !figure.Finite(value) {
		err = errors.New("these inputs have no ordinary number for an answer")
	}
	if err != nil {
		return 0, true, fmt.Errorf("%s: %w", quantity, err)
	}
	return value, true, nil
}

// evaluatorOf finds the evaluator of a quantity: of a plain name, or of a family
// and a figure with a dot between.
func evaluatorOf(quantity string) (evaluator, bool) {
	family, figure, dotted := strings.Cut(quantity, ".")
	if !dotted {
		for _, table := range []map[string]evaluator{oneSteepQuantities(), beerQuantities()} {
			if compute, ok := table[quantity]; ok {
				return compute, true
			}
		}
		return nil, false
	}
	find, ok := map[string]func(figure string) (evaluator, bool){
		"steep":        steepQuantity,
		"contact":      contactQuantity,
		"family":       familyQuantity,
		"tincture":     tinctureQuantity,
		"held":         heldQuantity,
		"tea":          teaQuantity,
		"spirit":       spiritQuantity,
		"pour":         jugQuantity,
		"batch_masses": massQuantity,
		"dilute_water": mixQuantity("water"),
		"add_tea":      mixQuantity("tea"),
		"add_tincture": mixQuantity("spirit"),
		"sugar_before": sugarBefore,
		"sugar_after":  sugarAfter,
		"fruit_mid":    fruitQuantity,
		"uncertainty":  uncertaintyQuantity,
		"condition":    conditionQuantity,
		"strong":       strongQuantity,
	}[family]
	if !ok {
		return nil, false
	}
	return find(figure)
}
