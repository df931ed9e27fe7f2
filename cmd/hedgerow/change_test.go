package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/iotest"
	"time"
)

// envOf is the surroundings of one command.
func envOf(in io.Reader, out io.Writer) *env {
	return &env{ctx: context.Background(), stdin: in, stdout: out, stderr: out, now: time.Now,
		getenv: func(string) string { return "" }}
}

// typed runs one command on the notebook db and returns what it said.
func typed(db string, args ...string) (code int, said string) {
	var out strings.Builder
	e := envOf(strings.NewReader(""), &out)
	code = run(e, append([]string{"--db", db}, args...))
	return code, out.String()
}

// Notes are numbered by those that are there. Two who write at once get numbers
// of their own, since each reads and writes in one step.
func TestTwoWritersAtOnce(t *testing.T) {
	t.Parallel()
	db := filepath.Join(t.TempDir(), "n.db")
	if code, said := typed(db, "batch", "new", "moor", "--volume", "12L"); code != exitDone {
		t.Fatal(said)
	}
	const each = 10
	var both sync.WaitGroup
	for writer := range 2 {
		both.Go(func() {
			for i := range each {
				note := fmt.Sprintf("note %d of writer %d", i, writer)
				if code, said := typed(db, "batch", "note", "moor", note); code != exitDone {
					t.Errorf("exit %d: %s", code, said)
				}
			}
		})
	}
	both.Wait()
	code, said := typed(db, "batch", "show", "moor", "--json")
	if code != exitDone || strings.Count(said, " of writer ") != 2*each {
		t.Errorf("exit %d, kept %d notes, want %d", code, strings.Count(said, " of writer "), 2*each)
	}
}

// scoredTasting makes a notebook with an open tasting of two glasses.
func scoredTasting(t *testing.T) (db string) {
	t.Helper()
	db = filepath.Join(t.TempDir(), "n.db")
	for _, line := range [][]string{
		{"batch", "new", "moor", "--volume", "12L"}, {"batch", "new", "fen", "--volume", "12L"},
		{"tasting", "new", "evening", "--serving", "moor", "--serving", "fen", "--open", "--attribute", "floral",
			"--taster", "A"},
	} {
		if code, said := typed(db, line...); code != exitDone {
			t.Fatalf("%v: %s", line, said)
		}
	}
	return db
}

// An interview whose input breaks keeps what was answered, and says so, rather
// than taking a broken line for the end of the evening.
func TestInterviewTellsBrokenInput(t *testing.T) {
	t.Parallel()
	gone := errors.New("device gone")
	for name, c := range map[string]struct {
		in   io.Reader
		want string
	}{
		"read error":    {io.MultiReader(strings.NewReader("4.5\n"), iotest.ErrReader(gone)), "device gone"},
		"too long":      {strings.NewReader("4.5\n" + strings.Repeat("x", 70_000) + "\n"), "one line is too long"},
		"at the taster": {iotest.ErrReader(gone), "device gone"},
	} {
		t.Run(name, func(t *testing.T) {
			db := scoredTasting(t)
			e := envOf(c.in, io.Discard)
			e.flags.db = db
			defer e.close()
			n, err := e.reading()
			if err != nil {
				t.Fatal(err)
			}
			o := scoreOptions{taster: "A"}
			if name == "at the taster" {
				o.taster = ""
			}
			if err := e.interview(n.Tastings[0], o); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("the interview ended with %v, want %q", err, c.want)
			}
			n, err = e.readingScores()
			if err != nil || o.taster != "" && (len(n.Scores) != 1 || *n.Scores[0].Intensity != 4.5) {
				t.Errorf("kept %+v (%v)", n.Scores, err)
			}
		})
	}
}
