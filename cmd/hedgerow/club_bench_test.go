package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/store"
)

// saveAll writes a whole notebook to a file in one go.
func saveAll(t testing.TB, path string, n *trials.Notebook) {
	t.Helper()
	now := n.Now
	s, err := store.Open(context.Background(), path, store.Options{Now: func() time.Time { return now }})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	c, err := s.Begin(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Write("a club", func(tx *store.Tx) error { return saveClub(tx, n) }); err != nil {
		t.Fatal(err)
	}
}

// saveClub saves the records of a club as new ones. Those that have only an id
// get another one.
func saveClub(tx *store.Tx, n *trials.Notebook) error {
	var records []any
	for _, r := range n.Batches {
		r.CreatedAt = time.Time{}
		records = append(records, &r)
	}
	for _, r := range n.Readings {
		r.CreatedAt = time.Time{}
		records = append(records, &r)
	}
	for _, r := range n.Extracts {
		r.CreatedAt = time.Time{}
		records = append(records, &r)
	}
	for _, r := range n.Additions {
		r.CreatedAt = time.Time{}
		records = append(records, &r)
	}
	for _, r := range n.Tasters {
		r.CreatedAt = time.Time{}
		records = append(records, &r)
	}
	for _, r := range n.Tastings {
		r.CreatedAt = time.Time{}
		records = append(records, &r)
	}
	if err := tx.Save(records...); err != nil {
		return err
	}
	served := map[string]string{}
	for _, r := range n.Servings {
		old := r.ID
		r.ID = ""
		if err := tx.Save(&r); err != nil {
			return err
		}
		served[old] = r.ID
	}
	for _, r := range n.Scores {
		r.ID, r.ServingID = "", served[r.ServingID]
		if err := tx.Save(&r); err != nil {
			return err
		}
	}
	return nil
}

// clubCommand runs a command on the notebook of a club.
func clubCommand(t testing.TB, db string, now time.Time, args ...string) {
	t.Helper()
	var stderr strings.Builder
	e := &env{ctx: context.Background(), stdin: strings.NewReader(""), stdout: io.Discard, stderr: &stderr,
		now: func() time.Time { return now }, getenv: func(string) string { return "" }}
	if code := run(e, append([]string{"--db", db}, args...)); code != exitDone {
		t.Fatalf("%v: exit %d: %s", args, code, &stderr)
	}
}

// The commands that a club uses most, on its notebook after so many brews (80
// scores each).
func BenchmarkClub(b *testing.B) {
	for _, brews := range []int{10, 100, 1000} {
		n := invented.Club(brews)
		db := filepath.Join(b.TempDir(), "club.db")
		saveAll(b, db, n)
		for _, args := range [][]string{{"batch", "list"}, {"status"}, {"ledger", "brew-1-jar-1"}, {"compare", "hibiscus"},
			{"suggest", "hibiscus"}} {
			b.Run(fmt.Sprintf("%s/%d", strings.Join(args[:1], " "), brews), func(b *testing.B) {
				for b.Loop() {
					clubCommand(b, db, n.Now, args...)
				}
			})
		}
	}
}

// The commands of an answer on the notebook of the built-in demo.
func BenchmarkDemo(b *testing.B) {
	db := filepath.Join(b.TempDir(), "demo.db")
	now := time.Now()
	clubCommand(b, filepath.Join(b.TempDir(), "none.db"), now, "demo", "--into", db)
	for _, args := range [][]string{{"batch", "list"}, {"status"}, {"ledger", "hib-3"}, {"compare", "hibiscus"},
		{"suggest", "hibiscus"}} {
		b.Run(args[0], func(b *testing.B) {
			for b.Loop() {
				clubCommand(b, db, now, args...)
			}
		})
	}
}
