package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"hedgerow/trials"

	"github.com/spf13/cobra"
)

// targetFlags are the flags that name a file to be written.
var targetFlags = []string{"html"}

// standardOutput is how standard output is called where a file is asked for.
const standardOutput = "-"

// checkTargets refuses, before a command does anything, a file that it must not
// write over.
func (e *env) checkTargets(c *cobra.Command) error {
	for _, name := range targetFlags {
		f := c.Flags().Lookup(name)
		if f == nil || f.Value.String() == "" {
			continue
		}
		check := e.checkTarget
		if f.Value.String() == standardOutput {
			check = e.checkOutput
		}
		if err := check(f.Value.String()); err != nil {
			return inFlag(name, err)
		}
	}
	return nil
}

// checkOutput refuses standard output where something else than a page goes there.
func (e *env) checkOutput(path string) error {
	if e.flags.json || e.flags.csv || e.flags.markdown {
		return trials.Refuse("leave that format out, or name a file",
			"%q is standard output, where another format is printed too", path)
	}
	return nil
}

// checkTarget refuses a file that is the notebook, belongs to it, is another
// database, or is no plain file; and one in a folder that is not there.
func (e *env) checkTarget(path string) error {
	const another = "name another file"
	if err := checkName(path); err != nil {
		return err
	}
	if what := e.ofNotebook(path); what != "" {
		return trials.Refuse(another, "%q %s", path, what)
	}
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		_, err := os.Stat(filepath.Dir(path))
		if err != nil {
			return cannotWrite(path, err)
		}
		return nil
	case err != nil:
		return cannotWrite(path, err)
	case info.IsDir():
		return trials.Refuse("name a file in it", "%q is a folder", path)
	case info.Mode().Type() == fs.ModeSymlink:
		to, _ := os.Readlink(path)
		return trials.Refuse("name that file, or another one", "%q is a link to %s", path, to)
	case !info.Mode().IsRegular():
		return trials.Refuse(another, "%q is no plain file", path)
	case isDatabase(path):
		return trials.Refuse(another, "%q is a database; it would be lost", path)
	}
	return nil
}

// checkName refuses what names no file, and the hyphen: only a page is written to
// standard output in the place of a file.
func checkName(path string) error {
	if path == "" || path == standardOutput {
		return trials.Refuse("write what it is to be called", "%q is no name of a file", path)
	}
	return nil
}

// ofNotebook says what a file is to the notebook, also before there is one; empty
// for nothing.
func (e *env) ofNotebook(path string) string {
	notebook, err := e.notebookPath()
	if err != nil {
		return ""
	}
	// what SQLite keeps beside it is called after the file, not after a link to it
	if real, err := filepath.EvalSymlinks(notebook); err == nil {
		notebook = real
	}
	for _, end := range []string{"", "-wal", "-shm", "-journal"} {
		if !sameFile(path, notebook+end) {
			continue
		}
		if end == "" {
			return "is the notebook itself"
		}
		return "belongs to the notebook"
	}
	return ""
}

// sameFile reports whether two paths lead to the same file, or would if it were
// there.
func sameFile(a, b string) bool {
	first, errA := os.Stat(a)
	second, errB := os.Stat(b)
	if errA == nil && errB == nil {
		return os.SameFile(first, second)
	}
	a, b = filepath.Clean(a), filepath.Clean(b) // a folder may be written with a slash behind it
	dirA, errA := os.Stat(filepath.Dir(a))
	dirB, errB := os.Stat(filepath.Dir(b))
	return errA == nil && errB == nil && os.SameFile(dirA, dirB) && filepath.Base(a) == filepath.Base(b)
}

// isDatabase reports whether a file begins as a SQLite file does.
func isDatabase(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	const mark = "SQLite format 3"
	head := make([]byte, len(mark))
	_, err = io.ReadFull(f, head)
	return err == nil && strings.HasPrefix(string(head), mark)
}

// writeFile writes a whole file or nothing: beside the target, synced, then
// renamed. A file that is there already is replaced, unless it is one that
// checkTarget refuses.
func (e *env) writeFile(path string, write func(io.Writer) error) error {
	if err := e.checkTarget(path); err != nil {
		return err
	}
	written, err := writeBeside(path, write)
	if err != nil {
		return err
	}
	return written.name()
}

// A besideFile is a file that is whole and waits for its name.
type besideFile struct{ at, path string }

// writeBeside writes a file in the folder of path, and leaves nothing where it cannot.
func writeBeside(path string, write func(io.Writer) error) (b besideFile, err error) {
	// in the same folder: a rename across file systems would be a copy, which can break off half-way
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return b, cannotWrite(path, err)
	}
	b = besideFile{f.Name(), path}
	defer func() {
		if err != nil {
			f.Close()
			b.remove()
		}
	}()
	if err := write(f); err != nil {
		return b, cannotWrite(path, err)
	}
	// a temporary file is for its owner alone; a page to print is meant to be shown
	const readable = 0o644
	// synced before the rename: after a power cut there is else a name without contents
	if err := errors.Join(f.Chmod(readable), f.Sync(), f.Close()); err != nil {
		return b, cannotWrite(path, err)
	}
	return b, nil
}

// name gives the file its name.
func (b besideFile) name() error {
	if err := os.Rename(b.at, b.path); err != nil {
		b.remove()
		return cannotWrite(b.path, err)
	}
	return nil
}

// remove takes the file away again; that it cannot be must not hide why.
func (b besideFile) remove() { os.Remove(b.at) }

// cannotWrite says which file could not be written.
func cannotWrite(path string, err error) error {
	var at *os.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	hint := "name a file in a folder that is there and can be written"
	if errors.Is(err, syscall.ENOSPC) {
		hint = "make room on the disk, or name a file on another one"
	}
	return &trials.Problem{Code: trials.Failed, Message: fmt.Sprintf("cannot write %s: %v", path, err), Hint: hint}
}
