package trials

import (
	"errors"

	"hedgerow/dilution"
	"hedgerow/extraction"
)

// problemOf turns the errors of the calculating packages into Problems; other
// errors pass unchanged inside a Problem of code Failed.
func problemOf(err error) error {
	var p *Problem
	if errors.As(err, &p) {
		return &Problem{Code: p.Code, Message: err.Error(), Hint: p.Hint}
	}
	var d *dilution.InputError
	if errors.As(err, &d) {
		return &Problem{Code: Invalid, Message: d.Problem(), Hint: d.Hint}
	}
	var x *extraction.InputError
	if errors.As(err, &x) {
		return &Problem{Code: Invalid, Message: x.Error(), Hint: x.Hint}
	}
	return &Problem{Code: Invalid, Message: err.Error()}
}
