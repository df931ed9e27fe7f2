package dilution

import (
	"fmt"
	"math"

	"hedgerow/trials/figure"
)

// inputError says which value cannot be used, what is allowed, and what to
// give instead.
type inputError struct {
	What    string  // name of the quantity, with its unit where it has one
	Value   float64 // the value as given
	Allowed string  // what is allowed, as a sentence part
	Hint    string  // what to give instead; may be empty
}

// Error gives the whole sentence, hint included.
func (e *inputError) Error() string {
	if e.Hint == "" {
		return e.problem()
	}
	return e.problem() + "; " + e.Hint
}

// problem gives the sentence without the hint, for callers that print the hint
// on a line of its own.
func (e *inputError) problem() string {
	return fmt.Sprintf("%s %s %s", e.What, number(e.Value), e.Allowed)
}

// ForUser returns the sentence and the hint apart.
func (e *inputError) ForUser() (message, hint string) { return e.problem(), e.Hint }

// number prints a value as a person would type it; not-a-number and infinity
// become words.
func number(v float64) string {
	switch {
	case math.IsNaN(v):
		return "(not a number)"
	case math.IsInf(v, 0):
		return "(infinite)"
	}
	return fmt.Sprintf("%.6g", v)
}

// within returns an *inputError unless lo <= v <= hi; something that is not a
// number is outside every range.
func within(what string, v, lo, hi float64, hint string) error {
	if figure.Finite(v) && v >= lo && v <= hi {
		return nil
	}
	return &inputError{
		What:    what,
		Value:   v,
		Allowed: fmt.Sprintf("is outside %s to %s", number(lo), number(hi)),
		Hint:    hint,
	}
}

// largestAmount is beyond any volume, mass or total that is brewed; larger
// numbers are slips, and squares of the largest ones would overflow.
const largestAmount = 1e9

// positive returns an *inputError unless v is an amount above zero.
func positive(what string, v float64) error {
	if v > 0 {
		return notNegative(what, v)
	}
	return &inputError{What: what, Value: v, Allowed: "must be above zero"}
}

// notNegative returns an *inputError unless v is zero or an amount above it.
func notNegative(what string, v float64) error {
	switch {
	case v >= 0 && v <= largestAmount:
		return nil
	case v > largestAmount:
		return &inputError{What: what, Value: v, Allowed: "is above the largest amount accepted, 1e9",
			Hint: "check the number and its unit"}
	}
	return &inputError{What: what, Value: v, Allowed: "must not be negative"}
}

// firstError returns the first of errs that is not nil, so that a list of checks
// reads as one.
func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
