package checks

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"hedgerow/dilution"
)

// inputs are what a row gives. They remember what was wrong and what was asked
// for, so that an evaluator reads like its formula and looks at errors once. An
// input that nobody asked for is an error: a misspelt optional one would
// otherwise be left at its default in silence.
type inputs struct {
	given   string // as written
	values  map[string]json.RawMessage
	used    map[string]bool
	answers map[string]any // of the Runner
	err     error          // the first one
}

// once returns what work gives, from memory where the same work was done for the
// same inputs. Everything must have been read before: memory reads no inputs.
func once[T any](in *inputs, kind string, work func() (T, error)) (T, error) {
	key := kind + " " + in.given
	if known, ok := in.answers[key].(T); ok {
		return known, nil
	}
	answer, err := work()
	if err == nil {
		in.answers[key] = answer
	}
	return answer, err
}

// unasked returns an error for an input that no evaluator asked for.
func (in *inputs) unasked() error {
	for _, key := range slices.Sorted(maps.Keys(in.values)) {
		if !in.used[key] {
			return fmt.Errorf("input %q has no use here; check its spelling", key)
		}
	}
	return nil
}

// read decodes an input into target and reports whether it was there.
func (in *inputs) read(key string, target any) bool {
	in.used[key] = true
	raw, ok := in.values[key]
	if !ok || string(raw) == "null" {
		return false
	}
	// the first is the one to mend: later ones may follow from it
	if err := json.Unmarshal(raw, target); err != nil && in.err == nil {
		in.err = fmt.Errorf("input %q is not as it should be: %s", key, raw)
	}
	return true
}

// must reads a required input.
func (in *inputs) must(key string, target any) {
	if !in.read(key, target) && in.err == nil {
		in.err = fmt.Errorf("input %q is missing", key)
	}
}

// num returns a required number.
func (in *inputs) num(key string) (v float64) {
	in.must(key, &v)
	return v
}

// numOr returns a number, or other when it is absent.
func (in *inputs) numOr(key string, other float64) float64 {
	in.read(key, &other)
	return other
}

// maybe returns a number, or nil when it is absent.
func (in *inputs) maybe(key string) *float64 {
	var v float64
	if !in.read(key, &v) {
		return nil
	}
	return &v
}

// text returns a required text.
func (in *inputs) text(key string) (v string) {
	in.must(key, &v)
	return v
}

// list returns a required list of numbers.
func (in *inputs) list(key string) (v []float64) {
	in.must(key, &v)
	return v
}

// only refuses a number that the program cannot be given: its own is another.
func (in *inputs) only(key string, own float64) error {
	if v := in.num(key); v != own {
		return fmt.Errorf("%s is %v in this program, not %v", key, own, v)
	}
	return nil
}

// limited returns a number with its rectangular limit, written as
// {"dist": "rect", "half_width": a, "value": v}; a bare number has no limit.
func (in *inputs) limited(key string) dilution.Input {
	var raw json.RawMessage
	in.must(key, &raw)
	var bare float64
	if raw == nil || json.Unmarshal(raw, &bare) == nil {
		return dilution.Input{Name: key, Value: bare}
	}
	v := struct {
		Dist      string   `json:"dist"`
		HalfWidth float64  `json:"half_width"`
		Value     *float64 `json:"value"`
	}{Dist: "rect"}
	if err := json.Unmarshal(raw, &v); err != nil || v.Value == nil || v.Dist != "rect" {
		if in.err == nil {
			in.err = fmt.Errorf("input %q needs a value with a rectangular half-width: %s", key, raw)
		}
		return dilution.Input{}
	}
	return dilution.Within(key, *v.Value, v.HalfWidth)
}

// limitedOr returns an input, or value without doubt when it is absent.
func (in *inputs) limitedOr(key string, value float64) dilution.Input {
	in.used[key] = true
	if _, ok := in.values[key]; !ok {
		return dilution.Exactly(value)
	}
	return in.limited(key)
}
