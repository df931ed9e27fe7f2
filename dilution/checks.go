package dilution

import (
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"hedgerow/trials/figure"
)

//go:embed checks/dilution.csv
var checkRows []byte

// CheckRows returns the published and independently computed check values as
// CSV with the columns quantity, inputs, expected, unit, tolerance, source.
func CheckRows() []byte { return slices.Clone(checkRows) }

// checkArgs are the inputs of a check row; err keeps the first one that is
// missing or no number.
type checkArgs struct {
	raw map[string]json.RawMessage
	err error
}

// evaluator computes one check quantity.
type evaluator func(a *checkArgs) (float64, error)

// Evaluate returns the value of a check quantity for inputs given as a JSON
// object, through the same functions that everything else uses. known is false
// for a quantity this package does not have; err tells of inputs that are
// missing, no numbers, or out of range.
//
// A quantity is a plain name ("beer_abv"), a family with a figure
// ("dilute_water.sg"), or "uncertainty", an example, a figure and a statistic
// ("uncertainty.dilute.abv.mc_2.5pct"). Batch volumes are litres at 20 C, added
// volumes litres at their own temperature. Keys that a quantity has no use for
// are ignored.
func Evaluate(quantity string, inputs json.RawMessage) (value float64, known bool, err error) {
	eval, ok := evaluatorOf(quantity)
	if !ok {
		return 0, false, nil
	}
	a := &checkArgs{}
	if err := json.Unmarshal(inputs, &a.raw); err != nil {
		return 0, true, fmt.Errorf("inputs of %s: %w", quantity, err)
	}
	value, err = eval(a)
	if !figure.Finite(value) {
		err = firstError(err, errors.New("these inputs have no ordinary number for an answer"))
	}
	// A missing input explains the error that its zero may have caused.
	if err := firstError(a.err, err); err != nil {
		return 0, true, fmt.Errorf("%s: %w", quantity, err)
	}
	return value, true, nil
}

// evaluatorOf finds the evaluator by the family before the first dot.
func evaluatorOf(quantity string) (evaluator, bool) {
	family, rest, dotted := strings.Cut(quantity, ".")
	if !dotted {
		eval, ok := plainChecks()[quantity]
		return eval, ok
	}
	switch family {
	case "batch_masses":
		return massCheck(rest)
	case "dilute_water", "add_tea", "add_tincture":
		return mixCheck(family, rest)
	case "sugar_before":
		return sugarBeforeCheck(rest)
	case "sugar_after":
		return sugarAfterCheck(rest)
	case "fruit_mid":
		return fruitCheck(rest)
	case "uncertainty":
		return uncertaintyCheck(rest)
	}
	return nil, false
}

// field returns the raw value of a key, noting when it is missing. Readers of
// fields go on with a zero after the first error, so that a check needs to look
// at the error only once, at its end.
func (a *checkArgs) field(key string) (json.RawMessage, bool) {
	raw, ok := a.raw[key]
	if !ok && a.err == nil {
		a.err = fmt.Errorf("input %q is missing", key)
	}
	return raw, ok
}

// num returns a number.
func (a *checkArgs) num(key string) float64 {
	raw, ok := a.field(key)
	if !ok {
		return 0
	}
	var v float64
	if err := json.Unmarshal(raw, &v); err != nil && a.err == nil {
		a.err = fmt.Errorf("input %q is not a number: %s", key, raw)
	}
	return v
}

// numOr returns a number, or value when the key is absent.
func (a *checkArgs) numOr(key string, value float64) float64 {
	if _, ok := a.raw[key]; !ok {
		return value
	}
	return a.num(key)
}

// text returns a string.
func (a *checkArgs) text(key string) string {
	raw, ok := a.field(key)
	if !ok {
		return ""
	}
	var v string
	if err := json.Unmarshal(raw, &v); err != nil && a.err == nil {
		a.err = fmt.Errorf("input %q is not a text: %s", key, raw)
	}
	return v
}

// input returns a number with its rectangular limit, written as
// {"dist": "rect", "half_width": a, "value": v}; a bare number has no limit.
func (a *checkArgs) input(key string) Input {
	raw, ok := a.field(key)
	if !ok {
		return Input{}
	}
	v := struct {
		Dist      string   `json:"dist"`
		HalfWidth float64  `json:"half_width"`
		Value     *float64 `json:"value"`
	}{Dist: "rect"}
	var bare float64
	if json.Unmarshal(raw, &bare) == nil {
		return Input{Name: key, Value: bare}
	}
	if err := json.Unmarshal(raw, &v); err != nil || v.Value == nil || v.Dist != "rect" {
		if a.err == nil {
			a.err = fmt.Errorf("input %q needs a value with a rectangular half-width: %s", key, raw)
		}
		return Input{}
	}
	return Within(key, *v.Value, v.HalfWidth)
}

// inputOr returns an input, or value without doubt when the key is absent.
func (a *checkArgs) inputOr(key string, value float64) Input {
	if _, ok := a.raw[key]; !ok {
		return Exactly(value)
	}
	return a.input(key)
}
