package report

import (
	"math"
	"strconv"
	"strings"
)

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

// finite reports whether v is an ordinary number.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// half returns half the width of the interval, and whether there is one.
func (e Estimate) half() (float64, bool) {
	if e.Low == nil || e.High == nil {
		return 0, false
	}
	return (*e.High - *e.Low) / 2, true
}

// decimals returns how many decimals a value with that half-width deserves:
// the half-width keeps one digit, two when it begins with 1 (GUM 7.2.6 allows
// two at most), within the limits given.
func decimals(half float64, atLeast, atMost int) int {
	if half <= 0 || !finite(half) {
		return atMost
	}
	exponent := int(math.Floor(math.Log10(half)))
	// Two digits decide: 0.196 is 0.20 and begins with a 2.
	lead := math.Round(half / math.Pow(10, float64(exponent-1)))
	d := -exponent
	if lead < 20 {
		d++
	}
	return min(max(d, atLeast), atMost)
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

// Count prints a number of things: "1 glass", "2 glasses".
func Count(n int, thing string) string {
	switch {
	case n == 1:
	case strings.HasSuffix(thing, "s"):
		thing += "es"
	default:
		thing += "s"
	}
	return strconv.Itoa(n) + " " + thing
}

// fixed prints v with d decimals, never "-0", and a dash for what is no ordinary
// number.
func fixed(v float64, d int) string {
	if !finite(v) {
		return "-"
	}
	s := strconv.FormatFloat(v, 'f', d, 64)
	if zero := strconv.FormatFloat(0, 'f', d, 64); s == "-"+zero {
		return zero
	}
	return s
}

// significant prints v with n significant digits, without an exponent.
func significant(v float64, n int) string {
	if v == 0 {
		return "0"
	}
	if !finite(v) {
		return "-"
	}
	d := n - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	return fixed(v, max(d, 0))
}

// orDash prints a value that may be unknown.
func orDash(v *float64, d int) string {
	if v == nil {
		return "-"
	}
	return fixed(*v, d)
}
