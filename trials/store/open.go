package store

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"time"

	"hedgerow/trials"

	"modernc.org/sqlite"
)

// applicationID marks a SQLite file as a hedgerow notebook ("hdgr" as a number).
const applicationID = 0x68646772

// Store is an open notebook.
type Store struct {
	db   *sql.DB
	path string
	now  func() time.Time
}

// Options say how a notebook is opened.
type Options struct {
	ReadOnly bool             // refuse writes; the file must exist
	Now      func() time.Time // the clock for created and changed times
}

// Open opens the notebook at path, making it (and its folder) if it is not
// there, and brings an older one up to date. It returns a Problem with code
// ForeignLog for a file that is not a hedgerow notebook or was written by a
// newer version, and leaves such a file untouched.
func Open(ctx context.Context, path string, o Options) (*Store, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	head, err := inspect(abs)
	if err != nil {
		return nil, err
	}
	if head.fresh {
		if o.ReadOnly {
			return nil, &trials.Problem{Code: trials.NotFound,
				Message: "there is no notebook at " + path, Hint: "it is made by the first command that writes"}
		}
		if err := os.MkdirAll(filepath.Dir(abs), 0o700); err != nil {
			return nil, fmt.Errorf("make the notebook's folder: %w", err)
		}
	}
	s := &Store{path: abs, now: o.Now}
	if s.db, err = sql.Open("sqlite", dsn(abs, o.ReadOnly)); err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	s.db.SetMaxOpenConns(1)
	if err := s.prepare(ctx, head, o.ReadOnly); err != nil {
		s.db.Close()
		return nil, explain(err)
	}
	return s, nil
}

// Close closes the file.
func (s *Store) Close() error { return s.db.Close() }

// dsn builds the connection string. The path goes through net/url, since a
// plain name with # or ? would open another file.
func dsn(abs string, readOnly bool) string {
	q := url.Values{}
	q.Set("_txlock", "immediate")
	q.Set("_defensive", "1")
	q.Set("_dqs", "0")
	pragmas := []string{"busy_timeout(5000)", "trusted_schema(0)"}
	if readOnly {
		q.Set("_query_only", "1")
	} else {
		pragmas = append(pragmas, "foreign_keys(1)", "synchronous(FULL)", "journal_mode(WAL)")
	}
	for _, p := range pragmas {
		q.Add("_pragma", p)
	}
	u := url.URL{Scheme: "file", Path: filepath.ToSlash(abs), RawQuery: q.Encode()}
	return u.String()
}

// fileHead is what the first bytes of a notebook say.
type fileHead struct {
	fresh   bool // the file has still to be made
	current bool // ours and up to date, with nothing waiting in a log
}

// inspect looks at the head of the file before SQLite may touch it, and refuses
// one that is not ours. The layout of the head is the SQLite file format,
// section 1.3. With a write-ahead log beside the file its head may be old: then
// SQLite is asked after opening.
func inspect(path string) (fileHead, error) {
	f, err := os.Open(path)
	if errors.Is(err, os.ErrNotExist) {
		return fileHead{fresh: true}, nil
	}
	if err != nil {
		return fileHead{}, &trials.Problem{Code: trials.Failed,
			Message: fmt.Sprintf("cannot read the notebook: %v", err), Hint: "name another file with --db"}
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return fileHead{}, foreign(path)
	}
	head := make([]byte, 100)
	n, err := io.ReadFull(f, head)
	switch {
	case n == 0 && errors.Is(err, io.EOF):
		return fileHead{fresh: true}, nil
	case n < len(head) || !bytes.HasPrefix(head, []byte("SQLite format 3\x00")):
		return fileHead{}, foreign(path)
	}
	id, version, wal := binary.BigEndian.Uint32(head[68:72]), binary.BigEndian.Uint32(head[60:64]), hasWAL(path)
	if id != applicationID && (id != 0 || !wal) {
		return fileHead{}, foreign(path)
	}
	return fileHead{current: !wal && int(version) == Latest()}, nil
}

// hasWAL reports whether a write-ahead log stands beside the file: after a
// crash during the very first write, the mark of the notebook is only there.
func hasWAL(path string) bool {
	info, err := os.Stat(path + "-wal")
	return err == nil && info.Size() > 0
}

// foreign is the refusal of a file that is not a notebook.
func foreign(path string) error {
	return &trials.Problem{Code: trials.ForeignLog,
		Message: path + " is not a hedgerow notebook; it was left as it is",
		Hint:    "name another file with --db or HEDGEROW_DB"}
}

// explain turns the driver's errors into Problems where a person can act.
func explain(err error) error {
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return err
	}
	switch e.Code() & 0xff {
	case 5, 6: // SQLITE_BUSY, SQLITE_LOCKED
		return &trials.Problem{Code: trials.Busy,
			Message: "another hedgerow is writing to this notebook", Hint: "try again in a moment"}
	case 8: // SQLITE_READONLY
		return &trials.Problem{Code: trials.Failed,
			Message: "the notebook cannot be written: the file or its folder is read-only", Hint: "name another file with --db"}
	case 11, 26: // SQLITE_CORRUPT, SQLITE_NOTADB
		return &trials.Problem{Code: trials.ForeignLog,
			Message: "the notebook is damaged or not a hedgerow notebook",
			Hint:    "a copy from before the last upgrade lies beside it, its name ends in .before-v<number>"}
	}
	return err
}
