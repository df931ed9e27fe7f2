package document

import "hedgerow/trials/figure"

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
	if !figure.Finite(low) || !figure.Finite(high) {
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

// PlusMinus prints "4.72 ±0.28", or the value alone when there is no interval.
func (e Estimate) PlusMinus(atLeast, atMost int) string {
	half, ok := e.half()
	if !ok || half == 0 {
		return Fixed(e.Value, atMost)
	}
	d := decimals(half, atLeast, atMost)
	return Fixed(e.Value, d) + " ±" + Fixed(half, d)
}

// Spread prints "1.31 (0.9 to 1.5)" with digits to match, or the value alone.
func (e Estimate) Spread(atLeast, atMost int) string {
	half, ok := e.half()
	if !ok {
		return Fixed(e.Value, atMost)
	}
	d := decimals(half, atLeast, atMost)
	return Fixed(e.Value, d) + " (" + Fixed(*e.Low, d) + " to " + Fixed(*e.High, d) + ")"
}

// GravityEstimate prints a gravity with its limit in the last digits.
func GravityEstimate(e *Estimate) string { return PlusMinusOrDash(e, 3, 4) }

// PlainEstimate prints a value without its interval.
func PlainEstimate(e *Estimate, d int) string {
	if e == nil {
		return "-"
	}
	return Fixed(e.Value, d)
}

// SignificantSpread prints a positive estimate with its interval to two or
// three significant digits.
func SignificantSpread(e Estimate) string {
	half, ok := e.half()
	if !ok {
		return Significant(e.Value, 3)
	}
	d := decimals(half, 0, 4)
	return Fixed(e.Value, d) + " (" + Fixed(*e.Low, d) + " to " + Fixed(*e.High, d) + ")"
}

// PlusMinusOrDash prints an estimate that may be unknown.
func PlusMinusOrDash(e *Estimate, atLeast, atMost int) string {
	if e == nil {
		return "-"
	}
	return e.PlusMinus(atLeast, atMost)
}

// SignificantRange prints the interval under the value: "3.1\n2.5-3.4".
func SignificantRange(e Estimate) string {
	half, ok := e.half()
	if !ok {
		return Significant(e.Value, 3)
	}
	d := decimals(half, 0, 3)
	return Fixed(e.Value, d) + "\n" + Fixed(*e.Low, d) + "-" + Fixed(*e.High, d)
}
