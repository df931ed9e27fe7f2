package dilution

import (
	"math"

	"hedgerow/trials/figure"
)

// Input is a value with limits,
//
//	x = Value + HalfWidth r + SharedHalfWidth s,  r and s from -1..1
//
// every error within the limits being as likely (rectangular; standard
// uncertainty the half-width over the root of 3 [13]). r is the input's own; s is
// one and the same for all inputs with the same Shared key: the zero error of
// one hydrometer, the weight of one bag of fruit.
//
// Splitting a hydrometer's limit this way matters. Two readings of 1.048 and
// 1.010 that are each off by up to 0.001 on their own give a strength with u =
// 0.10 % vol; off by the same amount, 0.003. A limit that is meant as one
// standard uncertainty has to be entered times the root of 3.
type Input struct {
	Name            string  // how the user knows it ("original gravity"); names the contribution
	Value           float64 // best value
	HalfWidth       float64 // limit of its own error, >= 0
	Shared          string  // key of the common error; empty for none
	SharedHalfWidth float64 // limit of the common error, >= 0
}

// Exactly returns an Input without doubt and without a name.
func Exactly(value float64) Input { return Input{Value: value} }

// Within returns an Input of value +- halfWidth, rectangular, all of it its own
// error.
func Within(name string, value, halfWidth float64) Input {
	return Input{Name: name, Value: value, HalfWidth: halfWidth}
}

// check validates the numbers; the value itself is judged by what uses it.
func (in Input) check() error {
	name := in.Name
	if name == "" {
		name = "value"
	}
	if !figure.Finite(in.Value) {
		return &inputError{What: name, Value: in.Value, Allowed: "must be an ordinary number"}
	}
	err := firstError(
		notNegative("limit of "+name, in.HalfWidth),
		notNegative("common limit of "+name, in.SharedHalfWidth),
	)
	if err == nil && in.SharedHalfWidth > 0 && in.Shared == "" {
		err = &inputError{
			What:    "common limit of " + name,
			Value:   in.SharedHalfWidth,
			Allowed: "has no key",
			Hint:    "name what is shared, for example the hydrometer",
		}
	}
	return err
}

// orElse returns *in, or value without doubt when in is nil: a default where a
// figure may be left out.
func orElse(in *Input, value float64) Input {
	if in == nil {
		return Exactly(value)
	}
	return *in
}

// rootSumSquare returns the root of a^2 + b^2.
func rootSumSquare(a, b float64) float64 { return math.Sqrt(a*a + b*b) }

// ExactlyOrNone returns an optional figure as an input without doubt, nil for nil.
func ExactlyOrNone(v *float64) *Input {
	if v == nil {
		return nil
	}
	in := Exactly(*v)
	return &in
}
