package figure

// Estimate is a figure with its doubt; the zero value is a figure that is not
// known. With one dominant rectangular input the interval is narrower than
// 1.96 U, by 15 to 20 %; report both.
type Estimate struct {
	Value     float64 // from the best values of all inputs
	U         float64 // standard uncertainty, 0 where it was not worked out
	Low, High float64 // interval; meaningless unless HasBounds
	Level     float64 // coverage of Low to High, such as 0.95
	HasBounds bool    // whether Low and High say something
	OK        bool    // false when the quantity is not known at all
}

// Exactly returns a figure without an interval.
func Exactly(v float64) Estimate { return Estimate{Value: v, Low: v, High: v, OK: true} }

// Between returns a figure with an interval of that coverage.
func Between(v, low, high, level float64) Estimate {
	return Estimate{Value: v, Low: low, High: high, Level: level, HasBounds: true, OK: true}
}

// Times returns the figure times a factor of zero or more.
func (e Estimate) Times(f float64) Estimate {
	e.Value, e.U, e.Low, e.High = e.Value*f, e.U*f, e.Low*f, e.High*f
	return e
}

// Factor returns High/Low, and false when Low is not above zero.
func (e Estimate) Factor() (float64, bool) {
	if e.Low <= 0 {
		return 0, false
	}
	return e.High / e.Low, true
}
