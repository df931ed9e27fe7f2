package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// The writers of these tests run in this process, each with an opening of its
// own: SQLite's locks part them as they part programs.

// atOnce runs f for so many writers at the same moment.
func atOnce(writers int, f func(writer int)) {
	var all sync.WaitGroup
	for i := range writers {
		all.Go(func() { f(i) })
	}
	all.Wait()
}

// counted counts how often commands were refused.
type counted struct {
	mu      sync.Mutex
	refused int
}

// types types a command and counts a refusal.
func (c *counted) types(t *testing.T, db string, args ...string) {
	if code, said := typed(db, args...); code != exitDone {
		c.mu.Lock()
		defer c.mu.Unlock()
		c.refused++
		t.Logf("exit %d: %s", code, said)
	}
}

// Eight who add to one batch, and eight who add each to a batch of their own: no
// addition is refused for a name that nobody chose, and all are there.
func TestManyWriters(t *testing.T) {
	t.Parallel()
	const writers = 8
	each := rounds(t, 4)
	for name, batch := range map[string]func(writer int) string{
		"one batch":    func(int) string { return "b0" },
		"many batches": func(writer int) string { return fmt.Sprintf("b%d", writer) },
	} {
		db := filepath.Join(t.TempDir(), "n.db")
		var c counted
		for i := range writers {
			c.types(t, db, "batch", "new", fmt.Sprintf("b%d", i), "--volume", "12L")
		}
		atOnce(writers, func(writer int) {
			for range each {
				c.types(t, db, "addition", "add", batch(writer), "10mL water")
			}
		})
		_, said := typed(db, "addition", "list", "--json")
		kept := strings.Count(said, `"liquid_kind": "water"`) + strings.Count(said, `"liquid_kind":"water"`)
		t.Logf("%s: %d additions by %d writers, %d refused, %d kept", name, writers*each, writers, c.refused, kept)
		if c.refused > 0 || kept != writers*each {
			t.Errorf("%s: of %d additions %d were refused and %d are there", name, writers*each, c.refused, kept)
		}
	}
}

// Of two who change different figures of one record at once neither is lost.
func TestEditsAtOnce(t *testing.T) {
	t.Parallel()
	db := filepath.Join(t.TempDir(), "n.db")
	var c counted
	c.types(t, db, "batch", "new", "moor", "--volume", "12L")
	n, lost := rounds(t, 10), 0
	for i := range n {
		want := []string{fmt.Sprintf("1.0%d", 40+i%20), fmt.Sprintf("%d", 20+i%15)}
		atOnce(2, func(writer int) {
			c.types(t, db, "batch", "edit", "moor", []string{"--og", "--ibu"}[writer], want[writer])
		})
		_, said := typed(db, "batch", "show", "moor", "--json")
		said = strings.Join(strings.Fields(said), "")
		og := strings.TrimRight(want[0], "0")
		if !strings.Contains(said, `"og":`+og+",") || !strings.Contains(said, `"ibu":`+want[1]+",") {
			lost++
		}
	}
	t.Logf("two edits at once: %d, refused %d, one lost %d", n, c.refused, lost)
	if c.refused+lost > 0 {
		t.Errorf("of %d pairs of edits at once %d were refused and %d lost one", n, c.refused, lost)
	}
}

// Beside an undo no write is lost: the undo took it back and says so by name, or
// took back the one before it.
func TestUndoBesideEdit(t *testing.T) {
	t.Parallel()
	db := filepath.Join(t.TempDir(), "n.db")
	var c counted
	c.types(t, db, "batch", "new", "moor", "--volume", "12L")
	n, lost := rounds(t, 10), 0
	for i := range n {
		note := fmt.Sprintf("note-%d-", i)
		c.types(t, db, "batch", "note", "moor", note+"before")
		var undone string
		atOnce(2, func(writer int) {
			if writer == 0 {
				c.types(t, db, "batch", "note", "moor", note+"beside")
				return
			}
			_, undone = typed(db, "undo")
		})
		_, said := typed(db, "batch", "show", "moor", "--json")
		// The undo names the note by its number, and the note beside it has the
		// higher one, if it came first.
		before, beside := strings.Contains(said, note+"before"), strings.Contains(said, note+"beside")
		if before == beside || !strings.HasPrefix(undone, "took back: note moor.n") {
			lost++
			t.Logf("before %v, beside %v, %s", before, beside, undone)
		}
	}
	t.Logf("undo beside a write: %d, refused %d, lost %d", n, c.refused, lost)
	if c.refused+lost > 0 {
		t.Errorf("of %d undos beside a write %d were refused and %d lost one", n, c.refused, lost)
	}
}
