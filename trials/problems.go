package trials

import "errors"

// forUser is an error of the calculating packages that can say what is wrong
// and what to type instead.
type forUser interface {
	error
	ForUser() (message, hint string)
}

// ProblemOf turns the errors of the calculating packages into Problems; other
// errors pass unchanged inside a Problem of code Failed, nil stays nil.
func ProblemOf(err error) error {
	if err == nil {
		return nil
	}
	var p *Problem
	if errors.As(err, &p) {
		return &Problem{Code: p.Code, Message: err.Error(), Hint: p.Hint}
	}
	var u forUser
	if errors.As(err, &u) {
		message, hint := u.ForUser()
		return &Problem{Code: Invalid, Message: message, Hint: hint}
	}
	return &Problem{Code: Invalid, Message: err.Error()}
}
