package store

import (
	"context"
	"database/sql"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"hedgerow/trials"
)

// sqliteFile makes a SQLite file by statements, without this package.
func sqliteFile(t *testing.T, path string, statements ...string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	for _, text := range statements {
		if _, err := db.Exec(text); err != nil {
			t.Fatalf("%v: %s", err, text)
		}
	}
}

// withLog makes a SQLite file whose last writes are in its log alone, as a
// program that was killed leaves it.
func withLog(t *testing.T, path string, statements ...string) {
	t.Helper()
	other := filepath.Join(t.TempDir(), "running.db")
	db, err := sql.Open("sqlite", other)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	for _, text := range append([]string{"PRAGMA journal_mode = WAL"}, statements...) {
		if _, err := db.Exec(text); err != nil {
			t.Fatalf("%v: %s", err, text)
		}
	}
	for _, end := range []string{"", "-wal", "-shm"} {
		text, err := os.ReadFile(other + end)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path+end, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// folder reads all files of a folder.
func folder(t *testing.T, dir string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for _, e := range entries {
		text, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		files[e.Name()] = string(text)
	}
	return files
}

// A file without anything in it is taken into use: an empty one, one that SQLite
// began and left without a table, one whose log holds nothing whole, and a link
// to nothing, which stays a link.
func TestBlankFilesAreTakenIntoUse(t *testing.T) {
	for name, blank := range map[string]func(path string){
		"empty":    func(path string) { os.WriteFile(path, nil, 0o600) },
		"no table": func(path string) { sqliteFile(t, path, "CREATE TABLE t (x)", "DROP TABLE t", "VACUUM") },
		"wal mode": func(path string) { sqliteFile(t, path, "PRAGMA journal_mode = WAL") },
		"torn log": func(path string) {
			withLog(t, path, "CREATE TABLE t (x)")
			os.Truncate(path+"-wal", 32+24+1000)
		},
		"link": func(path string) { os.Symlink("target.db", path) },
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "n.db")
			blank(path)
			if _, err := Open(context.Background(), path, Options{ReadOnly: true, Now: time.Now}); trials.CodeOf(err) !=
				trials.NotFound {
				t.Errorf("reading it: %v", err)
			}
			s := open(t, path)
			saved(t, s, &trials.Taster{Record: trials.Record{Name: "A"}})
			s.Close()
			if n := whole(t, open(t, path)); len(n.Tasters) != 1 {
				t.Errorf("kept %d tasters", len(n.Tasters))
			}
			if info, err := os.Lstat(path); err != nil || name == "link" && info.Mode().Type() != os.ModeSymlink {
				t.Errorf("the link became %v (%v)", info.Mode(), err)
			}
		})
	}
}

// Several who take the same empty file into use at once all succeed.
func TestBlankFileTakenByMany(t *testing.T) {
	rounds, writers := 5, 8
	if testing.Short() {
		// under the race detector a notebook takes seconds to make, and who waits gives up after five
		rounds, writers = 1, 3
	}
	for range rounds {
		path := filepath.Join(t.TempDir(), "n.db")
		os.WriteFile(path, nil, 0o600)
		var all sync.WaitGroup
		for range writers {
			all.Go(func() {
				s, err := Open(context.Background(), path, Options{Now: time.Now})
				if err != nil {
					t.Errorf("open: %v", err)
					return
				}
				s.Close()
			})
		}
		all.Wait()
	}
}

// A notebook of which everything is still in the log, as a first write that was
// killed left it in earlier versions, is ours.
func TestNotebookInItsLogAlone(t *testing.T) {
	list, err := steps()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "n.db")
	withLog(t, path, strings.Join(list[:1], "")+"PRAGMA application_id = 0x68646772; PRAGMA user_version = 1",
		`INSERT INTO taster VALUES ('t', 'A', '2026-03-01T18:30:00.000000000Z', '2026-03-01T18:30:00.000000000Z', '')`)
	if n := whole(t, open(t, path)); len(n.Tasters) != 1 {
		t.Errorf("kept %d tasters", len(n.Tasters))
	}
}

// What is not ours stays what it was to the last byte, its log included, and
// nothing is put beside it. What no one may wait for, such as a pipe, is refused
// at once.
func TestForeignFilesStayAsTheyAre(t *testing.T) {
	for name, make := range map[string]func(path string){
		"with a log":      func(path string) { withLog(t, path, "CREATE TABLE t (x)", "INSERT INTO t VALUES (1)") },
		"checkpointed":    func(path string) { sqliteFile(t, path, "CREATE TABLE t (x)") },
		"other mark":      func(path string) { sqliteFile(t, path, "PRAGMA application_id = 7") },
		"mark in the log": func(path string) { withLog(t, path, "PRAGMA application_id = 7") },
		"text":            func(path string) { os.WriteFile(path, []byte(strings.Repeat("notes ", 40)), 0o600) },
		"short":           func(path string) { os.WriteFile(path, []byte("x"), 0o600) },
		"head alone":      func(path string) { os.WriteFile(path, []byte("SQLite format 3\x00"), 0o600) },
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "n.db")
			make(path)
			before := folder(t, dir)
			for _, readOnly := range []bool{true, false} {
				s, err := Open(context.Background(), path, Options{ReadOnly: readOnly, Now: time.Now})
				if trials.CodeOf(err) != trials.ForeignNotebook {
					t.Errorf("opened as %v, %v", s, err)
				}
			}
			after := folder(t, dir)
			if len(after) != len(before) {
				t.Errorf("%d files became %d", len(before), len(after))
			}
			for file, text := range before {
				if after[file] != text {
					t.Errorf("%s was changed", file)
				}
			}
		})
	}
	pipe := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip(err)
	}
	if _, err := Open(context.Background(), pipe, Options{Now: time.Now}); trials.CodeOf(err) != trials.ForeignNotebook {
		t.Errorf("a pipe: %v", err)
	}
}

