package quantity

import (
	"math"
	"strconv"
	"strings"

	"hedgerow/trials/figure"
)

// unknownText stands for a number that is not known or not finite.
const unknownText = "-"

// digits3 returns v with three significant digits, whole digits never rounded
// away, trailing zeros left out and no exponent.
func digits3(v float64) string {
	if !figure.Finite(v) {
		return unknownText
	}
	if v == 0 {
		return "0"
	}
	places := max(0, 2-int(math.Floor(math.Log10(math.Abs(v)))))
	return trimZeros(strconv.FormatFloat(v, 'f', min(places, 15), 64))
}

// digitsSG returns a gravity with four decimals, of which the last is left out
// if it is zero.
func digitsSG(sg float64) string {
	if !figure.Finite(sg) {
		return unknownText
	}
	text := strconv.FormatFloat(sg, 'f', 4, 64)
	return strings.TrimSuffix(text, "0")
}

// fixed returns v with at most some decimals, trailing zeros left out.
func fixed(v float64, decimals int) string {
	return trimZeros(strconv.FormatFloat(v, 'f', decimals, 64))
}

// trimZeros removes zeros at the end of the decimals, and a minus before zero.
func trimZeros(text string) string {
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}
