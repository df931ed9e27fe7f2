package checks

import (
	"encoding/json"

	"hedgerow/dilution"
	"hedgerow/extraction"
)

// CheckRows returns the built-in tables of published check values, as CSV.
func CheckRows() [][]byte { return [][]byte{dilution.CheckRows(), extraction.CheckRows()} }

// Evaluate works out one check quantity through the functions that the
// notebook uses; known is false for a quantity of neither package.
func Evaluate(quantity string, inputs json.RawMessage) (value float64, known bool, err error) {
	if v, known, err := dilution.Evaluate(quantity, inputs); known {
		return v, true, err
	}
	return extraction.Evaluate(quantity, inputs)
}
