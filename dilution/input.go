package dilution

import "math"

// Input is a value with limits. Value may be off by up to HalfWidth either way,
// every error being as likely (rectangular; standard uncertainty HalfWidth over
// the root of 3 [13]). On top of that it may be off by up to SharedHalfWidth in
// step with every other input of the same Shared key: the zero error of one
// hydrometer, the weight of one bag of fruit.
type Input struct {
	Name            string  // how the user knows it ("original gravity"); names the contribution
	Value           float64 // best value
	HalfWidth       float64 // limit of its own error, >= 0
	Shared          string  // key of the common error; empty for none
	SharedHalfWidth float64 // limit of the common error, >= 0
}

// Exactly returns an Input without doubt.
func Exactly(value float64) Input { return Input{Value: value} }

// Within returns an Input of value +- halfWidth.
func Within(name string, value, halfWidth float64) Input {
	return Input{Name: name, Value: value, HalfWidth: halfWidth}
}

// check validates the numbers; the value itself is judged by what uses it.
func (in Input) check() error {
	name := in.Name
	if name == "" {
		name = "value"
	}
	if !finite(in.Value) {
		return &InputError{What: name, Value: in.Value, Allowed: "must be an ordinary number"}
	}
	err := firstError(
		notNegative("limit of "+name, in.HalfWidth),
		notNegative("common limit of "+name, in.SharedHalfWidth),
	)
	if err == nil && in.SharedHalfWidth > 0 && in.Shared == "" {
		err = &InputError{
			What:    "common limit of " + name,
			Value:   in.SharedHalfWidth,
			Allowed: "has no key",
			Hint:    "name what is shared, for example the hydrometer",
		}
	}
	return err
}

// orElse returns *in, or value without doubt when in is nil.
func orElse(in *Input, value float64) Input {
	if in == nil {
		return Exactly(value)
	}
	return *in
}

// Estimate is a figure with its doubt.
type Estimate struct {
	Value     float64 // from the best values of all inputs
	U         float64 // standard uncertainty
	Low, High float64 // coverage interval; meaningless unless HasBounds
	Level     float64 // coverage of Low..High, 0.95
	HasBounds bool    // whether Low and High say something
	OK        bool    // false when the quantity is not known at all
}

// rootSumSquare returns the root of a^2 + b^2.
func rootSumSquare(a, b float64) float64 { return math.Sqrt(a*a + b*b) }
