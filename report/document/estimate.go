package document

import "hedgerow/trials/figure"

// PlusMinus prints "4.72 ±0.28", or the value alone when there is no interval.
func PlusMinus(e figure.Stated, atLeast, atMost int) string {
	half, ok := e.Half()
	if !ok || half == 0 {
		return Fixed(e.Value, atMost)
	}
	d := decimals(half, atLeast, atMost)
	return Fixed(e.Value, d) + " ±" + Fixed(half, d)
}

// Spread prints "1.31 (0.9 to 1.5)" with digits to match, or the value alone.
func Spread(e figure.Stated, atLeast, atMost int) string {
	half, ok := e.Half()
	if !ok {
		return Fixed(e.Value, atMost)
	}
	d := decimals(half, atLeast, atMost)
	return Fixed(e.Value, d) + " (" + Fixed(*e.Low, d) + " to " + Fixed(*e.High, d) + ")"
}

// GravityEstimate prints a gravity with its limit in the last digits.
func GravityEstimate(e *figure.Stated) string { return PlusMinusOrDash(e, 3, 4) }

// PlainEstimate prints a value without its interval.
func PlainEstimate(e *figure.Stated, d int) string {
	if e == nil {
		return "-"
	}
	return Fixed(e.Value, d)
}

// SignificantSpread prints a positive estimate with its interval to two or
// three significant digits.
func SignificantSpread(e figure.Stated) string {
	half, ok := e.Half()
	if !ok {
		return Significant(e.Value, 3)
	}
	d := decimals(half, 0, 4)
	return Fixed(e.Value, d) + " (" + Fixed(*e.Low, d) + " to " + Fixed(*e.High, d) + ")"
}

// PlusMinusOrDash prints an estimate that may be unknown.
func PlusMinusOrDash(e *figure.Stated, atLeast, atMost int) string {
	if e == nil {
		return "-"
	}
	return PlusMinus(*e, atLeast, atMost)
}

// SignificantRange prints the interval under the value: "3.1\n2.5-3.4".
func SignificantRange(e figure.Stated) string {
	half, ok := e.Half()
	if !ok {
		return Significant(e.Value, 3)
	}
	d := decimals(half, 0, 3)
	return Fixed(e.Value, d) + "\n" + Fixed(*e.Low, d) + "-" + Fixed(*e.High, d)
}
