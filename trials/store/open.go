package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"hedgerow/trials"

	"modernc.org/sqlite"
)

// applicationID marks a SQLite file as a hedgerow notebook ("hdgr" as a number).
const applicationID = 0x68646772

// Store is an open notebook.
type Store struct {
	db        *sql.DB
	path      string
	now       func() time.Time
	temporary string // folder of the copy that is read in place of the notebook, empty for none
}

// Options say how a notebook is opened.
type Options struct {
	ReadOnly bool             // refuse writes; the file must exist
	Now      func() time.Time // the clock for created and changed times
}

// Open opens the notebook at path, making it (and its folder) if it is not
// there, and brings an older one up to date. It returns a Problem with code
// ForeignNotebook for a file that is not a hedgerow notebook or was written by a
// newer version, and leaves such a file untouched.
func Open(ctx context.Context, path string, o Options) (*Store, error) {
	real, err := realPath(path)
	if err != nil {
		return nil, unreadable(path, err)
	}
	head, err := inspect(real)
	if err == nil && head.missing && !o.ReadOnly {
		head, err = makeWhole(ctx, real)
	}
	switch {
	case err != nil:
		return nil, err
	case o.ReadOnly && (head.missing || head.blank):
		return nil, &trials.Problem{Code: trials.NotFound,
			Message: "there is no notebook at " + path,
			Hint:    "check --db and HEDGEROW_DB; a new one is made by the first command that writes"}
	}
	s := &Store{path: real, now: o.Now}
	if err := s.openFile(ctx, head, o.ReadOnly); err != nil {
		return nil, s.explain(err)
	}
	return s, nil
}

// openFile opens a file that was looked at, and gets it ready.
func (s *Store) openFile(ctx context.Context, head fileHead, readOnly bool) error {
	if readOnly && (head.locked || !head.current && !canWriteBeside(s.path)) {
		return s.openUnwritable(ctx, head)
	}
	way := writable
	if readOnly {
		way = queryOnly
	}
	// A blank file that several take into use at once refuses some without letting
	// them wait: SQLite sees that they might wait for each other.
	const longest, pause = 5 * time.Second, 5 * time.Millisecond
	for begun := time.Now(); ; time.Sleep(pause) {
		err := s.connect(ctx, dsn(s.path, way))
		if err == nil {
			if err = s.prepare(ctx, head, readOnly); err == nil {
				return nil
			}
			s.db.Close()
		}
		switch codeOf(err) {
		// the last two where the disk is full: what SQLite wants beside the file finds no room
		case sqliteCantOpen, sqliteReadOnly, sqliteIOErr, sqliteFull:
			if readOnly {
				return s.openUnwritable(ctx, head)
			}
		}
		if !head.blank || codeOf(err) != sqliteBusy || time.Since(begun) > longest || ctx.Err() != nil {
			return err
		}
	}
}

// connect makes the one connection. It may attach no other file, whatever a
// statement says: what a notebook holds comes from others, too.
func (s *Store) connect(ctx context.Context, name string) (err error) {
	s.db, err = connect(ctx, name, 0)
	return err
}

// connect opens one connection that may attach so many other files.
func connect(ctx context.Context, name string, attached int) (*sql.DB, error) {
	db, err := sql.Open("sqlite", name)
	if err != nil {
		return nil, err
	}
	// settings are those of a connection, and a second one would wait for the first
	db.SetMaxOpenConns(1)
	c, err := db.Conn(ctx)
	if err == nil {
		const limitAttached = 7 // SQLITE_LIMIT_ATTACHED
		_, err = sqlite.Limit(c, limitAttached, attached)
		err = errors.Join(err, c.Close())
	}
	if err != nil {
		db.Close()
		return nil, err
	}
	return db, nil
}

// Close closes the file.
func (s *Store) Close() error {
	err := s.db.Close()
	if s.temporary != "" {
		err = errors.Join(err, os.RemoveAll(s.temporary))
	}
	return err
}

// The ways in which a file is opened.
const (
	writable   = iota // with a write-ahead log
	queryOnly         // beside others who write
	building          // alone, a file that nobody else knows of yet
	copying           // as it is, to be written elsewhere
	unwritable        // where nobody can write, without any file beside it
)