// A notebook in which somebody put something that would run with our statements,
// or of which a part is missing, is refused before anything of it runs; the same
// while one of an older version is brought up to date.
func TestStrangeSchemaIsRefused(t *testing.T) {
	for name, c := range map[string]struct{ statement, want string }{
		"trigger": {"CREATE TRIGGER t AFTER INSERT ON taster BEGIN DELETE FROM batch; END", `trigger "t"`},
		"trigger replaced": {"CREATE TRIGGER journal_x AFTER INSERT ON taster BEGIN DELETE FROM batch; END",
			`trigger "journal_x"`},
		"view":       {"ALTER TABLE loss RENAME TO l; CREATE VIEW loss AS SELECT * FROM l", "hedgerow did not make"},
		"index":      {"CREATE INDEX i ON taster (upper(name))", `index "i"`},
		"table":      {"CREATE TABLE extra (x)", `table "extra"`},
		"table gone": {"DROP TABLE top_up", `table "top_up"`},
		"quoted": {`CREATE TRIGGER "journal_a; DROP TABLE taster" AFTER INSERT ON taster BEGIN SELECT 1; END`,
			"journal_a;"},
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "n.db")
			s := open(t, path)
			saved(t, s, &trials.Batch{Record: trials.Record{Name: "moor"}, Kind: trials.KindBatch, StartedAt: testNow,
				VolumeL: 1})
			s.Close()
			sqliteFile(t, path, c.statement)
			for _, o := range []Options{{Now: time.Now}, {Now: time.Now, ReadOnly: true}} {
				_, err := Open(context.Background(), path, o)
				if trials.CodeOf(err) != trials.ForeignNotebook || !strings.Contains(err.Error(), c.want) {
					t.Errorf("opened with %v, want %s", err, c.want)
				}
			}
		})
	}
	for name, statement := range map[string]string{
		"trigger": "CREATE TRIGGER t AFTER UPDATE ON batch BEGIN DELETE FROM batch; END",
		"view":    "CREATE VIEW v AS SELECT 1",
		"table":   "CREATE TABLE extra (x)",
	} {
		path := oldNotebook(t, 5, statement)
		if _, err := Open(context.Background(), path, Options{Now: time.Now}); trials.CodeOf(err) != trials.ForeignNotebook ||
			!strings.Contains(err.Error(), "hedgerow did not make") {
			t.Errorf("an old one with a %s: %v", name, err)
		}
		db, _ := sql.Open("sqlite", path)
		defer db.Close()
		if _, v, err := version(context.Background(), db); v != 5 || err != nil {
			t.Errorf("it is at version %d (%v)", v, err)
		}
	}
}

// A trigger of the journal whose name is a statement is dropped as a name.
func TestOldTriggersAreDroppedByName(t *testing.T) {
	path := oldNotebook(t, 5,
		`CREATE TRIGGER "journal_x""; DROP TABLE taster; --" AFTER INSERT ON taster BEGIN SELECT 1; END`)
	if n := whole(t, open(t, path)); n.Tasters != nil {
		t.Errorf("tasters %v", n.Tasters)
	}
}

// No statement can attach another file, and cells are checked as they are read.
func TestNothingCanBeAttached(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	if _, err := s.db.Exec("ATTACH ? AS other", filepath.Join(t.TempDir(), "o.db")); err == nil {
		t.Error("another file was attached")
	}
	var on int
	if err := s.db.QueryRow("PRAGMA cell_size_check").Scan(&on); err != nil || on != 1 {
		t.Errorf("cell_size_check is %d (%v)", on, err)
	}
}

// Of several who open an old notebook at once one brings it up to date; one copy
// is made, and one that is there already keeps its place.
func TestUpgradeByOneOfMany(t *testing.T) {
	path := oldNotebook(t, 5, "")
	kept := path + ".before-v6"
	os.WriteFile(kept, []byte("an earlier copy"), 0o600)
	var all sync.WaitGroup
	for i := range 6 {
		all.Go(func() {
			s, err := Open(context.Background(), path, Options{ReadOnly: i%2 == 0, Now: time.Now})
			if err != nil {
				t.Errorf("open: %v", err)
				return
			}
			s.Close()
		})
	}
	all.Wait()
	files := folder(t, filepath.Dir(path))
	if files["old.db.before-v6"] != "an earlier copy" || len(files) != 3 || files["old.db.before-v6-2"] == "" {
		var names []string
		for name := range files {
			names = append(names, name)
		}
		t.Errorf("left are %v", names)
	}
}
