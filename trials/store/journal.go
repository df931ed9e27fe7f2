package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"hedgerow/trials"
)

// journaled is one write that the journal keeps, with its key.
type journaled struct {
	trials.Written
	id int64
}

// History returns the writes that the journal keeps, the newest first.
func (s *Store) History(ctx context.Context) ([]trials.Written, error) {
	list, err := writesOf(ctx, s.db, "ORDER BY write_id DESC")
	writes := make([]trials.Written, len(list))
	for i, w := range list {
		writes[i] = w.Written
	}
	return writes, s.explain(err)
}

// writesOf reads writes of the journal.
func writesOf(ctx context.Context, q queryer, which string) ([]journaled, error) {
	rows, err := q.QueryContext(ctx, "SELECT write_id, at, what, undone, lost FROM journal_write "+which)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var list []journaled
	for rows.Next() {
		var w journaled
		if err := rows.Scan(&w.id, moment{&w.At}, &w.What, &w.Undone, &w.Lost); err != nil {
			return nil, err
		}
		list = append(list, w)
	}
	return list, rows.Err()
}

// Undo takes back the last write that was not taken back yet, and returns its
// words. Again, it goes one further back; Redo goes forward.
func (s *Store) Undo(ctx context.Context) (what string, err error) {
	return s.replay(ctx, "WHERE NOT undone ORDER BY write_id DESC LIMIT 1", NothingToUndo())
}

// Redo does again what was taken back last, until something new is written.
func (s *Store) Redo(ctx context.Context) (what string, err error) {
	return s.replay(ctx, "WHERE undone ORDER BY write_id LIMIT 1", NothingToRedo())
}

// NothingToUndo is the problem that no write is left to take back.
func NothingToUndo() error {
	return &trials.Problem{Code: trials.NotFound, Message: "nothing is left that could be taken back",
		Hint: "see hedgerow undo --list for what the journal keeps"}
}

// NothingToRedo is the problem that nothing was taken back.
func NothingToRedo() error {
	return &trials.Problem{Code: trials.NotFound, Message: "nothing was taken back that could be done again",
		Hint: "redo goes forward after undo, until something new is written"}
}

// replay takes back, or does again, the write that which picks.
func (s *Store) replay(ctx context.Context, which string, none error) (what string, err error) {
	c, err := s.Begin(ctx)
	if err != nil {
		return "", err
	}
	// it does nothing once Write has committed
	defer c.Rollback()
	list, err := writesOf(ctx, c.tx, which)
	switch {
	case err != nil:
		return "", s.explain(err)
	case len(list) == 0:
		return "", none
	case list[0].Lost:
		return "", &trials.Problem{Code: trials.NotFound,
			Message: fmt.Sprintf("%q was written by an older hedgerow and cannot be taken back any more", list[0].What),
			Hint:    "a copy from before the upgrade lies beside the notebook, its name ends in .before-v<number>"}
	}
	w := list[0]
	if err := checkWrite(ctx, c.tx, w); err != nil {
		return "", s.explain(err)
	}
	t := &Tx{ctx: ctx, tx: c.tx, now: s.now().UTC()}
	if err := inTurn(func() error { return t.checked(w) }, c.tx.Commit); err != nil {
		return "", s.explain(fmt.Errorf("the journal of %q: %w", w.What, err))
	}
	return w.What, nil
}

// checked turns a write and refuses records that it brings and that could not be typed:
// a journal may come from others. What was at fault before is let pass, so that one bad
// record does not shut the way back.
func (t *Tx) checked(w journaled) error {
	load := loader{t.ctx, t.tx, t.now}.notebook
	var scored bool
	err := t.tx.QueryRowContext(t.ctx, "SELECT EXISTS (SELECT * FROM journal_step"+
		" WHERE write_id = ? AND in_table IN ('score', 'tasting'))", w.id).Scan(&scored)
	if err != nil {
		return err
	}
	// scores are many, and stand within what their tasting says
	if scored {
		load = loader{t.ctx, t.tx, t.now}.whole
	}
	before, err := load()
	if err != nil {
		return err
	}
	if err := t.turn(w); err != nil {
		return err
	}
	after, err := load()
	if err != nil {
		return err
	}
	old := before.Check()
	for _, d := range after.Check() {
		if !slices.Contains(old, d) {
			return &trials.Problem{Code: trials.Invalid,
				Message: fmt.Sprintf("it would bring back what cannot be typed: %s: %s", d.Record, d.What),
				Hint:    "nothing was changed; write what you want of it anew"}
		}
	}
	return nil
}

