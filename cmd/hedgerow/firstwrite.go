package main

import (
	"context"
	"errors"

	"hedgerow/trials"
	"hedgerow/trials/store"
)

// change is a write that was begun: what it reads holds until it ends.
type change interface {
	source
	Version(context.Context) (int64, error)
	Pause(ask func() error) error
	Mark(...trials.Mark) error
	Write(what string, f func(*store.Tx) error) error
	Rollback()
}

// errMadeMeanwhile says that another made the notebook, and wrote to it, between the
// look at nothing and the first write.
var errMadeMeanwhile = errors.New("another hedgerow made the notebook meanwhile; repeat the command")

// firstWrite is a write to a notebook that is not there yet. It is made when something is
// to be written: a command that is refused before leaves no file behind.
type firstWrite struct {
	blank
	e *env
}

// Version implements change; nobody else has written.
func (firstWrite) Version(context.Context) (int64, error) { return 0, nil }

// Pause implements change; nobody has to wait meanwhile.
func (firstWrite) Pause(ask func() error) error { return ask() }

// Rollback implements change.
func (firstWrite) Rollback() {}

// Mark implements change.
func (w firstWrite) Mark(list ...trials.Mark) error {
	c, err := w.begin()
	if err != nil {
		return err
	}
	return c.Mark(list...)
}

// Write implements change.
func (w firstWrite) Write(what string, f func(*store.Tx) error) error {
	c, err := w.begin()
	if err != nil {
		return err
	}
	return c.Write(what, f)
}

// begin makes the notebook. What was checked was checked against nothing: it must still
// be blank.
func (w firstWrite) begin() (*store.Change, error) {
	s, err := w.e.store(true)
	if err != nil {
		return nil, err
	}
	made, err := s.Begin(w.e.ctx)
	if err != nil {
		return nil, err
	}
	used, err := made.Used()
	if err == nil && used {
		err = errMadeMeanwhile
	}
	if err != nil {
		made.Rollback()
		return nil, err
	}
	return made, nil
}
