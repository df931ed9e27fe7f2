package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"

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
func version(ctx context.Context, q queryer) (id, v int, err error) {
	err = q.QueryRowContext(ctx, "SELECT application_id, user_version FROM pragma_application_id, pragma_user_version").
		Scan(&id, &v)
	return id, v, err
}

// Latest is the version this program writes: the number of migrations.
func Latest() int {
	files, _ := migrations.ReadDir("migrations")
	return len(files)
}

// prepare checks the version of the opened file and what it is made of, and
// migrates it if needed.
func (s *Store) prepare(ctx context.Context, head fileHead, readOnly bool) error {
	if head.current {
		if same, err := asMade(ctx, s.db); err != nil || same {
			return err
		}
	}
	id, v, err := version(ctx, s.db)
	switch {
	case err != nil:
		return err
	case id != applicationID && !head.blank:
		return foreign(s.path)
	case v > Latest():
		return newer(v)
	case v == Latest():
		return checkSchema(ctx, s.db, s.path)
	case readOnly:
		return s.upgradeForReading(ctx)
	}
	return migrate(ctx, s.db, s.path)
}

// newer is the refusal of a notebook of a later version.
func newer(v int) error {
	return &trials.Problem{Code: trials.ForeignNotebook,
		Message: fmt.Sprintf("the notebook was written by a newer hedgerow (version %d, this one knows %d)", v, Latest()),
		Hint:    "install the newer hedgerow, or " + elsewhere}
}

// upgradeForReading brings an older notebook up to date with a writing
// connection, then goes on reading.
func (s *Store) upgradeForReading(ctx context.Context) error {
	// Closed before the file is looked at again: whoever closes a file gives up the
	// locks that the same program holds on it.
	if err := s.db.Close(); err != nil {
		return err
	}
	w, err := Open(ctx, s.path, Options{Now: s.now})
	if err != nil {
		return err
	}
	if err := w.Close(); err != nil {
		return err
	}
	return s.connect(ctx, dsn(s.path, queryOnly))
}

// migrate runs the missing steps on the notebook at path, in one transaction; no
// copy is made of one without a path, which is a copy itself. What is done rests on what
// is read under its lock, since another process may have been faster; and nobody
// writes between the copy that is made first and the end.
func migrate(ctx context.Context, db *sql.DB, path string) error {
	list, err := steps()
	if err != nil {
		return err
	}
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	id, v, err := version(ctx, tx)
	switch {
	case err != nil:
		return err
	case id == applicationID && v >= len(list):
		return nil
	}
	if err := checkOlder(ctx, tx, path, id == applicationID); err != nil {
		return err
	}
	// a blank file has nothing to lose
	if v > 0 && path != "" {
		if err := copyAside(ctx, path, v); err != nil {
			return err
		}
	}
	if err := runSteps(ctx, tx, list, v); err != nil {
		return err
	}
	// before it counts: what the steps made of a strange file is rolled back
	if err := checkSchema(ctx, tx, path); err != nil {
		return err
	}
	return tx.Commit()
}

// copyAside writes a whole copy of the notebook beside it before a migration,
// and takes the place of no other file.
func copyAside(ctx context.Context, path string, v int) error {
	dir, base := filepath.Split(path)
	f, err := os.CreateTemp(dir, "."+base+newSuffix+"*")
	if err != nil {
		return cannotCopy(path, err)
	}
	// only the name was wanted: SQLite opens the file itself
	f.Close()
	defer os.Remove(f.Name())
	if err := copyTo(ctx, path, f.Name()); err != nil {
		return fmt.Errorf("copy the notebook before migration: %w", err)
	}
	if _, err := nameCopy(f.Name(), fmt.Sprintf("%s.before-v%d", path, v+1)); err != nil {
		return cannotCopy(path, err)
	}
	syncFolder(dir)
	return nil
}

// copyTo writes a copy of a notebook into an empty file and waits until it is on
// the disk. It reads beside whoever writes.
func copyTo(ctx context.Context, path, to string) error {
	db, err := connect(ctx, dsn(path, copying), 1)
	if err != nil {
		return err
	}
	defer db.Close()
	if _, err := db.ExecContext(ctx, "VACUUM INTO ?", to); err != nil {
		return err
	}
	return syncFile(to)
}

// nameCopy gives a copy its name, or the next one that is free.
func nameCopy(copied, name string) (free string, err error) {
	free = name
	for number := 2; ; number++ {
		err = os.Link(copied, free)
		if errors.Is(err, os.ErrExist) {
			free = fmt.Sprintf("%s-%d", name, number)
			continue
		}
		if err == nil {
			return free, nil
		}
		// The file system knows no second names.
		if _, there := os.Lstat(free); errors.Is(there, os.ErrNotExist) {
			return free, os.Rename(copied, free)
		}
		return "", err
	}
}

// cannotCopy says that a copy could not be written, so that nothing was changed.
func cannotCopy(path string, err error) error {
	var at *os.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	return &trials.Problem{Code: trials.Failed,
		Message: fmt.Sprintf("no copy of a notebook could be written to %s: %v", path, err),
		Hint:    "make room there, or use a folder that can be written"}
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
		if err := addDigestColumns(ctx, tx, i+1); err != nil {
			return err
		}
	}
	// Before the triggers, which have nothing to do with it.
	if err := fillDigests(ctx, tx); err != nil {
		return err
	}
	if err := sealJournal(ctx, tx); err != nil {
		return err
	}
	if err := makeTriggers(ctx, tx); err != nil {
		return err
	}
	// in the same transaction, so that tables and version never part
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
