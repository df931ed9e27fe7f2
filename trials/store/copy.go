package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"time"

	"hedgerow/trials"

	"modernc.org/sqlite"
)

// Backup writes a copy of the notebook to path, as it is at one moment. The copy
// is made beside it, opened, checked, and only then renamed; it takes the place of
// a file that is there.
func (s *Store) Backup(ctx context.Context, path string) error {
	return beside(path, func(temporary string) error {
		if err := copyTo(ctx, s.path, temporary); err != nil {
			return notCopied(err, s.path, path)
		}
		if err := checkCopy(ctx, temporary); err != nil {
			return err
		}
		if err := os.Rename(temporary, path); err != nil {
			return cannotCopy(path, err)
		}
		return nil
	})
}

// beside runs f with an empty file in the folder of path, which is gone after.
func beside(path string, f func(temporary string) error) error {
	dir, base := filepath.Split(path)
	file, err := os.CreateTemp(dir, "."+base+newSuffix+"*")
	if err != nil {
		return cannotCopy(path, err)
	}
	file.Close()
	defer os.Remove(file.Name())
	if err := f(file.Name()); err != nil {
		return err
	}
	syncFolder(dir)
	return nil
}

// checkCopy refuses a copy in which anything is damaged.
func checkCopy(ctx context.Context, path string) error {
	s, err := Open(ctx, path, Options{ReadOnly: true, Now: time.Now})
	if err != nil {
		return err
	}
	defer s.Close()
	found := s.Check(ctx)
	if n, err := s.Whole(ctx); err != nil {
		found = append(found, trials.Damage{Record: "records", What: "cannot be read: " + err.Error()})
	} else {
		found = append(found, n.Check()...)
	}
	if len(found) == 0 {
		return nil
	}
	return &trials.Problem{Code: trials.Failed,
		Message: fmt.Sprintf("%s is damaged in %d places: %s %s", path, len(found), found[0].Record, found[0].What),
		Hint:    "see hedgerow check; nothing was changed"}
}

// weekly is how often a copy is made by itself, and keepCopies how many are kept.
const (
	weekly     = 7 * 24 * time.Hour
	keepCopies = 3
)

// copyDay is the date in the name of a copy.
const copyDay = "2006-01-02"

// CopyDue makes the copy of the week beside the notebook, if there is none yet and
// the first write that the journal knows is a week old, and removes the oldest of
// more than three. It returns the name of a copy that was made.
func (s *Store) CopyDue(ctx context.Context) (made string, err error) {
	dir, base := filepath.Split(s.path)
	have, err := datedCopies(dir, regexp.QuoteMeta(base)+`\.copy-(\d{4}-\d{2}-\d{2})`)
	if err != nil {
		return "", err
	}
	last := time.Time{}
	if len(have) > 0 {
		// The name was matched; a day that does not exist counts as long ago.
		last, _ = time.Parse(copyDay, have[len(have)-1][len(base)+len(".copy-"):])
	} else if err := s.db.QueryRowContext(ctx, "SELECT min(at) FROM journal_write").Scan(moment{&last}); err != nil {
		return "", s.explain(err)
	}
	now := s.now().UTC()
	if now.Sub(last) < weekly {
		return "", nil
	}
	name := base + ".copy-" + now.Format(copyDay)
	if err := s.Backup(ctx, filepath.Join(dir, name)); err != nil {
		return "", err
	}
	return name, s.dropOldest(dir, append(have, name), keepCopies)
}

// Dated writes a copy with the moment in its name into a folder and keeps the last so
// many of those of this notebook: others may use the folder for theirs. It returns the
// name of the copy.
func (s *Store) Dated(ctx context.Context, dir string, keep int) (string, error) {
	named, err := datedCopies(dir, `hedgerow-\d{4}-\d{2}-\d{2}-\d{6}\.db`)
	if err != nil {
		return "", cannotCopy(dir, err)
	}
	have, err := s.ownOf(ctx, dir, named)
	if err != nil {
		return "", err
	}
	name := "hedgerow-" + s.now().UTC().Format("2006-01-02-150405") + ".db"
	if slices.Contains(named, name) && !slices.Contains(have, name) {
		return "", &trials.Problem{Code: trials.Failed,
			Message: filepath.Join(dir, name) + " is taken by a copy of another notebook", Hint: "try again in a second"}
	}
	if err := s.Backup(ctx, filepath.Join(dir, name)); err != nil {
		return "", err
	}
	return filepath.Join(dir, name), s.dropOldest(dir, append(have, name), keep)
}

// datedCopies lists the copies in a folder whose whole name matches, the oldest
// first.
func datedCopies(dir, pattern string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	named := regexp.MustCompile("^" + pattern + "$")
	var list []string
	for _, e := range entries {
		if e.Type().IsRegular() && named.MatchString(e.Name()) {
			list = append(list, e.Name())
		}
	}
	slices.Sort(list)
	return list, nil
}

// ownOf returns which of the copies in a folder are of this notebook. One that cannot
// be read is not.
func (s *Store) ownOf(ctx context.Context, dir string, names []string) ([]string, error) {
	id, err := s.ID(ctx)
	if err != nil {
		return nil, err
	}
	if dir, err = filepath.Abs(dir); err != nil {
		return nil, cannotCopy(dir, err)
	}
	var own []string
	for _, name := range names {
		db, err := connect(ctx, dsn(filepath.Join(dir, name), unwritable), 0)
		if err != nil {
			continue
		}
		if of, err := idIn(ctx, db); err == nil && of == id {
			own = append(own, name)
		}
		db.Close()
	}
	return own, nil
}

