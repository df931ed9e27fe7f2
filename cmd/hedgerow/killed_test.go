package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A notebook that is in use loses nothing that was acknowledged when a write is
// killed, keeps all or nothing of it, and stays whole.
func TestKilledWriteOnUsedNotebook(t *testing.T) {
	t.Parallel()
	db := usedNotebook(t)
	whole := lifetime(t)
	n, lost, half, damaged := rounds(t, 10), 0, 0, 0
	acknowledged := map[string]bool{}
	for i := range n {
		name := fmt.Sprintf("kill-%d", i)
		// A tea makes an extract and an addition, which belong together.
		if code, said := typed(db, "batch", "new", name, "--volume", "4L"); code != exitDone {
			t.Fatal(said)
		}
		said := killed(t, time.Duration(rand.Float64()*float64(whole)), db, "addition", "add", name, "heather", "4g",
			"--form",
			"cut", "--as", "tea", "--pass", "100mL 95C 20min drained")
		acknowledged[name] = strings.Contains(said, "logged")
		_, list := typed(db, "addition", "list", name, "--csv")
		_, extracts := typed(db, "extract", "list", "--csv")
		has, tea := strings.Contains(list, name+".a1"), strings.Contains(extracts, "\n"+name)
		if acknowledged[name] && !has {
			lost++
		}
		if has != tea {
			half++
		}
		if code, said := typed(db, "check"); code != exitDone {
			t.Log(said)
			damaged++
		}
	}
	t.Logf("kills on a used notebook: %d, acknowledged and lost %d, half written %d, damaged %d", n, lost, half, damaged)
	if lost+half+damaged > 0 {
		t.Errorf("of %d kills %d lost what was acknowledged, %d left half a write, %d damage", n, lost, half, damaged)
	}
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
	used, err := os.ReadFile(usedNotebook(t))
	if err != nil {
		t.Fatal(err)
	}
	db := filepath.Join(t.TempDir(), "n.db")
	fresh := func() {
		os.Remove(db + "-wal")
		os.Remove(db + "-shm")
		if err := os.WriteFile(db, used, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	fresh()
	before := time.Now()
	runs(t, db, args...)
	whole := time.Since(before)
	n, lost, half, damaged, done := rounds(t, 10), 0, 0, 0, 0
	for range n {
		fresh()
		said := killed(t, time.Duration(rand.Float64()*1.2*float64(whole)), db, args...)
		_, list := typed(db, "batch", "list", "--csv")
		switch there := strings.Count(list, "\ncame-"); {
		case there == rows:
			done++
		case there != 0:
			half++
		case said != "": // it says something after it has written, not before
			lost++
		}
		if code, said := typed(db, "check"); code != exitDone {
			t.Log(said)
			damaged++
		}
	}
	t.Logf("kills in %s: %d, of them after it was written %d; acknowledged and lost %d, half written %d, damaged %d",
		args[0], n, done, lost, half, damaged)
	if lost+half+damaged > 0 {
		t.Errorf("of %d kills in %s %d lost what was acknowledged, %d left half, %d damage", n, args[0], lost, half, damaged)
	}
}

// A notebook of an older version whose upgrade is killed is of the one version or
// the other, with all its records, and the next command brings it up to date.
func TestKilledMigration(t *testing.T) {
	t.Parallel()
	whole := lifetime(t)
	n, lost := rounds(t, 10), 0
	old := oldNotebook(t)
	for range n {
		db := filepath.Join(t.TempDir(), "old.db")
		if err := os.WriteFile(db, old, 0o600); err != nil {
			t.Fatal(err)
		}
		killed(t, time.Duration(rand.Float64()*1.5*float64(whole)), db, "batch", "list")
		code, list := typed(db, "batch", "list", "--csv")
		_, said := typed(db, "check")
		if code != exitDone || strings.Count(list, "\nold-") != oldBatches || !strings.Contains(said, "Nothing is damaged") {
			t.Logf("exit %d: %s%s", code, list, said)
			lost++
		}
	}
	t.Logf("kills in a migration: %d, lost or unusable %d", n, lost)
	if lost > 0 {
		t.Errorf("of %d kills in a migration %d lost something", n, lost)
	}
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
