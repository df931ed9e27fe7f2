package document

import (
	"math"
	"strconv"
	"strings"

	"hedgerow/trials/figure"
)

// decimals returns how many decimals a value with that half-width deserves:
// the half-width keeps one digit, two when it begins with 1 (GUM 7.2.6 allows
// two at most), within the limits given.
func decimals(half float64, atLeast, atMost int) int {
	if half <= 0 || !figure.Finite(half) {
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

// Count prints a number of things: "1 glass", "2 glasses".
func Count(n int, thing string) string {
	switch {
	case n == 1:
	case strings.HasSuffix(thing, "s") || strings.HasSuffix(thing, "ch"):
		thing += "es"
	default:
		thing += "s"
	}
	return strconv.Itoa(n) + " " + thing
}

// Fixed prints v with d decimals, never "-0", and a dash for what is no ordinary
// number.
func Fixed(v float64, d int) string {
	if !figure.Finite(v) {
		return "-"
	}
	s := strconv.FormatFloat(v, 'f', d, 64)
	if zero := strconv.FormatFloat(0, 'f', d, 64); s == "-"+zero {
		return zero
	}
	return s
}

// Alike prints numbers that stand below each other with the same decimals: as few as show
// all of them, at most so many.
func Alike(list []float64, most int) []string {
	decimals := 0
	for _, v := range list {
		text := strings.TrimRight(Fixed(v, most), "0")
		if _, after, ok := strings.Cut(text, "."); ok {
			decimals = max(decimals, len(after))
		}
	}
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = Fixed(v, decimals)
	}
	return out
}

// nothing is what is printed as 0: what is left of a sum that should have come to
// nothing, far below any amount or uncertainty that is shown.
const nothing = 1e-12

// Significant prints v with n significant digits, without an exponent.
func Significant(v float64, n int) string {
	if math.Abs(v) < nothing {
		return "0"
	}
	if !figure.Finite(v) {
		return "-"
	}
	d := n - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	return Fixed(v, max(d, 0))
}

// OrDash prints a value that may be unknown.
func OrDash(v *float64, d int) string {
	if v == nil {
		return "-"
	}
	return Fixed(*v, d)
}

// SignificantOrDash prints a value that may be unknown with n significant digits.
func SignificantOrDash(v *float64, n int) string {
	if v == nil {
		return "-"
	}
	return Significant(*v, n)
}

// Percent prints a share in per cent.
func Percent(share float64) string { return Fixed(100*share, 1) + " %" }

// PText prints a p value, never as zero.
func PText(p float64) string {
	// no panel of a few friends supports a digit more
	if p < 0.001 {
		return "below 0.001"
	}
	return Significant(p, 2)
}

// Signed prints a value with its sign.
func Signed(v float64, d int) string {
	if text := Fixed(v, d); v > 0 && text != Fixed(0, d) {
		return "+" + text
	}
	return Fixed(v, d)
}

// Capital puts a capital letter first.
func Capital(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

// Whole prints a share in whole per cent; it is never printed as all, nor as none,
// unless it is. Of a chance only what lies between is known: see Chance.
func Whole(share float64) string {
	switch {
	case share > 0 && share < 0.01:
		return "less than 1 %"
	case share > 0.99 && share < 1:
		return "more than 99 %"
	}
	return Fixed(100*share, 0) + " %"
}

// Chance prints a chance that was worked out, which is never certain nor none,
// whatever it was rounded to.
func Chance(p float64) string { return Whole(min(max(p, 1e-9), 1-1e-9)) }

// Shares rounds shares of one whole to per cent that add to 100: each is rounded
// down, and those that lose most get one more (the largest remainders; of equals
// the first).
func Shares(shares ...float64) []int {
	out, rest := make([]int, len(shares)), 100
	for i, s := range shares {
		out[i] = int(100 * s)
		rest -= out[i]
	}
	for ; rest > 0; rest-- {
		most := 0
		for i, s := range shares {
			if 100*s-float64(out[i]) > 100*shares[most]-float64(out[most]) {
				most = i
			}
		}
		out[most]++
	}
	return out
}
