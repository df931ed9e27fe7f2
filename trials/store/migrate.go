package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"os"
	"path"
	"strings"

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
	for i := v; i < len(list); i++ {
		if _, err := tx.ExecContext(ctx, list[i]); err != nil {
			return fmt.Errorf("migration %d: %w", i+1, err)
		}
	}
	if v < len(list) {
		if err := journalTriggers(ctx, tx); err != nil {
			return err
		}
		mark := fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d", applicationID, len(list))
		if _, err := tx.ExecContext(ctx, mark); err != nil {
			return err
		}
	}
	return tx.Commit()
}

// journalTriggers makes, for every table but the journal itself, the triggers
// that write down how to take each change back.
func journalTriggers(ctx context.Context, tx *sql.Tx) error {
	tables, err := textColumn(ctx, tx, "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'journal%' AND name NOT LIKE 'sqlite%'")
	if err != nil {
		return err
	}
	for _, t := range tables {
		columns, err := textColumn(ctx, tx, "SELECT name FROM pragma_table_info(?) ORDER BY cid", t)
		if err != nil {
			return err
		}
		for when, undo := range inverses(t, columns) {
			trigger := "journal_" + t + "_" + strings.ToLower(when)
			text := "DROP TRIGGER IF EXISTS " + trigger + "; CREATE TRIGGER " + trigger + " AFTER " + when + " ON " + t +
				" BEGIN INSERT INTO journal_step (write_id, sql) SELECT max(write_id), " + undo + " FROM journal_write; END"
			if _, err := tx.ExecContext(ctx, text); err != nil {
				return fmt.Errorf("journal of %s: %w", t, err)
			}
		}
	}
	return nil
}

// inverses returns, for each kind of change to a table, the SQL expression
// that builds the statement which takes it back. The first column is the key.
func inverses(t string, columns []string) map[string]string {
	var set, values []string
	for _, c := range columns {
		set = append(set, "'"+c+" = ' || quote(OLD."+c+")")
		values = append(values, "quote(OLD."+c+")")
	}
	key := columns[0]
	return map[string]string{
		"INSERT": "'DELETE FROM " + t + " WHERE " + key + " = ' || quote(NEW." + key + ")",
		"UPDATE": "'UPDATE " + t + " SET ' || " + strings.Join(set, " || ', ' || ") + " || ' WHERE " + key + " = ' || quote(NEW." + key + ")",
		"DELETE": "'INSERT INTO " + t + " (" + strings.Join(columns, ", ") + ") VALUES (' || " + strings.Join(values, " || ', ' || ") + " || ')'",
	}
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
