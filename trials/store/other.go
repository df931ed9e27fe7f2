package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"hedgerow/trials"
)

// ReadOther reads the notebook of somebody else, an older one too. It works on a copy
// of the files: opening them in their place could change them.
func ReadOther(ctx context.Context, path string, now func() time.Time) (n *trials.Notebook, err error) {
	dir, err := os.MkdirTemp("", "hedgerow-*")
	if err != nil {
		return nil, fmt.Errorf("make room for a copy: %w", err)
	}
	defer os.RemoveAll(dir)
	into := filepath.Join(dir, "other.db")
	defer func() { err = naming(err, into, path) }()
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return nil, trials.Refuse("name the file of a notebook, or an export", "%q is no plain file", path)
	}
	// what was written last may still stand in the log beside the file
	for _, end := range []string{"", "-wal"} {
		err := copyFile(path+end, into+end)
		if end == "" && errors.Is(err, fs.ErrNotExist) {
			return nil, &trials.Problem{Code: trials.NotFound, Message: "there is no notebook at " + path,
				Hint: "name the file of a notebook, or an export"}
		}
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, unreadable(path, err)
		}
	}
	head, err := inspect(into)
	if err == nil && head.blank {
		err = foreign(path)
	}
	if err != nil {
		return nil, err
	}
	s, err := Open(ctx, into, Options{Now: now})
	if err != nil {
		return nil, err
	}
	defer s.Close()
	return s.Whole(ctx)
}

// naming puts the path that was typed in the place of that of its copy, which is gone when
// the message is read.
func naming(err error, into, path string) error {
	var p *trials.Problem
	if !errors.As(err, &p) {
		return err
	}
	q := *p
	q.Message = strings.ReplaceAll(p.Message, into, path)
	return &q
}
