package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"os"
	"path"

	"hedgerow/trials"
)

//go:embed migrations/*.sql
var migrations embed.FS

// steps returns the SQL of the migrations in order; step i brings the notebook
// to version i+1.
func steps() ([]string, error) {
	files, err := migrations.ReadDir("migrations")
	if err != nil {
		return nil, err
	}
	list := make([]string, 0, len(files))
	for _, f := range files {
		text, err := migrations.ReadFile(path.Join("migrations", f.Name()))
		if err != nil {
			return nil, err
		}
		list = append(list, string(text))
	}
	return list, nil
}

// version reads the application id and the version the notebook is at.
func version(ctx context.Context, db *sql.DB) (id, v int, err error) {
	if err = db.QueryRowContext(ctx, "PRAGMA application_id").Scan(&id); err != nil {
		return 0, 0, err
	}
	err = db.QueryRowContext(ctx, "PRAGMA user_version").Scan(&v)
	return id, v, err
}

// Latest is the version this program writes: the number of migrations.
func Latest() int {
	files, _ := migrations.ReadDir("migrations")
	return len(files)
}

// prepare checks the version of the opened file and migrates it if needed.
func (s *Store) prepare(ctx context.Context, head fileHead, readOnly bool) error {
	if head.current {
		return nil
	}
	id, v, err := version(ctx, s.db)
	if err != nil {
		return err
	}
	switch {
	case !head.fresh && id != applicationID:
		return foreign(s.path)
	case v > Latest():
		return &trials.Problem{Code: trials.ForeignLog,
			Message: fmt.Sprintf("the notebook was written by a newer hedgerow (version %d, this one knows %d)", v, Latest()),
			Hint:    "install the newer hedgerow, or name another file with --db"}
	case v == Latest():
		return nil
	case readOnly:
		return s.upgradeForReading(ctx)
	}
	if !head.fresh {
		if err := s.copyAside(ctx, v); err != nil {
			return err
		}
	}
	return s.migrate(ctx, v)
}

// upgradeForReading brings an older notebook up to date with a writing
// connection, then goes on reading.
func (s *Store) upgradeForReading(ctx context.Context) error {
	w, err := Open(ctx, s.path, Options{Now: s.now})
	if err != nil {
		return err
	}
	return w.Close()
}

// copyAside writes a whole copy of the notebook beside it before a migration.
func (s *Store) copyAside(ctx context.Context, v int) error {
	copyPath := fmt.Sprintf("%s.before-v%d", s.path, v+1)
	if err := os.Remove(copyPath); err != nil && !os.IsNotExist(err) {
		return fmt.Errorf("replace the copy before migration: %w", err)
	}
	if _, err := s.db.ExecContext(ctx, "VACUUM INTO ?", copyPath); err != nil {
		return fmt.Errorf("copy the notebook before migration: %w", err)
	}
	return nil
}

// migrate runs the missing steps in one transaction. The version is read again
// under the write lock, since another process may have been faster.
func (s *Store) migrate(ctx context.Context, v int) error {
	list, err := steps()
	if err != nil {
		return err
	}
	tx, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if err := tx.QueryRowContext(ctx, "PRAGMA user_version").Scan(&v); err != nil {
		return err
	}
	if v >= len(list) {
		return nil
	}
	if err := runSteps(ctx, tx, list, v); err != nil {
		return err
	}
	return tx.Commit()
}

// runSteps runs the steps from version v on, makes the journal follow the tables
// as they are then, and marks the version.
func runSteps(ctx context.Context, tx *sql.Tx, list []string, v int) error {
	if err := dropTriggers(ctx, tx); err != nil {
		return err
	}
	for i := v; i < len(list); i++ {
		if _, err := tx.ExecContext(ctx, list[i]); err != nil {
			return fmt.Errorf("migration %d: %w", i+1, err)
		}
	}
	if err := makeTriggers(ctx, tx); err != nil {
		return err
	}
	mark := fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d", applicationID, len(list))
	_, err := tx.ExecContext(ctx, mark)
	return err
}

// textColumn reads a query of one text column to its end.
func textColumn(ctx context.Context, q queryer, query string, args ...any) ([]string, error) {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var list []string
	for rows.Next() {
		var v string
		if err := rows.Scan(&v); err != nil {
			return nil, err
		}
		list = append(list, v)
	}
	return list, rows.Err()
}
