package document

import (
	"strings"

	"hedgerow/trials/figure"
)

// PlusMinus prints "4.72 ±0.28", or the value alone when there is no interval.
func PlusMinus(e figure.Stated, atLeast, atMost int) string {
	half, ok := e.Half()
	// an exact figure: ±0 would be said of what was never in doubt
	if !ok || half == 0 {
		return Fixed(e.Value, atMost)
	}
	d := decimals(half, atLeast, atMost)
	return Fixed(e.Value, d) + " ±" + Fixed(half, d)
}

// SignedPlusMinus prints a change, "-0.24 ±0.02" or "+0.600 ±0.006", with atLeast to
// atMost decimals, more of them, to finest, where the limit would be lost; a limit
// that those cannot show either is left out, for "±0.00" would claim too much. A
// dash stands for a change that is not known.
func SignedPlusMinus(e *figure.Stated, atLeast, atMost, finest int) string {
	if e == nil {
		return "-"
	}
	text := PlusMinus(*e, atLeast, atMost)
	if half, ok := e.Half(); ok && Fixed(half, atMost) == Fixed(0, atMost) {
		text = Fixed(e.Value, atMost)
		if Fixed(half, finest) != Fixed(0, finest) {
			text = PlusMinus(*e, finest, finest)
		}
	}
	// a change that rounds to none has no sign
	if e.Value > 0 && strings.Trim(text, "0.") != "" {
		return "+" + text
	}
	return text
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