// dsn builds the connection string. The path goes through net/url, since a
// plain name with # or ? would open another file.
func dsn(abs string, way int) string {
	q := url.Values{}
	// a transaction that reads first and is refused the lock later would have read for nothing
	q.Set("_txlock", "immediate")
	q.Set("_defensive", "1")
	// a mistyped column in double quotes would be taken for a text
	q.Set("_dqs", "0")
	pragmas := []string{"busy_timeout(5000)", "trusted_schema(0)", "cell_size_check(1)"}
	switch way {
	case queryOnly:
		q.Set("_query_only", "1")
	case writable:
		// foreign keys are off in every new connection; FULL, for what was said to be saved survives a power cut
		pragmas = append(pragmas, "foreign_keys(1)", "synchronous(FULL)", "journal_mode(WAL)")
		// Each statement notes what it changes, to take it back alone: in a file that
		// would be a sixth of the cost of an import. It wants no more room than an import does.
		pragmas = append(pragmas, "temp_store(MEMORY)", "cache_size(-65536)")
	case building:
		// It counts for nothing until it is whole, synced and has its name.
		pragmas = append(pragmas, "synchronous(OFF)", "journal_mode(MEMORY)")
	}
	for _, p := range pragmas {
		q.Add("_pragma", p)
	}
	if way == unwritable {
		q.Set("_query_only", "1")
		q.Set("immutable", "1")
	}
	u := url.URL{Scheme: "file", Path: filepath.ToSlash(abs), RawQuery: q.Encode()}
	return u.String()
}

// makeWhole makes a new notebook under another name, whole, and then gives it
// its name: whoever is interrupted on the way leaves no half of one, and of
// several who do so at once the first gives the notebook to all.
func makeWhole(ctx context.Context, path string) (fileHead, error) {
	dir, base := filepath.Split(path)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return fileHead{}, cannotMake(path, err)
	}
	sweep(dir, base)
	f, err := os.CreateTemp(dir, "."+base+newSuffix+"*")
	if err != nil {
		return fileHead{}, cannotMake(path, err)
	}
	f.Close()
	defer os.Remove(f.Name())
	if err := build(ctx, f.Name()); err != nil {
		return fileHead{}, (&Store{path: path}).explain(err)
	}
	// A second name, unlike a new one, never takes the place of a file.
	err = os.Link(f.Name(), path)
	switch {
	case err == nil:
		syncFolder(dir)
		return fileHead{current: true}, nil
	case errors.Is(err, os.ErrExist):
		return inspect(path)
	}
	// The file system knows no second names: made in place, under SQLite's locks.
	return fileHead{blank: true}, nil
}

// newSuffix is in the names of notebooks that are being made.
const newSuffix = ".new-"

// sweep removes what programs that were killed while they made a notebook left.
func sweep(dir, base string) {
	const longAgo = time.Hour
	// tidying only: what cannot be listed or removed does no harm
	left, _ := os.ReadDir(dir)
	for _, entry := range left {
		info, err := entry.Info()
		if err == nil && info.Mode().IsRegular() && strings.HasPrefix(entry.Name(), "."+base+newSuffix) &&
			time.Since(info.ModTime()) > longAgo {
			os.Remove(filepath.Join(dir, entry.Name()))
		}
	}
}

// build makes an empty notebook in a file that nobody else knows of.
func build(ctx context.Context, path string) error {
	db, err := connect(ctx, dsn(path, building), 0)
	if err != nil {
		return err
	}
	defer db.Close()
	if err := migrate(ctx, db, path); err != nil {
		return err
	}
	// the mode is kept in the file: set while nobody else has it open
	if _, err := db.ExecContext(ctx, "PRAGMA journal_mode = WAL"); err != nil {
		return err
	}
	if err := db.Close(); err != nil {
		return err
	}
	return syncFile(path)
}

// syncFile waits until a file is on the disk.
func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// syncFolder waits until the names in a folder are on the disk, where the system
// can say so.
func syncFolder(dir string) {
	if f, err := os.Open(dir); err == nil {
		f.Sync()
		f.Close()
	}
}

// cannotMake says which notebook could not be made.
func cannotMake(path string, err error) error {
	var at *os.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	return &trials.Problem{Code: trials.Failed, Message: fmt.Sprintf("cannot make the notebook %s: %v", path, err),
		Hint: elsewhere}
}
