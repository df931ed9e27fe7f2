package main

import (
	"slices"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/steeps"
)

// saveExtract writes a changed extract if it can be and every pour of it still
// stands, and says which pours it changes.
func (e *env) saveExtract(n *trials.Notebook, x trials.Extract, why string) error {
	if err := x.Validate(); err != nil {
		return err
	}
	if err := e.checkExtract(n, x); err != nil {
		return err
	}
	// an extract may be in several batches: their accounts all rest on it
	if err := ledger.CheckPoured(n.With(x), n, x); err != nil {
		return err
	}
	changed, err := changedPours(n, x)
	if err != nil {
		return err
	}
	if err := e.save(why, &x); err != nil {
		return err
	}
	// told after the write, when it is true
	for _, text := range changed {
		e.remark("%s", text)
	}
	return nil
}

// changedPours says which pours of an extract carry something else with it as it
// is to be: the notebook n has it as it was.
func changedPours(n *trials.Notebook, x trials.Extract) ([]string, error) {
	old, ok := n.ExtractByID(x.ID)
	if !ok || len(old.Passes) == 0 || len(x.Passes) == 0 {
		return nil, nil
	}
	materials, err := n.Catalogue()
	if err != nil {
		return nil, err
	}
	before, err := steeps.JugOf(n, materials, old)
	if err != nil {
		return nil, nil // what could not be reckoned before is not known to change
	}
	after, err := steeps.JugOf(n.With(x), materials, x)
	return after.Changes(before), err
}

// tellPours remarks which pours, other than the addition that was written itself,
// carry something else in one notebook than in another.
func (e *env) tellPours(before, after *trials.Notebook, but string) {
	for _, x := range after.Extracts {
		old, ok := before.ExtractByID(x.ID)
		if !ok || !slices.ContainsFunc(before.Additions, func(a trials.Addition) bool {
			return a.ID != but && a.ExtractID != nil && *a.ExtractID == x.ID
		}) {
			continue
		}
		// what cannot be reckoned is told by whatever reckons it
		was, err := jugIn(before, old)
		if err != nil {
			continue
		}
		is, err := jugIn(after, x)
		if err != nil {
			continue
		}
		was.Pours = slices.DeleteFunc(was.Pours, func(p steeps.Pour) bool { return p.Addition.ID == but })
		for _, text := range is.Changes(was) {
			e.remark("%s", text)
		}
	}
}

// jugIn follows an extract of a notebook.
func jugIn(n *trials.Notebook, x trials.Extract) (steeps.Jug, error) {
	materials, err := n.Catalogue()
	if err != nil {
		return steeps.Jug{}, err
	}
	return steeps.JugOf(n, materials, x)
}

// datePass reads when a new pass ended. Without a time it says after which pour the
// pass is taken to have come, lest that be a surprise.
func (e *env) datePass(n *trials.Notebook, x trials.Extract, p *trials.Pass, at string) error {
	p.LoggedAt = e.now().UTC()
	if at != "" {
		ended, err := e.parseWhen(at, x.MadeAt)
		p.EndedAt = &ended
		return err
	}
	pours := slices.DeleteFunc(slices.Clone(n.Additions), func(a trials.Addition) bool {
		return a.ExtractID == nil || *a.ExtractID != x.ID || !a.CreatedAt.Before(p.LoggedAt)
	})
	if len(pours) == 0 || len(x.Passes) == 0 {
		return nil
	}
	last := slices.MaxFunc(pours, func(a, b trials.Addition) int { return a.At.Compare(b.At) })
	e.remark("the pass is taken to have ended after %s was poured, since that was logged before it; "+
		"if not, say when with --at", last.Name)
	return nil
}

// replacePass puts a pass in the place of the one with that number, under its id
// and with its times. Of a pass only the time may change.
func (e *env) replacePass(x *trials.Extract, number int, passes []string, ended string) error {
	if number > len(x.Passes) || len(passes) > 1 || len(passes) == 0 && ended == "" {
		return trials.Refuse("give one --pass or --ended, and the number of the pass it replaces",
			"extract %s has %d passes", x.Name, len(x.Passes))
	}
	p := x.Passes[number-1]
	if len(passes) == 1 {
		made, err := e.pass(passes[0])
		if err != nil {
			return err
		}
		// passes and pours stand in the order of these: a corrected pass must not move behind a pour of it
		made.ID, made.EndedAt, made.LoggedAt = p.ID, p.EndedAt, p.LoggedAt
		p = made
	}
	if ended != "" {
		at, err := e.parseWhen(ended, x.MadeAt)
		if err != nil {
			return err
		}
		p.EndedAt = &at
	}
	x.Passes = slices.Clone(x.Passes)
	x.Passes[number-1] = p
	return nil
}

// moveExtract reads a new time for the making of an extract. What is dated of its
// passes stays where it was said to be.
func (e *env) moveExtract(x *trials.Extract, at string) (err error) {
	if at != "" {
		x.MadeAt, err = e.parseWhen(at, time.Time{})
	}
	return err
}
