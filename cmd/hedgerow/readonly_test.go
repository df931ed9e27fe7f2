package main

import (
	"database/sql"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A notebook in a folder where nothing can be written is read, also when its last
// writes are in a log and when it is of an older version; a write is refused with
// the path and what to do; nothing in the folder changes.
func TestReadOnlyFolder(t *testing.T) {
	t.Parallel()
	root := os.Getuid() == 0
	binary := readableProgram(t)
	free := filepath.Join(filepath.Dir(binary), "free")
	if err := os.Mkdir(free, 0o755); err != nil {
		t.Fatal(err)
	}
	os.Chmod(free, 0o777)
	for name, prepare := range map[string]func(db string){
		"current": func(db string) { runs(t, db, "batch", "new", "old-0", "--volume", "1L") },
		"older":   func(db string) { os.WriteFile(db, oldNotebook(t), 0o644) },
		"with a log": func(db string) {
			runs(t, db, "batch", "new", "old-0", "--volume", "1L")
			leaveLog(t, db)
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir, err := os.MkdirTemp("", "read-only-")
			if err != nil {
				t.Fatal(err)
			}
			defer os.RemoveAll(dir)
			db := filepath.Join(dir, "n.db")
			prepare(db)
			before, _ := os.ReadDir(dir)
			for _, f := range before {
				os.Chmod(filepath.Join(dir, f.Name()), 0o444)
			}
			os.Chmod(dir, 0o555)
			defer os.Chmod(dir, 0o755)
			asSomebody := func(args ...string) (string, error) {
				c := program(t, db, args...)
				c.Path = binary
				c.Env = append(c.Env, "TMPDIR="+free)
				if root { // whom no mode keeps out
					const nobody = 65534
					c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
				}
				out, err := c.CombinedOutput()
				return string(out), err
			}
			out, err := asSomebody("batch", "list", "--csv")
			if err != nil || !strings.Contains(out, "\nold-0") {
				t.Errorf("batch list: %v: %s", err, out)
			}
			if out, err := asSomebody("check"); err != nil {
				t.Errorf("check: %v: %s", err, out)
			}
			out, err = asSomebody("batch", "new", "more", "--volume", "1L")
			if err == nil || !strings.Contains(out, db) || !strings.Contains(out, "--db") || strings.Contains(out, "SQL") {
				t.Errorf("a write: %v: %s", err, out)
			}
			after, _ := os.ReadDir(dir)
			if len(after) != len(before) {
				t.Errorf("left are %v", after)
			}
		})
	}
}

// readableProgram is the program where everybody may run it.
func readableProgram(t *testing.T) string {
	t.Helper()
	path, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	dir, err := os.MkdirTemp("", "program-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	copied := filepath.Join(dir, "hedgerow")
	if err := os.WriteFile(copied, text, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	return copied
}

// leaveLog writes to a notebook and leaves what was written in its log.
func leaveLog(t *testing.T, db string) {
	t.Helper()
	other, err := sql.Open("sqlite", db)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := other.Exec("PRAGMA journal_mode = WAL; CREATE TABLE extra (x); DROP TABLE extra"); err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, end := range []string{"", "-wal"} {
		if files[end], err = os.ReadFile(db + end); err != nil {
			t.Fatal(err)
		}
	}
	other.Close()
	for end, text := range files {
		if err := os.WriteFile(db+end, text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
