package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"hedgerow/trials"
)

// Undo takes back the last write and returns its words. It is itself a write,
// so that a second Undo brings back what the first took away.
func (s *Store) Undo(ctx context.Context) (what string, err error) {
	c, err := s.Begin(ctx)
	if err != nil {
		return "", err
	}
	defer c.Rollback()
	var id int64
	err = c.tx.QueryRowContext(ctx, "SELECT write_id, what FROM journal_write ORDER BY write_id DESC LIMIT 1").Scan(&id, &what)
	if errors.Is(err, sql.ErrNoRows) {
		return "", &trials.Problem{Code: trials.NotFound, Message: "nothing has been written yet", Hint: "undo takes back the last write"}
	}
	if err != nil {
		return "", explain(err)
	}
	return what, c.Write("undo of: "+what, func(t *Tx) error { return t.takeBack(id, what) })
}

// takeBack runs the steps of a write backwards and strikes it from the journal.
func (t *Tx) takeBack(id int64, what string) error {
	if _, err := t.tx.ExecContext(t.ctx, "PRAGMA defer_foreign_keys = ON"); err != nil {
		return err
	}
	statements, err := textColumn(t.ctx, t.tx, "SELECT sql FROM journal_step WHERE write_id = ? ORDER BY step_id DESC", id)
	if err != nil {
		return err
	}
	for _, q := range statements {
		if _, err := t.tx.ExecContext(t.ctx, q); err != nil {
			return fmt.Errorf("undo %q: %w", what, err)
		}
	}
	_, err = t.tx.ExecContext(t.ctx, "DELETE FROM journal_write WHERE write_id = ?", id)
	return err
}
