package extraction

import (
	"fmt"
	"strconv"

	"hedgerow/trials/figure"
)

// inputError refuses an input: Message names the value and what is allowed,
// Hint says what to type instead. Each is one line without a full stop.
type inputError struct {
	Message string
	Hint    string
}

// Error returns the message alone.
func (e *inputError) Error() string { return e.Message }

// ForUser returns the sentence and the hint apart.
func (e *inputError) ForUser() (message, hint string) { return e.Message, e.Hint }

// Refuse returns an inputError.
func Refuse(hint, format string, args ...any) error {
	return &inputError{Message: fmt.Sprintf(format, args...), Hint: hint}
}

// boilingC is where water boils, C; a steep in an open vessel is held to it.
const boilingC = 100.0

// number prints v as it would be typed, with at most six significant digits.
func number(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

// checkNotNegative refuses negative and non-finite amounts.
func checkNotNegative(what string, v float64, unit string) error {
	if v >= 0 && figure.Finite(v) {
		return nil
	}
	return Refuse("give zero or more", "%s %s %s is negative or not a number", what, number(v), unit)
}

// checkPositive refuses zero, negative and non-finite amounts.
func checkPositive(what string, v float64, unit string) error {
	if v > 0 && figure.Finite(v) {
		return nil
	}
	return Refuse("give an amount above zero", "%s %s %s is not above zero", what, number(v), unit)
}

// checkShare refuses anything outside 0 to 1.
func checkShare(what string, v float64) error {
	if v >= 0 && v <= 1 {
		return nil
	}
	return Refuse("give a share between 0 and 1", "%s %s is outside 0 to 1", what, number(v))
}

// checkMoisture refuses a moisture fraction outside 0 <= M < 1.
func checkMoisture(m float64) error {
	if m >= 0 && m < 1 {
		return nil
	}
	return Refuse("give the water in 100 g of material, such as 10% for dried or 85% for fresh fruit",
		"moisture %s %% is outside 0 to below 100 %%", number(m*100))
}

// checkTemp refuses a temperature outside figure.TempMinC to figure.TempMaxC.
func checkTemp(what string, tempC float64) error {
	if tempC >= figure.TempMinC && tempC <= figure.TempMaxC {
		return nil
	}
	return Refuse("check the value and its unit, such as 96C or 205F",
		"%s %s C is outside %s to %s C", what, number(tempC), number(figure.TempMinC), number(figure.TempMaxC))
}

// firstError returns the first error that is not nil.
func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
