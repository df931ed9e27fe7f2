package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Whatever the bytes of a spreadsheet or an export, import ends with an answer: what it
// writes is whole to check, what it refuses is told in words of ours and writes nothing.
// Longer: go test -fuzz FuzzImport ./cmd/hedgerow
func FuzzImport(f *testing.F) {
	for _, pattern := range []string{"../../trials/sheets/testdata/s*.csv", "../../trials/exchange/testdata/m*.json"} {
		names, _ := filepath.Glob(pattern)
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	f.Add(exported(f))
	f.Add([]byte("Judge\tBeer\tToo much\n0")) // a vote on nothing had no answer to choose
	empty := filepath.Join(f.TempDir(), "empty.db")
	if code, said := typed(empty, "batch", "new", "elder-1", "--volume", "12L", "--og", "1.046"); code != exitDone {
		f.Fatal(said)
	}
	whole, err := os.ReadFile(empty)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		dir := t.TempDir()
		db, file := filepath.Join(dir, "n.db"), filepath.Join(dir, "came.csv")
		for name, text := range map[string][]byte{db: whole, file: data} {
			if err := os.WriteFile(name, text, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		code, said := typed(db, "import", file, "--at", "2026-04-12", "--tasting", "night", "--yes")
		if code == exitFailed || strings.Contains(said, "SQL") || strings.Contains(said, "constraint") {
			t.Errorf("exit %d: %s", code, said)
		}
		if code, said := typed(db, "check"); code != exitDone {
			t.Errorf("after it check finds: %s", said)
		}
	})
}

// exported is the export of a notebook with everything that the demo makes.
func exported(f *testing.F) []byte {
	f.Helper()
	out := filepath.Join(f.TempDir(), "out.json")
	if code, said := typed(usedNotebook(f), "export", out); code != exitDone {
		f.Fatal(said)
	}
	text, err := os.ReadFile(out)
	if err != nil {
		f.Fatal(err)
	}
	return text
}
