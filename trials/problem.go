package trials

import (
	"errors"
	"fmt"
	"time"
)

// Code sorts the problems a user can meet, so that a caller can choose an exit
// status without reading the message.
type Code string

// The codes. Their text is part of the machine-readable contract.
const (
	Invalid         Code = "invalid"          // a value outside what is allowed
	NotFound        Code = "not_found"        // no record of that name
	NotEnough       Code = "not_enough"       // too little data to answer at all
	Busy            Code = "busy"             // another process holds the notebook
	ForeignNotebook Code = "foreign_notebook" // not a hedgerow database, or a newer one
	Failed          Code = "failed"           // anything else that went wrong
)

// Problem is an error for a person: what is wrong with which value, and what
// to type instead. Message and Hint are one line each, without a full stop.
type Problem struct {
	Code    Code   // which kind of trouble it is
	Message string // what is wrong, one line without a full stop
	Hint    string // what to type instead, one line
}

// Error returns the message alone; the hint is printed on a line of its own.
func (p *Problem) Error() string { return p.Message }

// Refuse returns a Problem with code Invalid.
func Refuse(hint, format string, args ...any) error {
	return &Problem{Code: Invalid, Message: fmt.Sprintf(format, args...), Hint: hint}
}

// CodeOf returns the code of the first Problem that err wraps, else Failed.
func CodeOf(err error) Code {
	var p *Problem
	if errors.As(err, &p) {
		return p.Code
	}
	return Failed
}

// forUser is an error of the calculating packages that can say what is wrong
// and what to type instead.
type forUser interface {
	error
	ForUser() (message, hint string)
}

// ProblemOf turns the errors of the calculating packages into Problems; other
// errors pass unchanged inside a Problem of code Invalid, nil stays nil.
func ProblemOf(err error) error {
	if err == nil {
		return nil
	}
	var p *Problem
	// what was put round a Problem on its way stays in the message; code and hint are still its own
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

// Apart prints two moments that an error sets against each other, as the clock on the
// wall shows them: by their days, and by the hour too where they lie on one day.
func Apart(a, b time.Time) (textA, textB string) {
	const day, hour = time.DateOnly, "2006-01-02 15:04"
	a, b = a.Local(), b.Local()
	if a.Format(day) != b.Format(day) {
		return a.Format(day), b.Format(day)
	}
	return a.Format(hour), b.Format(hour)
}