// ID is the id that the notebook was given when it was made; its copies have it too.
func (s *Store) ID(ctx context.Context) (string, error) {
	id, err := idIn(ctx, s.db)
	if err != nil {
		return "", s.explain(err)
	}
	return id, nil
}

// idIn reads the id of the notebook in a file.
func idIn(ctx context.Context, q queryer) (id string, err error) {
	err = q.QueryRowContext(ctx, "SELECT value FROM setting WHERE key = ?", trials.SettingNotebookID).Scan(&id)
	return id, err
}

// dropOldest removes all copies but the last so many, and never the notebook itself:
// somebody may work on in a copy.
func (s *Store) dropOldest(dir string, list []string, keep int) error {
	slices.Sort(list)
	list = slices.Compact(list)
	own, err := os.Stat(s.path)
	if err != nil {
		return err
	}
	for i := 0; i < len(list)-keep; i++ {
		path := filepath.Join(dir, list[i])
		if info, err := os.Stat(path); err == nil && os.SameFile(info, own) {
			continue
		}
		if err := os.Remove(path); err != nil {
			return err
		}
	}
	return nil
}

// Restore puts the copy at from in the place of the notebook at path, after it
// was checked, and keeps the present one beside it; kept is its name, empty if
// there was none. Others who have the notebook open go on with the copy.
func Restore(ctx context.Context, path, from string) (kept string, err error) {
	if path, err = realPath(path); err != nil {
		return "", err
	}
	if from, err = realPath(from); err != nil {
		return "", err
	}
	head, err := inspect(from)
	const copies = "name a copy that hedgerow backup made"
	var p *trials.Problem
	switch {
	case errors.As(err, &p):
		return "", &trials.Problem{Code: p.Code, Message: p.Message, Hint: copies} // not what --db names
	case err != nil:
		return "", err
	case head.missing || head.blank:
		return "", &trials.Problem{Code: trials.NotFound, Message: "there is no notebook at " + from, Hint: copies}
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return "", cannotMake(path, err)
	}
	err = beside(path, func(temporary string) error {
		if err := upgradedCopy(ctx, from, temporary, path); err != nil {
			return err
		}
		if kept, err = keepPresent(ctx, path); err != nil {
			return err
		}
		return putInPlace(ctx, path, temporary)
	})
	return kept, err
}

// notCopied explains why from was not copied to be path: the disk that has no room is
// that of the copy.
func notCopied(err error, from, path string) error {
	if codeOf(err) == sqliteFull {
		return cannotCopy(path, errors.New("no room is left"))
	}
	return (&Store{path: from}).explain(err)
}

// upgradedCopy copies a notebook into a file that will be path, brings the copy up to
// date and checks it.
func upgradedCopy(ctx context.Context, from, to, path string) error {
	if err := copyTo(ctx, from, to); err != nil {
		return notCopied(err, from, path)
	}
	db, err := connect(ctx, dsn(to, building), 0)
	if err != nil {
		return err
	}
	err = migrate(ctx, db, "")
	if err = errors.Join(err, db.Close()); err != nil {
		return notCopied(err, from, path)
	}
	return errors.Join(checkCopy(ctx, to), syncFile(to))
}

// keepPresent keeps the present notebook under another name: a whole copy, or,
// where it is too damaged for one, its files as they are.
func keepPresent(ctx context.Context, path string) (kept string, err error) {
	if _, err := os.Lstat(path); errors.Is(err, os.ErrNotExist) {
		return "", nil
	}
	err = beside(path, func(temporary string) error {
		if err := copyTo(ctx, path, temporary); err != nil {
			if err := copyFile(path, temporary); err != nil {
				return cannotCopy(path, err)
			}
		}
		kept, err = nameCopy(temporary, path+".before-restore")
		return err
	})
	if err == nil && nonEmpty(path+"-wal") {
		// Only a damaged one leaves a log that a copy did not take in.
		err = copyFile(path+"-wal", kept+"-wal")
	}
	return kept, err
}

// copyFile copies the bytes of a file.
func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Sync(), out.Close())
}

// putInPlace gives a notebook the contents of another, in one write that others
// who have it open see as any other. One that is missing or too damaged to be
// written is replaced.
func putInPlace(ctx context.Context, path, temporary string) error {
	head, err := inspect(path)
	if err == nil && !head.missing && !head.blank {
		err = overwrite(ctx, path, temporary)
		if err == nil {
			return nil
		}
		if code := codeOf(err); code != sqliteCorrupt && code != sqliteNotADB {
			return (&Store{path: path}).explain(err)
		}
	}
	for _, end := range []string{"-wal", "-shm", "-journal"} {
		if err := os.Remove(path + end); err != nil && !errors.Is(err, os.ErrNotExist) {
			return cannotCopy(path, err)
		}
	}
	if err := os.Rename(temporary, path); err != nil {
		return cannotCopy(path, err)
	}
	return nil
}

// overwrite copies page by page under SQLite's locks.
func overwrite(ctx context.Context, path, from string) error {
	db, err := connect(ctx, dsn(path, writable), 0)
	if err != nil {
		return err
	}
	defer db.Close()
	c, err := db.Conn(ctx)
	if err != nil {
		return err
	}
	defer c.Close()
	return c.Raw(func(driverConn any) error {
		restorer, ok := driverConn.(interface {
			NewRestore(string) (*sqlite.Backup, error)
		})
		if !ok {
			return errors.New("this driver cannot restore")
		}
		b, err := restorer.NewRestore(dsn(from, copying))
		if err != nil {
			return err
		}
		const allPages = -1
		_, err = b.Step(allPages)
		return errors.Join(err, b.Finish())
	})
}
