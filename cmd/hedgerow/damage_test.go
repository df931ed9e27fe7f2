package main

import (
	"database/sql"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// used is a notebook in which every kind of command was used, the invented series of
// the demo, made once for all who spoil a copy of it.
var used = sync.OnceValues(func() ([]byte, error) { return demoAt(time.Now()) })

// demoAt is the notebook that the demo makes at a moment.
func demoAt(now time.Time) ([]byte, error) {
	folder, err := os.MkdirTemp("", "used")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	db := filepath.Join(folder, "used.db")
	if code, said := typedAt(db, now, "demo", "--into", db); code != exitDone {
		return nil, errors.New(said)
	}
	return os.ReadFile(db)
}

// usedNotebook is a copy of it.
func usedNotebook(t testing.TB) string {
	t.Helper()
	whole, err := used()
	if err != nil {
		t.Fatal(err)
	}
	return laid(t, whole)
}

// questions are asked of a notebook to see whether it still answers the same.
var questions = [][]string{
	{"batch", "list", "--json"}, {"ledger", demoTrial, "--json"}, {"addition", "list", "--json"},
	{"tasting", "list", "--json"}, {"taster", "list", "--json"}, {"extract", "list", "--json"},
	{"config", "get", "--json"}, {"claim", "list", "--json"}, {"compare", demoMaterial, "--json"},
	{"undo", "--list", "--json"},
}

// answers asks all questions; a panic or a command that does not end in a minute
// fails the test.
func answers(t *testing.T, db string) string {
	t.Helper()
	var all strings.Builder
	for _, q := range questions {
		code, said := typedInTime(t, db, q...)
		fmt.Fprintf(&all, "%v: %d\n%s\n", q, code, strings.ReplaceAll(said, db, "DB"))
	}
	return all.String()
}

// typedInTime is typed for a notebook that may be damaged.
func typedInTime(t *testing.T, db string, args ...string) (code int, said string) {
	t.Helper()
	done := make(chan struct{})
	go func() {
		defer close(done)
		defer func() {
			if p := recover(); p != nil {
				t.Errorf("%v: panic: %v", args, p)
				code = -1
			}
		}()
		code, said = typed(db, args...)
	}()
	select {
	case <-done:
		return code, said
	case <-time.After(time.Minute):
		t.Fatalf("%v: no end", args)
	}
	return 0, ""
}

// A flipped byte, or an end cut off, anywhere in the file: what check finds is
// told, and where check finds nothing every answer is what it was. Nothing panics
// or hangs.
func TestFlippedAndCutFiles(t *testing.T) {
	t.Parallel()
	db := usedNotebook(t)
	whole, err := os.ReadFile(db)
	if err != nil {
		t.Fatal(err)
	}
	want := answers(t, db)
	draw := rand.New(rand.NewPCG(16, 6))
	for name, spoil := range map[string]func([]byte) []byte{
		"flip": func(b []byte) []byte { b[draw.IntN(len(b))] ^= byte(1 + draw.IntN(255)); return b },
		"cut":  func(b []byte) []byte { return b[:draw.IntN(len(b))] },
	} {
		n, found, silent := rounds(t, 12), 0, 0
		for i := range n {
			path := filepath.Join(t.TempDir(), "spoilt.db")
			spoilt := spoil(append([]byte{}, whole...))
			if err := os.WriteFile(path, spoilt, 0o600); err != nil {
				t.Fatal(err)
			}
			if code, _ := typedInTime(t, path, "check"); code != exitDone {
				found++
				typedInTime(t, path, "ledger", demoTrial)
				typedInTime(t, path, "undo")
				continue
			}
			if got := answers(t, path); got != want {
				silent++
				t.Logf("round %d: check found nothing, but\n%s", i, firstDifference(got, want))
			}
		}
		t.Logf("%s: %d, found by check %d, answered differently without a word %d", name, n, found, silent)
		if silent > 0 {
			t.Errorf("%s: %d of %d answer differently and check finds nothing", name, silent, n)
		}
	}
}

// firstDifference shows the first lines in which two texts differ.
func firstDifference(a, b string) string {
	first, second := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(first), len(second)) {
		if first[i] != second[i] {
			return first[i] + "\nwas\n" + second[i]
		}
	}
	return fmt.Sprintf("%d lines were %d", len(first), len(second))
}

// The ledger of a batch of a notebook whose batches descend from each other is an
// error and ends.
func TestParentCircle(t *testing.T) {
	db := filepath.Join(t.TempDir(), "n.db")
	for _, line := range [][]string{{"batch", "new", "a", "--volume", "12L", "--og", "1.048"},
		{"batch", "split", "a", "b", "--volume", "2L"}} {
		if code, said := typed(db, line...); code != exitDone {
			t.Fatal(said)
		}
	}
	spoil(t, db, "UPDATE batch SET parent_id = (SELECT id FROM batch WHERE name = 'b') WHERE name = 'a'")
	for _, args := range [][]string{{"ledger", "b"}, {"batch", "list"}, {"check"}} {
		code, said := typedInTime(t, db, args...)
		told := args[0] == "check" || strings.Contains(strings.Join(strings.Fields(said), " "), "descends from itself")
		if code == exitDone || !told {
			t.Errorf("%v: exit %d: %s", args, code, said)
		}
	}
}

// spoil changes a notebook behind the program's back.
func spoil(t *testing.T, db string, statements ...string) {
	t.Helper()
	other, err := sql.Open("sqlite", db)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	for _, text := range statements {
		if _, err := other.Exec(text); err != nil {
			t.Fatal(err)
		}
	}
}
