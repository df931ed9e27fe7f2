package store

import (
	"context"
	"database/sql"
	"fmt"
	"strings"
	"time"

	"hedgerow/trials"
)

// Add inserts every record of n as it is, with its own id, and sets its settings: what
// comes from outside, much at once. A record without times gets the present ones. The order of
// the records does not matter.
func (t *Tx) Add(n *trials.Notebook) error {
	for key, value := range n.Settings {
		if err := t.Set(key, value); err != nil {
			return err
		}
	}
	// what refers to what is looked at when the write ends
	if err := t.exec("PRAGMA defer_foreign_keys = ON"); err != nil {
		return err
	}
	return inTurn(
		func() error {
			return addEach(t, materials, n.Materials, func(r *trials.OwnMaterial) *trials.Record { return &r.Record })
		},
		func() error {
			return addEach(t, meters, n.Meters, func(r *trials.Meter) *trials.Record { return &r.Record })
		},
		func() error {
			return addEach(t, calibrations, n.Calibrations, func(r *trials.Calibration) *trials.Record { return &r.Record })
		},
		func() error {
			return addEach(t, batches, n.Batches, func(r *trials.Batch) *trials.Record { return &r.Record })
		},
		func() error { return t.addExtracts(n.Extracts) },
		func() error {
			return addEach(t, additions, n.Additions, func(r *trials.Addition) *trials.Record { return &r.Record })
		},
		func() error {
			return addEach(t, losses, n.Losses, func(r *trials.Loss) *trials.Record { return &r.Record })
		},
		func() error {
			return addEach(t, packagings, n.Packagings, func(r *trials.Packaging) *trials.Record { return &r.Record })
		},
		func() error {
			return addEach(t, batchNotes, n.BatchNotes, func(r *trials.BatchNote) *trials.Record { return &r.Record })
		},
		func() error {
			return addEach(t, readings, n.Readings, func(r *trials.Reading) *trials.Record { return &r.Record })
		},
		func() error {
			return addEach(t, claims, n.Claims, func(r *trials.Claim) *trials.Record { return &r.Record })
		},
		func() error { return t.addEvenings(n) },
		func() error { return t.addSuggestions(n.Suggestions) },
	)
}

// addEvenings adds tastings, what was said at them, and the plans that they are of.
func (t *Tx) addEvenings(n *trials.Notebook) error {
	return inTurn(
		func() error {
			return addEach(t, tasters, n.Tasters, func(r *trials.Taster) *trials.Record { return &r.Record })
		},
		func() error {
			return addEach(t, tastings, n.Tastings, func(r *trials.Tasting) *trials.Record { return &r.Record })
		},
		func() error { return addEach(t, servings, n.Servings, nil) },
		func() error { return addEach(t, places, n.Places, nil) },
		func() error { return addEach(t, scores, n.Scores, nil) },
		func() error { return addEach(t, tasterNotes, n.TasterNotes, nil) },
		func() error { return addEach(t, marks, n.Marks, nil) },
		func() error {
			return addEach(t, plans, n.Plans, func(r *trials.Plan) *trials.Record { return &r.Record })
		},
		func() error { return addEach(t, toTastes, n.ToTastes, nil) },
		func() error { return addEach(t, droppers, n.Droppers, nil) },
		func() error { return addEach(t, dosings, n.Dosings, nil) },
	)
}

// addSuggestions inserts suggestions, each in the place of the one that was kept for its
// material.
func (t *Tx) addSuggestions(list []trials.Suggestion) error {
	for _, s := range list {
		if err := t.exec("DELETE FROM suggestion WHERE material_key = ?", s.MaterialKey); err != nil {
			return err
		}
	}
	return addEach(t, suggestions, list, nil)
}

// addExtracts inserts extracts with their passes and top-ups.
func (t *Tx) addExtracts(list []trials.Extract) error {
	var steeps []passRow
	var waters []topUpRow
	for _, e := range list {
		for i, p := range e.Passes {
			if p.LoggedAt.IsZero() {
				p.LoggedAt = t.now
			}
			steeps = append(steeps, passRow{Pass: p, ExtractID: e.ID, Place: i + 1})
		}
		for i, w := range e.TopUps {
			waters = append(waters, topUpRow{TopUp: w, ExtractID: e.ID, Place: i + 1})
		}
	}
	return inTurn(
		func() error {
			return addEach(t, extracts, list, func(r *trials.Extract) *trials.Record { return &r.Record })
		},
		func() error { return addEach(t, passes, steeps, nil) },
		func() error { return addEach(t, topUps, waters, nil) },
	)
}

// addEach inserts the records of a list, for which the statement is prepared once.
// record gives the name and times of one; nil where the records have none.
func addEach[T any](t *Tx, tab table[T], list []T, record func(*T) *trials.Record) error {
	if len(list) == 0 {
		return nil
	}
	insert, err := tab.inserting(t.ctx, t.tx)
	if err != nil {
		return err
	}
	defer insert.Close()
	s := tab.shape()
	for i := range list {
		// a copy: the caller's records stay as they are
		r, name := list[i], ""
		if record != nil {
			own := record(&r)
			own.CreatedAt, own.ChangedAt = orNow(own.CreatedAt, t.now), orNow(own.ChangedAt, t.now)
			name = own.Name
		}
		values := tab.places(&r)
		sum, err := s.digest(values)
		if err != nil {
			return err
		}
		if _, err := insert.ExecContext(t.ctx, append([]any{sum}, values...)...); err != nil {
			return named(fmt.Errorf("write %s: %w", tab.name, err), tab.name, name)
		}
	}
	return nil
}

// orNow is a time, or now where it is not set.
func orNow(at, now time.Time) time.Time {
	if at.IsZero() {
		return now
	}
	return at
}

// inserting prepares the statement that inserts a row with its digest.
func (t table[T]) inserting(ctx context.Context, tx *sql.Tx) (*sql.Stmt, error) {
	marks := strings.Repeat(", ?", len(t.columns))
	s, err := tx.PrepareContext(ctx, "INSERT INTO "+t.name+" ("+digestColumn+", "+t.names()+") VALUES (?"+marks+")")
	if err != nil {
		return nil, fmt.Errorf("write %s: %w", t.name, err)
	}
	return s, nil
}
