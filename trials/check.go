package trials

import (
	"math"
	"strconv"
	"strings"

	"hedgerow/trials/figure"
	"hedgerow/trials/spelling"
)

// CheckPositive refuses zero, negative and non-finite amounts.
func CheckPositive(what string, v float64, unit string) error {
	// what is not a number fails the first comparison
	if v > 0 && !math.IsInf(v, 0) {
		return nil
	}
	return Refuse("give an amount above zero", "%s %s %s is not above zero", what, Number(v), unit)
}

// CheckRange refuses a value outside [low, high]; nil passes.
func CheckRange(what string, v *float64, low, high float64, unit string) error {
	if v == nil || (*v >= low && *v <= high) {
		return nil
	}
	value := strings.TrimSpace(Number(*v) + " " + unit)
	hint := "check the value and its unit"
	if unit == "" {
		hint = "write a number from " + Number(low) + " to " + Number(high)
	}
	return Refuse(hint, "%s %s is outside %s to %s", what, value, Number(low), Number(high))
}

// checkTemp refuses a temperature outside TempMinC..TempMaxC; nil passes.
func checkTemp(what string, v *float64) error {
	if v == nil || (*v >= figure.TempMinC && *v <= figure.TempMaxC) {
		return nil
	}
	return Refuse("write it with its unit, such as 20C or 68F", "%s %s C is outside %s to %s C", what, Number(*v),
		Number(figure.TempMinC), Number(figure.TempMaxC))
}

// checkGravity refuses a specific gravity outside SGMin..SGMax; nil passes.
func checkGravity(what string, v *float64) error {
	if v == nil || (*v >= figure.SGMin && *v <= figure.SGMax) {
		return nil
	}
	hint := "write it as 1.048 or 12P"
	// a gravity typed in points, 1048, is the usual slip
	if *v > 900 && *v < 1300 {
		hint = "did you mean " + Number(*v/1000) + "?"
	}
	return Refuse(hint, "%s %s is outside %.3f to %.3f", what, Number(*v), figure.SGMin, figure.SGMax)
}

// CheckGravityPair refuses gravities out of range and a final gravity above
// the original one.
func CheckGravityPair(og, fg *float64) error {
	if err := checkGravity("original gravity", og); err != nil {
		return err
	}
	if err := checkGravity("final gravity", fg); err != nil {
		return err
	}
	if og != nil && fg != nil && *fg > *og {
		return Refuse("usually the two were swapped, or one was read in a warm or badly mixed sample",
			"final gravity %s is above the original gravity %s", gravityNumber(*fg), gravityNumber(*og))
	}
	return nil
}

// checkWord refuses a word that is not in the list, and names the nearest.
func checkWord(what, word string, allowed []string) error {
	for _, a := range allowed {
		if a == word {
			return nil
		}
	}
	return Refuse(spelling.Hint(word, allowed), "unknown %s %q", what, word)
}

// parsePlain reads a plain number; NaN and Inf are none.
func parsePlain(text string) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err == nil && !figure.Finite(v) {
		return 0, strconv.ErrRange
	}
	return v, err
}

// gravityNumber prints a gravity as a hydrometer shows it, with three decimals,
// or with all that it has.
func gravityNumber(v float64) string {
	s := strconv.FormatFloat(v, 'f', 3, 64)
	// only where the short form reads back the same: a message must show the value that was typed
	if short, err := strconv.ParseFloat(s, 64); err == nil && short == v {
		return s
	}
	return Number(v)
}

// Number prints a value the way a person would type it.
func Number(v float64) string { return strconv.FormatFloat(v, 'g', 8, 64) }

// Round3 keeps three significant digits, for messages.
func Round3(v float64) float64 {
	if v == 0 {
		return 0
	}
	step := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-2)
	return Tidy(math.Round(v/step) * step)
}

// Tidy takes away the dust of binary fractions: no amount is measured to more
// than nine decimals.
func Tidy(v float64) float64 { return math.Round(v*1e9) / 1e9 }
