package store

import (
	"context"
	"database/sql"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"hedgerow/trials"
)

// twoPasses is an extract with two passes and a top-up whose ids tell whose they are.
func twoPasses(name string) *trials.Extract {
	return &trials.Extract{Record: trials.Record{Name: name}, MadeAt: testNow,
		MaterialKey: "heather", Method: trials.MethodTea, Form: "cut", MassG: 36,
		Passes: []trials.Pass{
			{ID: name + ".1", VolumeL: 0.4, StartC: 94, Minutes: 30, Separation: "drained"},
			{ID: name + ".2", VolumeL: 0.3, StartC: 94, Minutes: 20, Separation: "squeezed"}},
		TopUps: []trials.TopUp{{ID: name + ".t", At: testNow, VolumeL: 0.1}}}
}

// hasItsOwn reports whether an extract has the passes and the top-up of twoPasses.
func hasItsOwn(x trials.Extract) bool {
	return len(x.Passes) == 2 && x.Passes[0].ID == x.Name+".1" && x.Passes[1].ID == x.Name+".2" &&
		len(x.TopUps) == 1 && x.TopUps[0].ID == x.Name+".t"
}

// Whoever reads while others write and take back sees a notebook as it was at one
// moment: every extract with its own two passes, never half of a write.
func TestReadersBesideWritersAndUndo(t *testing.T) {
	path := filepath.Join(t.TempDir(), "n.db")
	open(t, path).Close()
	ctx, stop := context.WithTimeout(context.Background(), 400*time.Millisecond)
	defer stop()
	var all sync.WaitGroup
	for _, name := range []string{"tea-a", "tea-b"} {
		s := open(t, path)
		all.Go(func() {
			for ctx.Err() == nil {
				err := s.Write(context.Background(), "make "+name, func(tx *Tx) error { return tx.Save(twoPasses(name)) })
				if err != nil && trials.CodeOf(err) != trials.Invalid { // the other's undo may have brought the name back
					t.Errorf("write: %v", err)
					return
				}
				// after a write that was refused the other may have taken back all there was
				_, err = s.Undo(context.Background())
				if err != nil && trials.CodeOf(err) != trials.NotFound {
					t.Errorf("undo: %v", err)
					return
				}
			}
		})
	}
	for range 2 {
		s := open(t, path)
		all.Go(func() {
			for ctx.Err() == nil {
				n, err := s.Notebook(context.Background())
				if err != nil {
					t.Errorf("read: %v", err)
					return
				}
				for _, x := range n.Extracts {
					if !hasItsOwn(x) {
						t.Errorf("read %s with passes %+v and top-ups %+v", x.Name, x.Passes, x.TopUps)
						return
					}
				}
			}
		})
	}
	all.Wait()
}

// Of two who take back at once, each takes back another write.
func TestTwoUndoAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "n.db")
	a, b := open(t, path), open(t, path)
	ctx := context.Background()
	for i := range 30 {
		saved(t, a, twoPasses("tea-a"))
		saved(t, a, twoPasses("tea-b"))
		saved(t, a, twoPasses("tea-c"))
		var both sync.WaitGroup
		for _, s := range []*Store{a, b} {
			both.Go(func() {
				if _, err := s.Undo(ctx); err != nil {
					t.Errorf("undo: %v", err)
				}
			})
		}
		both.Wait()
		n, err := a.Notebook(ctx)
		if err != nil || len(n.Extracts) != 1 || n.Extracts[0].Name != "tea-a" {
			t.Fatalf("round %d: left are %+v (%v), want tea-a", i, n.Extracts, err)
		}
		undone(t, a)
	}
}

// A pass whose extract was taken out by a program that does not heed foreign
// keys is told, and joined to no other extract.
func TestOrphansAreToldNotJoined(t *testing.T) {
	ctx := context.Background()
	for _, table := range []string{"pass", "top_up"} {
		path := filepath.Join(t.TempDir(), "n.db")
		s := open(t, path)
		saved(t, s, twoPasses("tea-a"), twoPasses("tea-b"))
		db, err := sql.Open("sqlite", path) // foreign keys are off unless asked for
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		if _, err := db.Exec("UPDATE " + table + " SET extract_id = 'gone' WHERE id LIKE 'tea-b%'"); err != nil {
			t.Fatal(err)
		}
		n, err := s.Notebook(ctx)
		const want = "belongs to an extract that is not there"
		if trials.CodeOf(err) != trials.ForeignNotebook || !strings.Contains(err.Error(), want) {
			t.Errorf("orphans of %s: read %+v, error %v", table, n, err)
		}
	}
}
