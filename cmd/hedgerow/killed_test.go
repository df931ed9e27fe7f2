package main

import (
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A notebook that is in use loses nothing that was acknowledged when a write is
// killed, keeps all or nothing of it, and stays whole.
func TestKilledWriteOnUsedNotebook(t *testing.T) {
	t.Parallel()
	used, err := used()
	if err != nil {
		t.Fatal(err)
	}
	killing(t, func(t *testing.T, kills int) (all tally) {
		db := laid(t, used)
		// A tea makes an extract and an addition, which belong together.
		tea := func(batch string) []string {
			return []string{"addition", "add", batch, "heather", "4g", "--form", "cut", "--as", "tea",
				"--pass", "100mL 95C 20min drained"}
		}
		begin := func(batch string) {
			if code, said := typed(db, "batch", "new", batch, "--volume", "4L"); code != exitDone {
				t.Fatal(said)
			}
		}
		begin("whole")
		whole := lifetime(t, db, tea("whole")...)
		var acknowledged []string
		for i := range kills {
			name := fmt.Sprintf("kill-%d", i)
			begin(name)
			said := killed(t, within(whole), db, tea(name)...)
			all.kills++
			_, list := typed(db, "addition", "list", name, "--csv")
			_, extracts := typed(db, "extract", "list", "--csv")
			has := strings.Contains(list, name+".a1")
			if has {
				all.written++
			}
			if has != strings.Contains(extracts, "\n"+name) {
				all.half++
			}
			if strings.Contains(said, "logged") {
				acknowledged = append(acknowledged, name)
			}
			if code, said := typed(db, "check"); code != exitDone {
				t.Log(said)
				all.damaged++
			}
		}
		// at the end, for a later kill must not take away what an earlier one left
		_, list := typed(db, "addition", "list", "--csv")
		for _, name := range acknowledged {
			if !strings.Contains(list, name+".a1") {
				all.lost++
			}
		}
		return all
	})
}

// An import that is killed is there whole or not at all, whole if it was said to be.
func TestKilledImport(t *testing.T) {
	t.Parallel()
	const rows = 200
	sheet := filepath.Join(t.TempDir(), "batches.csv")
	var text strings.Builder
	text.WriteString("Name,Date,Volume,OG\n")
	for i := range rows {
		fmt.Fprintf(&text, "came-%d,2026-01-02,12 l,1.048\n", i)
	}
	if err := os.WriteFile(sheet, []byte(text.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	killedBringing(t, rows, "import", sheet, "--yes")
}

// A merge that is killed has joined all of the other notebook or nothing.
func TestKilledMerge(t *testing.T) {
	t.Parallel()
	const rows = 40
	friend := filepath.Join(t.TempDir(), "friend.db")
	for i := range rows {
		runs(t, friend, "batch", "new", fmt.Sprintf("came-%d", i), "--volume", "12L", "--og", "1.048")
	}
	killedBringing(t, rows, "merge", friend, "--yes")
}

// killedBringing kills a command that brings so many batches, called came-, into a used
// notebook, anew in each round, and looks at what is there.
func killedBringing(t *testing.T, rows int, args ...string) {
	t.Helper()
	used, err := used()
	if err != nil {
		t.Fatal(err)
	}
	killing(t, func(t *testing.T, kills int) (all tally) {
		whole := lifetime(t, laid(t, used), args...)
		for range kills {
			db := laid(t, used)
			said := killed(t, within(whole), db, args...)
			all.kills++
			_, list := typed(db, "batch", "list", "--csv")
			switch there := strings.Count(list, "\ncame-"); {
			case there == rows:
				all.written++
			case there != 0:
				all.half++
			case said != "": // it says something after it has written, not before
				all.lost++
			}
			if code, said := typed(db, "check"); code != exitDone {
				t.Log(said)
				all.damaged++
			}
		}
		return all
	})
}

// laid is a notebook of its own that holds these bytes.
func laid(t testing.TB, notebook []byte) (db string) {
	t.Helper()
	db = filepath.Join(t.TempDir(), "n.db")
	if err := os.WriteFile(db, notebook, 0o600); err != nil {
		t.Fatal(err)
	}
	return db
}

// A notebook of an older version whose upgrade is killed is of the one version or
// the other, with all its records, and the next command brings it up to date.
func TestKilledMigration(t *testing.T) {
	t.Parallel()
	old := oldNotebook(t)
	killing(t, func(t *testing.T, kills int) (all tally) {
		whole := lifetime(t, laid(t, old), "batch", "list")
		for range kills {
			db := laid(t, old)
			killed(t, within(whole), db, "batch", "list")
			all.kills++
			if versionLeft(t, db) > 1 {
				all.written++
			}
			code, list := typed(db, "batch", "list", "--csv")
			_, said := typed(db, "check")
			if code != exitDone || strings.Count(list, "\nold-") != oldBatches || !strings.Contains(said, "Nothing is damaged") {
				t.Logf("exit %d: %s%s", code, list, said)
				all.lost++
			}
		}
		return all
	})
}

// versionLeft is the version of a notebook as a killed program left it. It looks at a
// copy: SQLite mends what it opens, and the next command is to find it as it is.
func versionLeft(t *testing.T, db string) (version int) {
	t.Helper()
	to := filepath.Join(t.TempDir(), "copy.db")
	for _, suffix := range []string{"", "-wal", "-journal"} {
		text, err := os.ReadFile(db + suffix)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err = errors.Join(err, os.WriteFile(to+suffix, text, 0o600)); err != nil {
			t.Fatal(err)
		}
	}
	copied, err := sql.Open("sqlite", to)
	if err != nil {
		t.Fatal(err)
	}
	defer copied.Close()
	if err := copied.QueryRow("PRAGMA user_version").Scan(&version); err != nil {
		t.Fatal(err)
	}
	return version
}

// oldBatches is how many batches the notebook of an older version has.
const oldBatches = 50

// oldNotebook is a notebook of the first version, made by its migration.
func oldNotebook(t *testing.T) []byte {
	t.Helper()
	schema, err := os.ReadFile(filepath.Join("..", "..", "trials", "store", "migrations", "0001_notebook.sql"))
	if err != nil {
		t.Fatal(err)
	}
	db := filepath.Join(t.TempDir(), "old.db")
	statements := []string{string(schema), "PRAGMA application_id = 0x68646772", "PRAGMA user_version = 1"}
	const now = "'2026-03-01T18:30:00.000000000Z'"
	for i := range oldBatches {
		statements = append(statements, fmt.Sprintf("INSERT INTO batch VALUES ('b%d', 'old-%d', "+now+", "+now+
			", NULL, 'batch', "+
			now+", 12, 1.048, NULL, NULL, NULL, NULL, '', 'invented')", i, i))
	}
	spoil(t, db, statements...)
	text, err := os.ReadFile(db)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// A disk that is full takes nothing, says so with the path, and what was there
// before is whole. The limit on the size of a file stands for the full disk; where
// HEDGEROW_FULL names a folder on a small one, that is used.
func TestFullDisk(t *testing.T) {
	t.Parallel()
	dir := os.Getenv("HEDGEROW_FULL")
	if dir == "" {
		t.Skip("HEDGEROW_FULL names no folder on a small disk")
	}
	db := filepath.Join(dir, "full.db")
	t.Cleanup(func() { os.Remove(db) })
	saved := 0
	for i := range 10_000 {
		code, said := typed(db, "batch", "new", fmt.Sprintf("b%d", i), "--volume", "1L", "--note", strings.Repeat("n", 2000))
		if code == exitDone {
			saved++
			continue
		}
		if code != exitFailed || !strings.Contains(said, db) || strings.Contains(said, "SQL") {
			t.Errorf("a full disk is told with exit %d as %s", code, said)
		}
		break
	}
	code, list := typed(db, "batch", "list", "--csv")
	if code != exitDone || strings.Count(list, "\nb") != saved {
		t.Errorf("exit %d, of %d that were saved %d are there", code, saved, strings.Count(list, "\nb"))
	}
	if code, said := typed(db, "check"); code != exitDone {
		t.Errorf("damaged: %s", said)
	}
	nothingBeside(t, db)
	// not a byte is left for what SQLite wants beside the file: reading goes on
	fill := filepath.Join(dir, "fill")
	t.Cleanup(func() { os.Remove(fill) })
	if err := os.WriteFile(fill, make([]byte, 64<<20), 0o600); err == nil {
		t.Fatal("the disk is not full")
	}
	if code, list := typed(db, "batch", "list", "--csv"); code != exitDone || strings.Count(list, "\nb") != saved {
		t.Errorf("on a disk without a byte left: exit %d: %.300s", code, list)
	}
	t.Logf("full disk: %d saved, all there", saved)
}

// nothingBeside demands that a copy and an export for which there is no room beside a
// notebook say so, with the path of the copy and what to do, and leave nothing there.
func nothingBeside(t *testing.T, db string) {
	t.Helper()
	dir := filepath.Dir(db)
	for _, args := range [][]string{{"backup", filepath.Join(dir, "copy.db")}, {"export", filepath.Join(dir, "all.json")},
		{"export", filepath.Join(dir, "tables")}} {
		code, said := typed(db, args...)
		text := strings.Join(strings.Fields(said), " ")
		if code != exitFailed || !strings.Contains(text, args[1]) || !strings.Contains(text, "make room") {
			t.Errorf("%v on a full disk: exit %d: %s", args, code, said)
		}
		if _, err := os.Lstat(args[1]); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%v on a full disk left %s (%v)", args, args[1], err)
		}
	}
	hidden, err := filepath.Glob(filepath.Join(dir, ".*"))
	if err != nil || len(hidden) > 0 {
		t.Errorf("left are %v (%v)", hidden, err)
	}
}
