package store

import (
	"context"

	"hedgerow/trials"
)

// Notebook reads everything but the scores, which are many; see Scores.
func (s *Store) Notebook(ctx context.Context) (*trials.Notebook, error) {
	n := &trials.Notebook{Now: s.now()}
	loads := []error{
		load(ctx, s, batches, &n.Batches),
		load(ctx, s, losses, &n.Losses),
		load(ctx, s, packagings, &n.Packagings),
		load(ctx, s, batchNotes, &n.BatchNotes),
		s.loadExtracts(ctx, &n.Extracts),
		load(ctx, s, additions, &n.Additions),
		load(ctx, s, readings, &n.Readings),
		load(ctx, s, meters, &n.Meters),
		load(ctx, s, calibrations, &n.Calibrations),
		load(ctx, s, claims, &n.Claims),
		load(ctx, s, materials, &n.Materials),
		load(ctx, s, tasters, &n.Tasters),
		load(ctx, s, tastings, &n.Tastings),
		load(ctx, s, servings, &n.Servings),
		load(ctx, s, places, &n.Places),
		load(ctx, s, plans, &n.Plans),
		s.loadSettings(ctx, &n.Settings),
	}
	for _, err := range loads {
		if err != nil {
			return nil, explain(err)
		}
	}
	return n, nil
}

// Scores adds the scores and the tasters' notes to a notebook.
func (s *Store) Scores(ctx context.Context, n *trials.Notebook) error {
	if err := load(ctx, s, scores, &n.Scores); err != nil {
		return explain(err)
	}
	return explain(load(ctx, s, tasterNotes, &n.TasterNotes))
}

// Batches reads the batches alone, for lists and completion.
func (s *Store) Batches(ctx context.Context) ([]trials.Batch, error) {
	list, err := batches.all(ctx, s.db, "")
	return list, explain(err)
}

// Settings reads the settings alone.
func (s *Store) Settings(ctx context.Context) (map[string]string, error) {
	var m map[string]string
	err := s.loadSettings(ctx, &m)
	return m, explain(err)
}

// load reads a whole table into list.
func load[T any](ctx context.Context, s *Store, t table[T], list *[]T) (err error) {
	*list, err = t.all(ctx, s.db, "")
	return err
}

// loadExtracts reads the extracts with their passes and top-ups.
func (s *Store) loadExtracts(ctx context.Context, list *[]trials.Extract) error {
	if err := load(ctx, s, extracts, list); err != nil {
		return err
	}
	rows, err := passes.all(ctx, s.db, "")
	if err != nil {
		return err
	}
	place := make(map[string]int, len(*list))
	for i, e := range *list {
		place[e.ID] = i
	}
	for _, p := range rows {
		e := &(*list)[place[p.ExtractID]]
		e.Passes = append(e.Passes, p.Pass)
	}
	waters, err := topUps.all(ctx, s.db, "")
	if err != nil {
		return err
	}
	for _, w := range waters {
		e := &(*list)[place[w.ExtractID]]
		e.TopUps = append(e.TopUps, w.TopUp)
	}
	return nil
}

// loadSettings reads the settings into a map.
func (s *Store) loadSettings(ctx context.Context, m *map[string]string) error {
	rows, err := s.db.QueryContext(ctx, "SELECT key, value FROM setting")
	if err != nil {
		return err
	}
	defer rows.Close()
	*m = map[string]string{}
	for rows.Next() {
		var k, v string
		if err := rows.Scan(&k, &v); err != nil {
			return err
		}
		(*m)[k] = v
	}
	return rows.Err()
}
