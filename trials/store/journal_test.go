package store

import (
	"context"
	"math"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"hedgerow/trials"
)

// Of a row that one write changed twice, undo brings back the first state, not
// the one between.
func TestUndoGoesBackwards(t *testing.T) {
	ctx := context.Background()
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	taster := &trials.Taster{Record: trials.Record{Name: "A"}, Note: "first"}
	saved(t, s, taster)
	err := s.Write(ctx, "twice", func(tx *Tx) error {
		for _, note := range []string{"second", "third"} {
			taster.Note = note
			if err := tx.Save(taster); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		want string
		turn func(context.Context) (string, error)
	}{{"first", s.Undo}, {"third", s.Redo}, {"first", s.Undo}, {"third", s.Redo}} {
		if _, err := c.turn(ctx); err != nil {
			t.Fatal(err)
		}
		if n := whole(t, s); n.Tasters[0].Note != c.want {
			t.Errorf("brought back %q, want %q", n.Tasters[0].Note, c.want)
		}
	}
}

// Numbers come back from the journal to the last bit, text to the last byte, be
// it no UTF-8 at all.
func TestJournalIsExact(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	b := &trials.Batch{Record: trials.Record{Name: "moor"}, Kind: trials.KindBatch, StartedAt: testNow, VolumeL: 1,
		Note: "caf\xe9 \u2028 '\"\\\x7f"}
	saved(t, s, b)
	draw := rand.New(rand.NewPCG(1, 2))
	for _, v := range []float64{
		math.SmallestNonzeroFloat64, 0.1 + 0.2, 1.0 / 3, 1 << 60, math.MaxFloat64, 123456789.123456789, 7,
	} {
		exact(t, s, b, v)
	}
	for range 200 {
		exact(t, s, b, math.Ldexp(draw.Float64()+0.5, draw.IntN(120)-60))
	}
}

// exact writes v, writes something else, and takes that back.
func exact(t *testing.T, s *Store, b *trials.Batch, v float64) {
	t.Helper()
	note := b.Note
	b.VolumeL, b.IBU = v, &v
	saved(t, s, b)
	b.VolumeL, b.IBU, b.Note = 2, nil, "other"
	saved(t, s, b)
	turned(t, s)
	b.Note = note
	if got := whole(t, s).Batches[0]; got.VolumeL != v || got.IBU == nil || *got.IBU != v || got.Note != note {
		t.Errorf("undo of %v and %q brought back %v, %v and %q", v, note, got.VolumeL, got.IBU, got.Note)
	}
}

// What the journal of a file names is not believed: a table or column that is
// not known is an error and nothing of the write is taken back.
func TestJournalIsNotExecuted(t *testing.T) {
	for name, c := range map[string]struct{ change, want string }{
		"unknown table": {`UPDATE journal_step SET in_table = 'cellar'`, `table "cellar" that is not known`},
		"statement":     {`UPDATE journal_step SET in_table = 'taster; DROP TABLE taster; --'`, "that is not known"},
		"its own table": {`UPDATE journal_step SET in_table = 'journal_write'`, "that is not known"},
		"schema":        {`UPDATE journal_step SET in_table = 'sqlite_schema'`, "that is not known"},
		"unknown column": {`UPDATE journal_step SET row_before = json_set(row_before, '$.colour', 'red')`,
			`column "colour" of taster that is not known`},
		"column with words": {`UPDATE journal_step SET row_before = json_set(row_before, '$."note = 1; --"', 'red')`,
			"that is not known"},
		"no object":   {`UPDATE journal_step SET row_before = '[1]'`, "cannot be read"},
		"another row": {`UPDATE journal_step SET row_key = 'gone'`, "0 rows instead of one"},
	} {
		t.Run(name, func(t *testing.T) {
			s := open(t, filepath.Join(t.TempDir(), "n.db"))
			a, b := &trials.Taster{Record: trials.Record{Name: "A"}}, &trials.Taster{Record: trials.Record{Name: "B"}}
			saved(t, s, a, b)
			a.Note, b.Note = "changed", "changed"
			saved(t, s, a, b)
			// Only the first of two steps is spoilt, so that the other is taken
			// back before it.
			if _, err := s.db.Exec(c.change + " WHERE step_id = (SELECT max(step_id) - 1 FROM journal_step)"); err != nil {
				t.Fatal(err)
			}
			before := whole(t, s)
			if _, err := s.Undo(context.Background()); err == nil || !strings.Contains(err.Error(), "is damaged") {
				t.Errorf("undo of what is not as it was written: %v", err)
			}
			// who can write into the file can work out the digest, too
			resealed(t, s)
			if _, err := s.Undo(context.Background()); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("undo: %v, want %q", err, c.want)
			}
			same(t, "after a refused undo", whole(t, s), before)
		})
	}
}

// What the journal would bring back goes through the checks of what is typed.
func TestJournalIsCheckedLikeRecords(t *testing.T) {
	ctx := context.Background()
	for _, change := range []string{
		`UPDATE journal_step SET row_before = json_set(row_before, '$.volume_l', -3.0)`,
		`UPDATE journal_step SET row_before = json_set(row_before, '$.name', 'a' || char(27) || '[2J')`,
		`UPDATE journal_step SET row_before = json_set(row_before, '$.parent_id', row_key)`,
		`UPDATE journal_step SET row_before = json_set(row_before, '$.started_at', 'tomorrow')`,
	} {
		s := open(t, filepath.Join(t.TempDir(), "n.db"))
		b := &trials.Batch{Record: trials.Record{Name: "moor"}, Kind: trials.KindBatch, StartedAt: testNow, VolumeL: 1}
		saved(t, s, b)
		b.VolumeL = 2
		saved(t, s, b)
		if _, err := s.db.Exec(change + " WHERE write_id = 2"); err != nil {
			t.Fatal(err)
		}
		resealed(t, s)
		before := whole(t, s)
		if _, err := s.Undo(ctx); err == nil {
			t.Errorf("%s: brought back %+v", change, whole(t, s).Batches)
		}
		same(t, "after a refused undo", whole(t, s), before)
	}
}

// resealed gives the writes of the journal the digests of what stands there.
func resealed(t *testing.T, s *Store) {
	t.Helper()
	c, err := s.Begin(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Rollback()
	if err := c.change("UPDATE journal_write SET digest = NULL"); err != nil {
		t.Fatal(err)
	}
	if err := sealJournal(context.Background(), c.tx); err != nil {
		t.Fatal(err)
	}
	if err := c.tx.Commit(); err != nil {
		t.Fatal(err)
	}
}

// change runs a statement that no command runs.
func (c *Change) change(query string) error {
	_, err := c.tx.ExecContext(c.ctx, query)
	return err
}

// Every part of a write is covered by its digest, which undo and check look at.
func TestDamagedJournalIsNoticed(t *testing.T) {
	for _, change := range []string{
		"UPDATE journal_write SET what = 'sive'",
		"UPDATE journal_write SET at = '2027-03-01T18:30:00.000000000Z'",
		"UPDATE journal_write SET lost = 1",
		"UPDATE journal_step SET in_table = 'batch'",
		"UPDATE journal_step SET row_key = row_key || 'x'",
		"UPDATE journal_step SET row_before = json_set(row_before, '$.note', 'other')",
		"UPDATE journal_step SET row_after = '{}'",
		"DELETE FROM journal_step",
		"UPDATE journal_write SET digest = NULL",
		"UPDATE journal_write SET steps = 0",
	} {
		s := open(t, filepath.Join(t.TempDir(), "n.db"))
		a := &trials.Taster{Record: trials.Record{Name: "A"}}
		saved(t, s, a)
		a.Note = "changed"
		saved(t, s, a)
		if found := s.Check(context.Background()); len(found) != 0 {
			t.Fatal(found)
		}
		if _, err := s.db.Exec(change + " WHERE write_id = 2"); err != nil {
			t.Fatal(err)
		}
		if found := s.Check(context.Background()); len(found) == 0 || found[0].Record != "journal" {
			t.Errorf("%s: check finds %v", change, found)
		}
		if _, err := s.Undo(context.Background()); err == nil {
			t.Errorf("%s: undone", change)
		}
	}
}

// A row that was made or changed is not written down in the journal as it is until it is
// taken back, and then as each step of its write had left it.
func TestJournalKeepsWhatGoes(t *testing.T) {
	ctx := context.Background()
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	kept := func() (rows int) {
		t.Helper()
		if err := s.db.QueryRow("SELECT count(*) FROM journal_step WHERE row_after <> 'null'").Scan(&rows); err != nil {
			t.Fatal(err)
		}
		return rows
	}
	b := &trials.Batch{Record: trials.Record{Name: "moor"}, Kind: trials.KindBatch, StartedAt: testNow, VolumeL: 1}
	err := s.Write(ctx, "both", func(tx *Tx) error {
		if err := tx.Save(b); err != nil {
			return err
		}
		b.Note = "twice written"
		return tx.Save(b, &trials.BatchNote{Record: trials.Record{Name: "moor.n1"}, BatchID: b.ID, At: testNow, Text: "x"})
	})
	if err != nil {
		t.Fatal(err)
	}
	want := whole(t, s)
	for range 2 {
		if kept() != 0 {
			t.Errorf("%d rows that are there stand in the journal too", kept())
		}
		undone(t, s)
		if kept() != 3 {
			t.Errorf("%d rows are kept to be made again, want 3", kept())
		}
		if found := s.Check(ctx); len(found) != 0 {
			t.Errorf("after undo check finds %v", found)
		}
		if _, err := s.Redo(ctx); err != nil {
			t.Fatal(err)
		}
		same(t, "made again", whole(t, s), want)
		if found := s.Check(ctx); len(found) != 0 {
			t.Errorf("after redo check finds %v", found)
		}
	}
}

// Undo walks back through all that the journal keeps and redo forward again, to
// the same notebook at every step; something new ends the way forward.
func TestUndoWalksBackAndRedoForward(t *testing.T) {
	ctx := context.Background()
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	states := []*trials.Notebook{whole(t, s)}
	taster := &trials.Taster{Record: trials.Record{Name: "A"}}
	for _, note := range []string{"1", "2", "3"} {
		taster.Note = note
		saved(t, s, taster)
		states = append(states, whole(t, s))
	}
	for at := 2; at >= 0; at-- {
		undone(t, s)
		same(t, "back", whole(t, s), states[at])
	}
	if _, err := s.Undo(ctx); trials.CodeOf(err) != trials.NotFound {
		t.Errorf("undo at the beginning: %v", err)
	}
	for at := 1; at <= 3; at++ {
		if _, err := s.Redo(ctx); err != nil {
			t.Fatal(err)
		}
		same(t, "forward", whole(t, s), states[at])
	}
	if _, err := s.Redo(ctx); trials.CodeOf(err) != trials.NotFound {
		t.Errorf("redo at the end: %v", err)
	}
	undone(t, s)
	saved(t, s, &trials.Taster{Record: trials.Record{Name: "B"}})
	if _, err := s.Redo(ctx); trials.CodeOf(err) != trials.NotFound {
		t.Errorf("redo after something new: %v", err)
	}
	list, err := s.History(ctx)
	if err != nil || len(list) != 3 || list[0].Undone || list[0].What != "save" {
		t.Errorf("the journal keeps %+v (%v)", list, err)
	}
}

// A mark stays when the write that left it is taken back, and the tasting is
// known to have been seen.
func TestMarksOutlastUndo(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	g := &trials.Tasting{Record: trials.Record{ID: "g", Name: "evening"}, At: testNow, Attributes: []string{"floral"},
		Blind: true, FlightSize: 4}
	saved(t, s, g)
	g.ClosedAt = &testNow
	err := s.Write(context.Background(), "close", func(tx *Tx) error {
		if err := tx.Save(g); err != nil {
			return err
		}
		return tx.Mark(trials.NewMark(*g, trials.MarkClosed, 1, testNow), trials.NewMark(*g, trials.MarkScored, 2, testNow))
	})
	if err != nil {
		t.Fatal(err)
	}
	undone(t, s)
	n := whole(t, s)
	if seen := n.Tastings[0]; !seen.Sealed() || seen.PeekedAt == nil || !seen.PeekedAt.Equal(testNow) {
		t.Errorf("after undo the tasting is %+v", seen)
	}
	if count, _ := n.Marked("g", trials.MarkScored); count != 2 || !n.KeyOpen(n.Tastings[0], testNow) {
		t.Errorf("marks %+v", n.Marks)
	}
	undone(t, s)
	if n = whole(t, s); len(n.Tastings) != 0 || len(n.Marks) != 2 {
		t.Errorf("left %+v, %+v", n.Tastings, n.Marks)
	}
}

// The journal keeps the last 200 writes.
func TestJournalKeeps200Writes(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	taster := &trials.Taster{Record: trials.Record{Name: "A"}}
	var writes, steps int
	for i := range 205 {
		saved(t, s, taster)
		const counts = "SELECT (SELECT count(*) FROM journal_write), (SELECT count(*) FROM journal_step)"
		if err := s.db.QueryRow(counts).Scan(&writes, &steps); err != nil {
			t.Fatal(err)
		}
		if want := min(i+1, 200); writes != want || steps != want {
			t.Fatalf("after %d writes the journal keeps %d with %d steps, want %d", i+1, writes, steps, want)
		}
	}
}

// The journal follows the tables that are there, and undo knows their columns.
func TestJournalKnowsEveryColumn(t *testing.T) {
	ctx := context.Background()
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	tables, err := followed(ctx, s.db)
	if err != nil || len(tables) != len(shapes()) {
		t.Fatalf("%d tables are followed (%v), undo knows %d", len(tables), err, len(shapes()))
	}
	for _, table := range tables {
		known, ok := shapeOf(table)
		if !ok {
			t.Errorf("undo does not know table %s", table)
		}
		columns, err := recorded(ctx, s.db, table)
		if err != nil || columns[0] != known.columns[0] {
			t.Errorf("the key of %s is %s (%v), undo takes %s", table, columns[0], err, known.columns[0])
		}
		for _, c := range columns {
			if !strings.Contains(" "+strings.Join(known.columns, " ")+" ", " "+c+" ") {
				t.Errorf("undo does not know column %s of %s", c, table)
			}
		}
		if len(columns) != len(known.columns) {
			t.Errorf("%s has %d columns, undo knows %d", table, len(columns), len(known.columns))
		}
	}
}