// turn takes back a write that is done, the last step first, or does one that
// was taken back again, and notes which it is now.
func (t *Tx) turn(w journaled) error {
	steps, err := stepsOf(t.ctx, t.tx, w.id)
	if err != nil {
		return err
	}
	forget := "SELECT 1"
	if w.Undone {
		for i := range steps {
			steps[i].before, steps[i].after = steps[i].after, steps[i].before
		}
		// what was made or changed again stands in its table
		forget = "UPDATE journal_step SET row_after = CASE WHEN row_before IS NOT NULL THEN '" + stands + "' END" +
			" WHERE row_after IS NOT NULL AND write_id = ?"
	} else {
		slices.Reverse(steps)
	}
	return inTurn(
		// A row may come back before the one it refers to; at the end all are there.
		func() error { return t.exec("PRAGMA defer_foreign_keys = ON") },
		func() error { return t.takeBack(steps, !w.Undone) },
		func() error { return t.sealSteps(w.id) },
		func() error { return t.exec(forget, w.id) },
		func() error { return t.exec("UPDATE journal_write SET undone = ? WHERE write_id = ?", !w.Undone, w.id) },
		func() error { return t.sealWrite(w.id) },
	)
}

// takeBack brings rows back, step by step, without a trace in the journal: there
// the steps stand already. With keep, a row that the write had made or changed is written
// down in its step as it goes.
func (t *Tx) takeBack(steps []step, keep bool) error {
	var last int64
	err := t.tx.QueryRowContext(t.ctx, "SELECT coalesce(max(step_id), 0) FROM journal_step").Scan(&last)
	if err != nil {
		return err
	}
	for _, s := range steps {
		if err := s.takeBack(t.ctx, t.tx); err != nil {
			return err
		}
		if keep && (s.before == nil || s.after != nil) {
			if err := t.keepOld(s, last); err != nil {
				return err
			}
		}
	}
	return t.exec("DELETE FROM journal_step WHERE step_id > ?", last)
}

// keepOld writes a row that was just taken back, as the journal noted it behind its last
// step, into the step that had made it so.
func (t *Tx) keepOld(s step, last int64) error {
	return t.exec("UPDATE journal_step SET row_after = (SELECT row_before FROM journal_step"+
		" WHERE step_id > ? AND in_table = ? AND row_key = ? ORDER BY step_id DESC LIMIT 1) WHERE step_id = ?",
		last, s.table, s.key, s.id)
}

// step is one row that a write changed.
type step struct {
	id     int64
	table  string
	key    string
	before *string // JSON of the columns; nil for a row that the write made
	after  *string // JSON of the columns; nil for one that the write deleted, or made and that is there
}

// stands is in the place of a row that a write changed and that is there, as its table
// has it.
const stands = "null"

// stepsOf reads the steps of a write in the order in which they were done.
func stepsOf(ctx context.Context, q queryer, id int64) ([]step, error) {
	rows, err := q.QueryContext(ctx,
		"SELECT step_id, in_table, row_key, row_before, row_after FROM journal_step WHERE write_id = ? ORDER BY step_id", id)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var list []step
	for rows.Next() {
		var s step
		if err := rows.Scan(&s.id, &s.table, &s.key, &s.before, &s.after); err != nil {
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
		toTastes.shape(), droppers.shape(), dosings.shape(),
		scores.shape(), tasterNotes.shape(),
		settingShape,
	}
}

// settingShape is the table of the settings, which has no layout.
var settingShape = shape{"setting", []string{"key", "value", "changed_at"}}

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
