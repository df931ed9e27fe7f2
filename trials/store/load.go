package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"hedgerow/trials"
)

// Notebook reads everything but the scores, which are many; see Whole. All of it
// is as it was at one moment, whatever others write meanwhile.
func (s *Store) Notebook(ctx context.Context) (*trials.Notebook, error) {
	return s.snapshot(ctx, loader.notebook)
}

// Whole reads everything, the scores and the tasters' notes too, as it was at
// one moment.
func (s *Store) Whole(ctx context.Context) (*trials.Notebook, error) {
	return s.snapshot(ctx, loader.whole)
}

// Version is a number that changes when somebody else has written since this store was
// opened; what it wrote itself changes nothing. Numbers of two stores cannot be compared.
func (s *Store) Version(ctx context.Context) (int64, error) {
	v, err := dataVersion(ctx, s.db)
	return v, s.explain(err)
}

// Version is the number that Store.Version gave while nobody else had written more.
func (c *Change) Version(ctx context.Context) (int64, error) {
	v, err := dataVersion(ctx, c.tx)
	return v, c.s.explain(err)
}

// dataVersion asks SQLite for the number of what others have committed.
func dataVersion(ctx context.Context, q queryer) (v int64, err error) {
	rows, err := q.QueryContext(ctx, "PRAGMA data_version")
	if err != nil {
		return 0, err
	}
	defer rows.Close()
	if rows.Next() {
		err = rows.Scan(&v)
	}
	return v, errors.Join(err, rows.Err())
}

// Settings reads the settings alone.
func (s *Store) Settings(ctx context.Context) (map[string]string, error) {
	m, err := settings(ctx, s.db)
	return m, s.explain(err)
}

// snapshot reads in a transaction that writes nothing, so that all tables are
// those of one moment.
func (s *Store) snapshot(ctx context.Context, read func(loader) (*trials.Notebook, error)) (*trials.Notebook, error) {
	// A transaction for reading waits for no writer: in WAL mode it sees the last
	// commit before its first query.
	tx, err := s.db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return nil, s.explain(err)
	}
	defer tx.Rollback()
	n, err := read(loader{ctx, tx, s.now()})
	return n, s.explain(err)
}

// loader reads whole tables within one transaction.
type loader struct {
	ctx context.Context
	q   queryer
	now time.Time
}

// notebook reads everything but the scores.
func (l loader) notebook() (*trials.Notebook, error) {
	n := &trials.Notebook{Now: l.now}
	err := inTurn(
		load(l, batches, &n.Batches),
		load(l, losses, &n.Losses),
		load(l, packagings, &n.Packagings),
		load(l, batchNotes, &n.BatchNotes),
		func() error { return l.extracts(&n.Extracts) },
		load(l, additions, &n.Additions),
		load(l, readings, &n.Readings),
		load(l, meters, &n.Meters),
		load(l, calibrations, &n.Calibrations),
		load(l, claims, &n.Claims),
		load(l, materials, &n.Materials),
		load(l, tasters, &n.Tasters),
		load(l, tastings, &n.Tastings),
		load(l, servings, &n.Servings),
		load(l, places, &n.Places),
		load(l, plans, &n.Plans),
		load(l, toTastes, &n.ToTastes),
		load(l, droppers, &n.Droppers),
		load(l, dosings, &n.Dosings),
		load(l, marks, &n.Marks),
		load(l, suggestions, &n.Suggestions),
		func() (err error) { n.Settings, err = settings(l.ctx, l.q); return err },
	)
	if err != nil {
		return nil, err
	}
	n.Unsealed()
	return n, n.CheckDescent()
}

// whole reads everything.
func (l loader) whole() (*trials.Notebook, error) {
	n, err := l.notebook()
	if err != nil {
		return nil, err
	}
	if err := inTurn(load(l, scores, &n.Scores), load(l, tasterNotes, &n.TasterNotes)); err != nil {
		return nil, err
	}
	return n, nil
}

// inTurn runs steps until one fails.
func inTurn(steps ...func() error) error {
	for _, step := range steps {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

// load is the step that reads a table into list.
func load[T any](l loader, t table[T], list *[]T) func() error {
	return func() (err error) {
		*list, err = t.all(l.ctx, l.q)
		return err
	}
}

// extracts reads the extracts with their passes and top-ups.
func (l loader) extracts(list *[]trials.Extract) error {
	var steeps []passRow
	var waters []topUpRow
	if err := inTurn(load(l, extracts, list), load(l, passes, &steeps), load(l, topUps, &waters)); err != nil {
		return err
	}
	byID := make(map[string]*trials.Extract, len(*list))
	for i := range *list {
		// the list has its length by now: pointers into it stay good
		byID[(*list)[i].ID] = &(*list)[i]
	}
	for _, p := range steeps {
		x, ok := byID[p.ExtractID]
		if !ok {
			return orphan("a pass", p.ID, p.ExtractID)
		}
		x.Passes = append(x.Passes, p.Pass)
	}
	for _, w := range waters {
		x, ok := byID[w.ExtractID]
		if !ok {
			return orphan("a top-up", w.ID, w.ExtractID)
		}
		x.TopUps = append(x.TopUps, w.TopUp)
	}
	return nil
}

// orphan is the refusal of a record whose owner is missing. Foreign keys keep
// hedgerow from writing one; a program that edits the file may not.
func orphan(what, id, extractID string) error {
	return &trials.Problem{Code: trials.ForeignNotebook,
		Message: fmt.Sprintf("the notebook is damaged: %s (%s) belongs to an extract that is not there (%s)",
			what, id, extractID),
		Hint: "take up a copy of the notebook, or name another file with --db"}
}

// settings reads the settings into a map.
func settings(ctx context.Context, q queryer) (map[string]string, error) {
	rows, err := q.QueryContext(ctx, "SELECT key, value FROM setting")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	m := map[string]string{}
	for rows.Next() {
		var k, v string
		if err := rows.Scan(&k, &v); err != nil {
			return nil, err
		}
		m[k] = v
	}
	return m, rows.Err()
}
