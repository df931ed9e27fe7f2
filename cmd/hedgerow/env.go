package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"time"

	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/store"

	"golang.org/x/term"
)

// env is everything a command may know of its surroundings. Nothing else reads
// the clock, the environment, the terminal or the home folder.
type env struct {
	ctx    context.Context
	stdin  io.Reader
	stdout io.Writer
	stderr io.Writer
	getenv func(string) string
	now    func() time.Time

	flags    globals
	warned   []string // remarks made on the way, for --json
	open     *store.Store
	writable bool             // open was opened for writing
	change   change           // the write that was begun, else nil
	held     *trials.Notebook // what writing read for it
	wrote    bool             // something was saved
	done     bool             // what the command was for is done, but for its answer
	unread   bool             // nobody reads the answer, so what is only shown is not worked out
}

// globals are the flags that every command has.
type globals struct {
	db       string
	json     bool
	csv      bool
	markdown bool
	wide     bool
	plain    bool // no pictures in characters
	units    string
	quiet    bool
}

// check refuses an unknown word after --units, and two formats at once.
func (g globals) check() error {
	formats := 0
	for _, asked := range []bool{g.json, g.csv, g.markdown} {
		if asked {
			formats++
		}
	}
	if formats > 1 {
		return trials.Refuse("choose one of --json, --csv and --markdown", "more than one format is asked for")
	}
	if !slices.Contains([]string{"", "metric", "us"}, g.units) {
		return trials.Refuse("write --units metric or --units us", "units %q are not known", g.units)
	}
	return nil
}

// store opens the notebook once, for reading only unless write is true. One that is
// not there is made by a write alone.
func (e *env) store(write bool) (*store.Store, error) {
	// opened for reading it cannot write: SQLite has to be opened anew
	if e.open != nil && (e.writable || !write) {
		return e.open, nil
	}
	e.close()
	path, err := e.notebookPath()
	if err != nil {
		return nil, err
	}
	e.writable = write
	e.open, err = store.Open(e.ctx, path, store.Options{ReadOnly: !write, Now: e.now})
	return e.open, err
}

// close closes the notebook if it was opened; a write that was begun and not
// carried out leaves nothing.
func (e *env) close() {
	e.release()
	if e.open != nil {
		e.open.Close()
		e.open = nil
	}
}

// notebookPath returns the file from --db, HEDGEROW_DB or the user's data
// folder (XDG base directory specification 0.8 where there is no other custom).
func (e *env) notebookPath() (string, error) {
	path, _, err := e.notebookAt()
	return path, err
}

// The ways in which the notebook's file is settled.
const (
	byFlag     = "--db"
	byVariable = "HEDGEROW_DB"
	byFolder   = "data folder"
)

// notebookAt is notebookPath with what settled it.
func (e *env) notebookAt() (path, by string, err error) {
	if e.flags.db != "" {
		return e.flags.db, byFlag, nil
	}
	if p := e.getenv("HEDGEROW_DB"); p != "" {
		return p, byVariable, nil
	}
	dir, err := e.dataFolder()
	if err != nil {
		return "", "", err
	}
	return filepath.Join(dir, "hedgerow", "hedgerow.db"), byFolder, nil
}

// dataFolder returns the folder for a user's data on this system.
func (e *env) dataFolder() (string, error) {
	// the specification says to ignore a path that is not absolute
	if d := e.getenv("XDG_DATA_HOME"); filepath.IsAbs(d) {
		return d, nil
	}
	home := e.getenv("HOME")
	switch {
	case runtime.GOOS == "windows" && e.getenv("LocalAppData") != "":
		return e.getenv("LocalAppData"), nil
	case home == "":
		return "", trials.Refuse("name the file with --db or HEDGEROW_DB",
			"the home folder is not known, so there is no place for the notebook")
	case runtime.GOOS == "darwin":
		return filepath.Join(home, "Library", "Application Support"), nil
	}
	return filepath.Join(home, ".local", "share"), nil
}

// isTerminal reports whether w or r is a terminal.
func isTerminal(stream any) bool {
	f, ok := behind(stream).(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// pageWidth returns the width to draw for: the terminal's, or 80. The variable
// COLUMNS wins over both.
func (e *env) pageWidth() int {
	// narrower than 40 no table can be drawn: the variable is then taken for a mistake
	if w := atoi(e.getenv("COLUMNS")); w >= 40 {
		return w
	}
	if f, ok := behind(e.stdout).(*os.File); ok {
		if w, _, err := term.GetSize(int(f.Fd())); err == nil && w >= 40 {
			// longer lines are hard to follow back to the left
			return min(w, 160)
		}
	}
	return 80
}

// draws reports whether pictures are drawn in characters: on a terminal, unless they are
// not wanted. In a pipe the tables say the same.
func (e *env) draws() bool { return !e.flags.plain && isTerminal(e.stdout) }

// show prints a view in the format the flags ask for.
func (e *env) show(v document.View) error {
	switch {
	case e.flags.json:
		return document.WriteJSON(e.stdout, v.Payload)
	case e.flags.csv && v.Figures:
		return document.WriteFigures(e.stdout, v.Payload)
	case e.flags.csv:
		return document.WriteCSV(e.stdout, v.Document)
	case e.flags.markdown:
		return document.WriteMarkdown(e.stdout, v.Document)
	}
	return document.WriteText(e.stdout, v.Document, document.Style{Width: e.pageWidth(), All: e.flags.wide,
		Pictures: e.draws()})
}

// warn prints warnings for people on standard error and keeps them for --json.
func (e *env) warn(warnings ...string) {
	for _, w := range warnings {
		e.remark("warning: %s", w)
	}
}

// remark prints one remark for people on standard error and keeps it for --json.
func (e *env) remark(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	e.warned = append(e.warned, text)
	e.say("%s", document.Wrap(text, e.pageWidth()))
}

// missing reports whether the file of the notebook is not there.
func (e *env) missing() bool {
	path, err := e.notebookPath()
	if err != nil {
		return true
	}
	_, err = os.Stat(path)
	return errors.Is(err, os.ErrNotExist)
}

// noNotebook reports whether there is no notebook yet. One that was named is taken to
// be there: if it is not, its name was mistyped, and reading it says so.
func (e *env) noNotebook() bool {
	_, by, err := e.notebookAt()
	return err != nil || by == byFolder && e.missing()
}
