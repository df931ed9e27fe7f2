package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"hedgerow/trials"
)

// Undo takes back the last write and returns its words. It is itself a write,
// so that a second Undo brings back what the first took away.
func (s *Store) Undo(ctx context.Context) (what string, err error) {
	c, err := s.Begin(ctx)
	if err != nil {
		return "", err
	}
	// it does nothing once Write has committed
	defer c.Rollback()
	var id int64
	var lost bool
	const newest = "SELECT write_id, what, lost FROM journal_write ORDER BY write_id DESC LIMIT 1"
	err = c.tx.QueryRowContext(ctx, newest).Scan(&id, &what, &lost)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return "", &trials.Problem{Code: trials.NotFound,
			Message: "nothing has been written yet", Hint: "undo takes back the last write"}
	case err != nil:
		return "", s.explain(err)
	case lost:
		return "", &trials.Problem{Code: trials.NotFound,
			Message: fmt.Sprintf("%q was written by an older hedgerow and cannot be taken back any more", what),
			Hint:    "a copy from before the upgrade lies beside the notebook, its name ends in .before-v<number>"}
	}
	return what, c.Write("undo of: "+what, func(t *Tx) error { return t.takeBack(id, what) })
}

// takeBack turns the steps of a write round, the last one first, and strikes the
// write from the journal.
func (t *Tx) takeBack(id int64, what string) error {
	// A row may come back before the one it refers to; at the end all are there.
	if _, err := t.tx.ExecContext(t.ctx, "PRAGMA defer_foreign_keys = ON"); err != nil {
		return err
	}
	steps, err := stepsOf(t.ctx, t.tx, id)
	if err != nil {
		return err
	}
	slices.Reverse(steps)
	for _, s := range steps {
		if err := s.takeBack(t.ctx, t.tx); err != nil {
			return fmt.Errorf("undo %q: %w", what, err)
		}
	}
	_, err = t.tx.ExecContext(t.ctx, "DELETE FROM journal_write WHERE write_id = ?", id)
	return err
}

// step is one row that a write changed.
type step struct {
	table  string
	key    string
	before *string // JSON of the columns; nil for a row that the write made
	after  *string // JSON of the columns; nil for a row that the write deleted
}

// stepsOf reads the steps of a write in the order in which they were done.
func stepsOf(ctx context.Context, q queryer, id int64) ([]step, error) {
	rows, err := q.QueryContext(ctx,
		"SELECT in_table, row_key, row_before, row_after FROM journal_step WHERE write_id = ? ORDER BY step_id", id)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var list []step
	for rows.Next() {
		var s step
		if err := rows.Scan(&s.table, &s.key, &s.before, &s.after); err != nil {
			return nil, err
		}
		list = append(list, s)
	}
	return list, rows.Err()
}

// takeBack brings the row back to what it was before the step. The statement is
// made of names that the program knows; from the journal come values alone.
func (s step) takeBack(ctx context.Context, tx *sql.Tx) error {
	t, ok := shapeOf(s.table)
	if !ok {
		return fmt.Errorf("the journal names a table %q that is not known", s.table)
	}
	query, args := "DELETE FROM "+t.name+" WHERE "+t.columns[0]+" = ?", []any{s.key}
	if s.before != nil {
		columns, err := t.columnsIn(*s.before)
		if err != nil {
			return err
		}
		query, args = s.restore(t, columns)
	}
	res, err := tx.ExecContext(ctx, query, args...)
	if err != nil {
		return fmt.Errorf("%s %s: %w", t.name, s.key, err)
	}
	return oneRow(res, t.name+" "+s.key)
}

// restore is the statement that gives a row the columns it had before the step.
// SQLite takes the values out of the JSON itself, so that text and numbers come
// back to the last bit.
func (s step) restore(t shape, columns []string) (query string, args []any) {
	var values, set []string
	for _, c := range columns {
		const value = "json_extract(?, ?)"
		values, set = append(values, value), append(set, c+" = "+value)
		args = append(args, *s.before, "$."+c)
	}
	if s.after == nil {
		// a value comes from the journal, a column name from the program
		query = "INSERT INTO " + t.name + " (" + strings.Join(columns, ", ") + ") VALUES (" + strings.Join(values, ", ") + ")"
		return query, args
	}
	query = "UPDATE " + t.name + " SET " + strings.Join(set, ", ") + " WHERE " + t.columns[0] + " = ?"
	return query, append(args, s.key)
}

// shape is what the journal must know of a table: its columns, the key first.
type shape struct {
	name    string
	columns []string
}

// shape returns the names in a layout.
func (t table[T]) shape() shape {
	s := shape{name: t.name}
	for _, c := range t.columns {
		s.columns = append(s.columns, c.name)
	}
	return s
}

// shapes lists every table that the journal follows.
func shapes() []shape {
	return []shape{
		batches.shape(), losses.shape(), packagings.shape(), batchNotes.shape(),
		extracts.shape(), passes.shape(), topUps.shape(), additions.shape(),
		readings.shape(), meters.shape(), calibrations.shape(), claims.shape(), materials.shape(),
		tasters.shape(), tastings.shape(), servings.shape(), places.shape(), plans.shape(),
		scores.shape(), tasterNotes.shape(),
		{"setting", []string{"key", "value", "changed_at"}},
	}
}

// shapeOf finds a table by its name.
func shapeOf(table string) (shape, bool) {
	list := shapes()
	i := slices.IndexFunc(list, func(s shape) bool { return s.name == table })
	if i < 0 {
		return shape{}, false
	}
	return list[i], true
}

// columnsIn returns the columns that a row of the journal holds, in the order of
// the table, and refuses one that is not known.
func (s shape) columnsIn(row string) ([]string, error) {
	var held map[string]json.RawMessage
	if err := json.Unmarshal([]byte(row), &held); err != nil {
		return nil, fmt.Errorf("the journal of %s cannot be read: %w", s.name, err)
	}
	var columns []string
	for _, c := range s.columns {
		if _, ok := held[c]; ok {
			columns = append(columns, c)
			delete(held, c)
		}
	}
	for c := range held {
		return nil, fmt.Errorf("the journal names a column %q of %s that is not known", c, s.name)
	}
	return columns, nil
}
