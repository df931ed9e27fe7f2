package main

import (
	"context"
	"fmt"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/store"
)

// source is what records are read from.
type source interface {
	Notebook(context.Context) (*trials.Notebook, error)
	Whole(context.Context) (*trials.Notebook, error)
	Settings(context.Context) (map[string]string, error)
}

// source returns the write that was begun, so that a command sees one moment
// from its first look to what it writes, else the store; before the first write it is
// an empty notebook, since reading makes no file.
func (e *env) source() (source, error) {
	if e.change != nil {
		return e.change, nil
	}
	if _, err := e.notebookPath(); err != nil {
		return nil, err
	}
	if e.open == nil && e.noNotebook() {
		return blank{e.now()}, nil
	}
	return e.store(false)
}

// blank is the notebook before anything was written.
type blank struct{ now time.Time }

// Notebook implements source.
func (b blank) Notebook(context.Context) (*trials.Notebook, error) {
	return &trials.Notebook{Now: b.now}, nil
}

// Whole implements source.
func (b blank) Whole(ctx context.Context) (*trials.Notebook, error) { return b.Notebook(ctx) }

// Settings implements source.
func (b blank) Settings(context.Context) (map[string]string, error) { return nil, nil }

// reading reads the records, without the scores.
func (e *env) reading() (*trials.Notebook, error) {
	r, err := e.source()
	if err != nil {
		return nil, err
	}
	return r.Notebook(e.ctx)
}

// beforeWriting reads the records for a question that comes before a write: none where
// there is no notebook yet, since the write will make the one that was named.
func (e *env) beforeWriting() (*trials.Notebook, error) {
	if e.missing() {
		// begun though a person is asked: without a file nobody has to wait
		if err := e.begin(); err != nil {
			return nil, err
		}
	}
	return e.reading()
}

// readingScores reads the records and the scores.
func (e *env) readingScores() (*trials.Notebook, error) {
	r, err := e.source()
	if err != nil {
		return nil, err
	}
	return r.Whole(e.ctx)
}

// writing begins a write and reads the records, without the scores. Nobody else
// writes from here to save or write, so what is checked in between still holds
// there. A person must not be asked in between: others would have to wait.
func (e *env) writing() (*trials.Notebook, error) {
	if err := e.begin(); err != nil {
		return nil, err
	}
	n, err := e.change.Notebook(e.ctx)
	e.held = n
	return n, err
}

// writingScores is writing with the scores.
func (e *env) writingScores() (*trials.Notebook, error) {
	if err := e.begin(); err != nil {
		return nil, err
	}
	return e.change.Whole(e.ctx)
}

// begin holds the notebook for a write, unless it is held already.
func (e *env) begin() error {
	if e.change != nil {
		return nil
	}
	if e.open == nil && e.missing() {
		e.change = firstWrite{blank{e.now()}, e}
		return nil
	}
	s, err := e.store(true)
	if err != nil {
		return err
	}
	begun, err := s.Begin(e.ctx)
	if err == nil {
		e.change = begun
	}
	return err
}

// release lets the notebook go as it was, if it is held.
func (e *env) release() {
	if e.change != nil {
		e.change.Rollback()
		e.change, e.held = nil, nil
	}
}

// mark keeps marks, which no undo takes away, and ends what writing began.
func (e *env) mark(list ...trials.Mark) error {
	if err := e.begin(); err != nil {
		return err
	}
	defer e.release()
	err := e.change.Mark(list...)
	e.wrote = e.wrote || err == nil
	return err
}

// save writes records, named in the journal by what, and ends the write. Of an equal
// one of the last minutes it asks at a terminal whether it is meant twice; elsewhere it
// remarks it.
func (e *env) save(what string, records ...any) error {
	var twin trials.Record
	found := false
	if e.held != nil {
		twin, found = e.held.Twin(records...)
	}
	ago := "just now"
	if minutes := int(e.now().Sub(twin.CreatedAt).Minutes()); minutes > 0 {
		ago = fmt.Sprintf("%d min ago", minutes)
	}
	asking := found && isTerminal(e.stdin) && !e.flags.json
	if asking {
		question := fmt.Sprintf("%s, written %s, says the same. Write it once more?", twin.Name, ago)
		if err := e.change.Pause(func() error { return e.confirm(question, false) }); err != nil {
			e.release()
			return err
		}
	}
	err := e.write(what, func(tx *store.Tx) error { return tx.Save(records...) })
	if err == nil && found && !asking {
		e.remark("note: it says the same as %s, written %s; if it was meant once: hedgerow undo", twin.Name, ago)
	}
	return err
}

// write runs f as the write that writing began, named in the journal by what,
// and ends it. It is the one way in which a command changes the notebook.
func (e *env) write(what string, f func(*store.Tx) error) error {
	if err := e.begin(); err != nil {
		return err
	}
	defer e.release()
	err := e.change.Write(what, f)
	e.wrote = e.wrote || err == nil
	return err
}
