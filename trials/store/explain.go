package store

import (
	"errors"
	"fmt"
	"io/fs"

	"hedgerow/trials"

	"modernc.org/sqlite"
)

// The primary result codes of SQLite that a person can do something about.
const (
	sqliteBusy       = 5
	sqliteLocked     = 6
	sqliteReadOnly   = 8
	sqliteIOErr      = 10
	sqliteCorrupt    = 11
	sqliteFull       = 13
	sqliteCantOpen   = 14
	sqliteConstraint = 19
	sqliteNotADB     = 26
)

// elsewhere is the hint where only another file helps.
const elsewhere = "name another file with --db or HEDGEROW_DB"

// foreign is the refusal of a file that is not a notebook.
func foreign(path string) error {
	return &trials.Problem{Code: trials.ForeignNotebook,
		Message: path + " is not a hedgerow notebook; it was left as it is", Hint: elsewhere}
}

// unreadable is the refusal of a file that cannot be looked at.
func unreadable(path string, err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	return &trials.Problem{Code: trials.Failed,
		Message: fmt.Sprintf("cannot read the notebook %s: %v", path, err),
		Hint:    "see to whom it belongs and who may read it, or " + elsewhere}
}

// codeOf is the primary result code of an error of SQLite; 0 for others.
func codeOf(err error) int {
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return 0
	}
	return e.Code() & 0xff
}

// explain turns the driver's errors into Problems where a person can act.
func (s *Store) explain(err error) error {
	problem := func(code trials.Code, hint, format string, args ...any) error {
		return &trials.Problem{Code: code, Message: fmt.Sprintf(format, args...), Hint: hint}
	}
	switch codeOf(err) {
	case 0:
		return err
	case sqliteBusy, sqliteLocked:
		return problem(trials.Busy, "try again in a moment", "another hedgerow is writing to this notebook")
	case sqliteReadOnly:
		return problem(trials.Failed, "see who may write there, or "+elsewhere,
			"the notebook %s cannot be written: the file or its folder is read-only", s.path)
	case sqliteFull:
		return problem(trials.Failed, "make room on the disk and repeat the command; nothing was written",
			"there is no room left for the notebook %s", s.path)
	case sqliteIOErr:
		return problem(trials.Failed, "see whether the disk is full or failing; what was saved before is kept",
			"the notebook %s could not be read or written to the end", s.path)
	case sqliteCantOpen:
		return problem(trials.Failed, "see who may read and write its folder, or "+elsewhere,
			"the notebook %s cannot be opened", s.path)
	case sqliteCorrupt, sqliteNotADB:
		return problem(trials.ForeignNotebook,
			"bring a copy back with hedgerow restore; some may lie beside it, with .copy-<date> or .before-v<number> "+
				"in their names",
			"the notebook %s is damaged or not a hedgerow notebook", s.path)
	}
	return problem(trials.Failed, "this should not happen: keep a copy of the notebook, then try again",
		"the notebook %s did not take what was asked of it (%v)", s.path, err)
}
