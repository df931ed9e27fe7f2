package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"hedgerow/trials"
)

// canWriteBeside reports whether a file can be made in the folder of path, as
// SQLite must to read a notebook that others may write.
func canWriteBeside(path string) bool {
	dir, base := filepath.Split(path)
	f, err := os.CreateTemp(dir, "."+base+newSuffix+"*")
	if err != nil {
		return false
	}
	f.Close()
	os.Remove(f.Name())
	return true
}

// openUnwritable opens a notebook for reading where nothing can be written, such
// as on a read-only disk: as it is, or, when something waits in its log or it is
// of an older version, by way of a copy in the temporary folder.
func (s *Store) openUnwritable(ctx context.Context, head fileHead) error {
	path := s.path
	if !head.current {
		copied, err := s.copyAway()
		if err != nil {
			return err
		}
		w, err := Open(ctx, copied, Options{Now: s.now})
		if err != nil {
			os.RemoveAll(s.temporary)
			return err
		}
		if err := w.Close(); err != nil {
			return err
		}
		path, head = copied, fileHead{current: true}
	}
	if err := s.connect(ctx, dsn(path, unwritable)); err != nil {
		return err
	}
	if err := s.prepare(ctx, head, true); err != nil {
		s.Close()
		return err
	}
	return nil
}

// copyAway copies a notebook and its log into a folder of its own.
func (s *Store) copyAway() (string, error) {
	dir, err := os.MkdirTemp("", "hedgerow-read-")
	if err != nil {
		return "", &trials.Problem{Code: trials.Failed,
			Message: fmt.Sprintf("cannot copy the notebook %s to read it, since its folder cannot be written: %v", s.path, err),
			Hint:    "set TMPDIR to a folder that can be written"}
	}
	s.temporary = dir
	copied := filepath.Join(dir, "notebook.db")
	for _, end := range []string{"", "-wal"} {
		err := copyFile(s.path+end, copied+end)
		if err != nil && (end == "" || !errors.Is(err, fs.ErrNotExist)) {
			os.RemoveAll(dir)
			return "", unreadable(s.path, err)
		}
	}
	return copied, nil
}
