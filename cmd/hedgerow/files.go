package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"hedgerow/trials"
)

// writeFile writes a whole file or nothing: beside the target, synced, then
// renamed. A file that is there already is replaced.
func writeFile(path string, write func(io.Writer) error) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return cannotWrite(path, err)
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if err := write(f); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	const readable = 0o644
	if err := errors.Join(f.Chmod(readable), f.Sync(), f.Close()); err != nil {
		return cannotWrite(path, err)
	}
	if err := os.Rename(f.Name(), path); err != nil {
		return cannotWrite(path, err)
	}
	return nil
}

// cannotWrite says which file could not be written.
func cannotWrite(path string, err error) error {
	var at *os.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	return &trials.Problem{Code: trials.Failed, Message: fmt.Sprintf("cannot write %s: %v", path, err),
		Hint: "name a file in a folder that is there and can be written"}
}
