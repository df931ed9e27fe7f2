package report

// Estimate is a value with its interval as --json prints it. Low and High are
// absent when nothing can be said about them.
type Estimate struct {
	Value float64  `json:"value"`
	Low   *float64 `json:"low,omitempty"`
	High  *float64 `json:"high,omitempty"`
	Level *float64 `json:"level,omitempty"`
}

// Exactly returns an estimate without an interval.
func Exactly(v float64) Estimate { return Estimate{Value: v} }

// Between returns an estimate with an interval. An interval that is not finite
// is left out, so that no reader meets NaN or Inf.
func Between(v, low, high, level float64) Estimate {
	if !finite(low) || !finite(high) {
		return Exactly(v)
	}
	return Estimate{Value: v, Low: &low, High: &high, Level: &level}
}

// half returns half the width of the interval, and whether there is one.
func (e Estimate) half() (float64, bool) {
	if e.Low == nil || e.High == nil {
		return 0, false
	}
	return (*e.High - *e.Low) / 2, true
}

// plusMinus prints "4.72 ±0.28", or the value alone when there is no interval.
func (e Estimate) plusMinus(atLeast, atMost int) string {
	half, ok := e.half()
	if !ok || half == 0 {
		return fixed(e.Value, atMost)
	}
	d := decimals(half, atLeast, atMost)
	return fixed(e.Value, d) + " ±" + fixed(half, d)
}

// spread prints "1.31 (0.9 to 1.5)" with digits to match, or the value alone.
func (e Estimate) spread(atLeast, atMost int) string {
	half, ok := e.half()
	if !ok {
		return fixed(e.Value, atMost)
	}
	d := decimals(half, atLeast, atMost)
	return fixed(e.Value, d) + " (" + fixed(*e.Low, d) + " to " + fixed(*e.High, d) + ")"
}

// gravityEstimate prints a gravity with its limit in the last digits.
func gravityEstimate(e *Estimate) string { return plusMinusOrDash(e, 3, 4) }

// plainEstimate prints a value without its interval.
func plainEstimate(e *Estimate, d int) string {
	if e == nil {
		return "-"
	}
	return fixed(e.Value, d)
}

// significantSpread prints a positive estimate with its interval to two or
// three significant digits.
func significantSpread(e Estimate) string {
	half, ok := e.half()
	if !ok {
		return significant(e.Value, 3)
	}
	d := decimals(half, 0, 4)
	return fixed(e.Value, d) + " (" + fixed(*e.Low, d) + " to " + fixed(*e.High, d) + ")"
}

// plusMinusOrDash prints an estimate that may be unknown.
func plusMinusOrDash(e *Estimate, atLeast, atMost int) string {
	if e == nil {
		return "-"
	}
	return e.plusMinus(atLeast, atMost)
}

// significantRange prints the interval under the value: "3.1\n2.5-3.4".
func significantRange(e Estimate) string {
	half, ok := e.half()
	if !ok {
		return significant(e.Value, 3)
	}
	d := decimals(half, 0, 3)
	return fixed(e.Value, d) + "\n" + fixed(*e.Low, d) + "-" + fixed(*e.High, d)
}
