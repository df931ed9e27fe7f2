package main

import (
	"io"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"hedgerow/report/document"
	"hedgerow/report/evenings"
	"hedgerow/report/phones"
	"hedgerow/trials"
)

// desk takes what phones send, one after the other: an env holds one write at a time.
type desk struct {
	mu        sync.Mutex
	e         *env
	tastingID string
	closed    func()                // called once the tasting was closed here
	seen      atomic.Pointer[sight] // the notebook as it was seen last
}

// sight is the notebook as it was at one moment. It is never changed: several requests
// look at it at once.
type sight struct {
	n       *trials.Notebook
	version int64     // of the store, while nobody else has written
	at      time.Time // when it was known to be the present one
}

// fresh is how long the notebook may have been seen before: what is typed in a terminal
// shows on a phone that much later. A write always looks again.
const fresh = 250 * time.Millisecond

// book is the notebook as the pages reach it.
func (d *desk) book() phones.Book {
	return phones.Book{Read: d.read, Enter: d.enter, Join: d.join, Close: d.close, Result: d.result}
}

// read returns the records with the scores of the tasting.
func (d *desk) read() (*trials.Notebook, error) {
	if s := d.seen.Load(); s != nil && time.Since(s.at) < fresh {
		return s.n, nil
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	// meanwhile another request may have looked
	if s := d.seen.Load(); s != nil && time.Since(s.at) < fresh {
		return s.n, nil
	}
	// for writing, as the scores will need it: another connection would count its versions anew
	s, err := d.e.store(true)
	if err != nil {
		return nil, err
	}
	version, err := s.Version(d.e.ctx)
	if err != nil {
		return nil, err
	}
	return d.look(version, d.e.readingScores)
}

// look returns the notebook as it was seen, if it has that version still, else reads it.
func (d *desk) look(version int64, read func() (*trials.Notebook, error)) (*trials.Notebook, error) {
	now := time.Now()
	if s := d.seen.Load(); s != nil && s.version == version {
		d.seen.Store(&sight{s.n, version, now})
		return s.n, nil
	}
	n, err := read()
	if err != nil {
		return nil, err
	}
	// what others scored in years is read once, and not carried along with each answer
	n.Scores = slices.DeleteFunc(n.Scores, func(s trials.Score) bool { return s.TastingID != d.tastingID })
	n.TasterNotes = slices.DeleteFunc(n.TasterNotes, func(x trials.TasterNote) bool {
		return x.TastingID != d.tastingID
	})
	d.seen.Store(&sight{n, version, now})
	return n, nil
}

// enter keeps the answers of one taster about one glass, in the place of those before.
func (d *desk) enter(m trials.Marks) error {
	return d.change(func(n *trials.Notebook, t trials.Tasting) (*trials.Notebook, error) {
		entry, err := n.Revise(t, m, d.e.now())
		if err != nil || entry.Empty() {
			return n, err
		}
		if err := d.e.keepScores(n, t, &entry); err != nil {
			return nil, err
		}
		after := *n
		after.Scores, after.TasterNotes = slices.Clone(n.Scores), slices.Clone(n.TasterNotes)
		after.Took(entry)
		return &after, nil
	})
}

// join gives one more taster an order.
func (d *desk) join(name string) error {
	return d.change(func(n *trials.Notebook, t trials.Tasting) (*trials.Notebook, error) {
		own := *n
		own.Tasters, own.Places = slices.Clone(n.Tasters), slices.Clone(n.Places)
		return nil, d.e.joinTasting(&own, t, []string{name})
	})
}

// close closes the tasting.
func (d *desk) close() error {
	err := d.change(func(n *trials.Notebook, t trials.Tasting) (*trials.Notebook, error) {
		own := *n
		own.Marks = slices.Clone(n.Marks)
		_, err := d.e.closeTasting(&own, t, closing{})
		return nil, err
	})
	if err == nil {
		d.closed()
	}
	return err
}

// change does one write to the tasting. What do returns is the notebook after it, nil
// where it must be read anew.
func (d *desk) change(do func(*trials.Notebook, trials.Tasting) (*trials.Notebook, error)) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.e.begin(); err != nil {
		return err
	}
	defer d.e.release()
	version, err := d.e.change.Version(d.e.ctx)
	if err != nil {
		return err
	}
	n, err := d.look(version, d.e.writingScores)
	if err != nil {
		return err
	}
	t, err := d.tasting(n)
	if err != nil {
		return err
	}
	after, err := do(n, t)
	switch {
	case err != nil:
		return err
	case after == nil:
		d.seen.Store(nil)
	default:
		d.seen.Store(&sight{after, version, time.Now()})
	}
	return nil
}

// result writes the page with the result.
func (d *desk) result(w io.Writer) error {
	n, err := d.read()
	if err != nil {
		return err
	}
	t, ok := n.TastingByID(d.tastingID)
	if !ok {
		return d.gone()
	}
	v := evenings.Tasting(n, t, false)
	v.Document.Made = n.Settings[trials.SettingHeading]
	return document.WriteHTML(w, v.Document)
}

// tasting finds the tasting that is served, which must still take scores.
func (d *desk) tasting(n *trials.Notebook) (trials.Tasting, error) {
	t, ok := n.TastingByID(d.tastingID)
	if !ok {
		return t, d.gone()
	}
	return openTasting(n, t.Name, false)
}

// gone is the error of a tasting that was deleted while it is served.
func (d *desk) gone() error {
	return &trials.Problem{Code: trials.NotFound, Message: "the tasting is not in the notebook any more"}
}
