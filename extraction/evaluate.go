package extraction

import (
	_ "embed" // for the check rows
	"encoding/json"
	"errors"
	"maps"
	"slices"
	"strings"
)

//go:embed checks/extraction.csv
var checkRows []byte

// CheckRows returns the published check rows that come with the package, a CSV
// with the columns quantity, inputs, expected, unit, tolerance, source. They
// were computed by an implementation independent of this one.
func CheckRows() []byte { return slices.Clone(checkRows) }

// Evaluate returns the value of one quantity of a check row from its inputs, a
// JSON object. known is false, with no error, for a quantity this package does
// not have. A missing, mistyped or unknown input, and everything the formula
// itself refuses, is an error.
func Evaluate(quantity string, inputs json.RawMessage) (value float64, known bool, err error) {
	i := slices.IndexFunc(quantities[:], func(q quantityRow) bool { return q.name == quantity })
	if i < 0 {
		return 0, false, nil
	}
	in := inputSet{used: map[string]bool{}}
	if err := json.Unmarshal(inputs, &in.values); err != nil {
		return 0, true, refuse(`write them as {"name": 1.5}`, "inputs of %s are not a JSON object: %v", quantity, err)
	}
	value, err = quantities[i].compute(&in)
	if err := errors.Join(in.problems()...); err != nil {
		return 0, true, err
	}
	if err == nil && !finite(value) {
		err = refuse("check the inputs", "%s has no finite value for these inputs", quantity)
	}
	if err != nil {
		return 0, true, err
	}
	return value, true, nil
}

// Quantities returns the names that Evaluate knows, in the order of the science.
func Quantities() []string {
	names := make([]string, len(quantities))
	for i, q := range quantities {
		names[i] = q.name
	}
	return names
}

// inputSet reads named inputs and remembers what was wrong and what was used,
// so that a quantity reads like its formula. An input that nobody asked for is an
// error: a misspelt optional one would otherwise be left at its default in silence.
type inputSet struct {
	values map[string]json.RawMessage
	used   map[string]bool
	errs   []error
}

// problems returns the reading errors, and one for every input nobody asked for.
func (in *inputSet) problems() []error {
	errs := in.errs
	for _, name := range slices.Sorted(maps.Keys(in.values)) {
		if !in.used[name] {
			errs = append(errs, refuse("leave it out, or check its spelling", "unknown input %q", name))
		}
	}
	return errs
}

// read decodes one input into target and reports whether it was there.
func (in *inputSet) read(name string, target any) bool {
	in.used[name] = true
	raw, ok := in.values[name]
	if !ok || string(raw) == "null" {
		return false
	}
	if err := json.Unmarshal(raw, target); err != nil {
		in.errs = append(in.errs, refuse("check its kind", "input %q is %s", name, strings.TrimSpace(string(raw))))
	}
	return true
}

// must records a missing input.
func (in *inputSet) must(name string, there bool) {
	if !there {
		in.errs = append(in.errs, refuse("add it to the inputs", "input %q is missing", name))
	}
}

// num returns a required number.
func (in *inputSet) num(name string) float64 {
	var v float64
	in.must(name, in.read(name, &v))
	return v
}

// opt returns a number that may be left out.
func (in *inputSet) opt(name string, otherwise float64) float64 {
	v := otherwise
	in.read(name, &v)
	return v
}

// word returns a required text.
func (in *inputSet) word(name string) string {
	var v string
	in.must(name, in.read(name, &v))
	return v
}

// list returns a required list of numbers.
func (in *inputSet) list(name string) []float64 {
	var v []float64
	in.must(name, in.read(name, &v))
	return v
}
