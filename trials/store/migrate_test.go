package store

import (
	"context"
	"database/sql"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"hedgerow/trials"
)

// oldNotebook writes a notebook of version v, made by its own migrations, with
// the rows of the SQL in it.
func oldNotebook(t *testing.T, v int, rows string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "old.db")
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	list, err := steps()
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range append(list[:v:v], rows,
		"PRAGMA application_id = "+strconv.Itoa(applicationID)+"; PRAGMA user_version = "+strconv.Itoa(v)) {
		if _, err := db.Exec(text); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
	}
	return path
}

// A notebook of the first version keeps its records; what it could not hold is
// unknown, and undo works on the new columns.
func TestFirstVersionIsMigrated(t *testing.T) {
	const rows = `
INSERT INTO batch VALUES ('b', 'heather-1', '2026-03-01T18:30:00.000000000Z', '2026-03-01T18:30:00.000000000Z',
	NULL, 'batch', '2026-03-01T18:30:00.000000000Z', 12, 1.048, NULL, NULL, NULL, NULL, '', 'invented');
INSERT INTO meter VALUES ('m', 'float-1', '2026-03-01T18:30:00.000000000Z', '2026-03-01T18:30:00.000000000Z',
	'hydrometer', 20, 0.001, '');
INSERT INTO addition (id, name, created_at, changed_at, batch_id, at, stage, lot, note, material_key, method,
	form, in_bag, agitation, liquid_kind, volume_l)
VALUES ('a', 'heather-1.a1', '2026-03-01T18:30:00.000000000Z', '2026-03-01T18:30:00.000000000Z', 'b',
	'2026-03-02T18:30:00.000000000Z', 'secondary', '', '', '', '', '', 0, '', 'water', 0.6);`
	path := oldNotebook(t, 1, rows)
	s := open(t, path)
	ctx := context.Background()
	n, err := s.Notebook(ctx)
	if err != nil {
		t.Fatal(err)
	}
	b, a, m := n.Batches[0], n.Additions[0], n.Meters[0]
	if *b.OG != 1.048 || b.OGMeterID != nil || *m.ZeroError != 0.001 || m.ZeroLimit != nil || *a.VolumeL != 0.6 ||
		a.Limits != nil || a.ExtractedPct != nil {
		t.Errorf("read %+v, %+v, %+v", b, m, a)
	}
	if _, err := os.Stat(path + ".before-v2"); err != nil {
		t.Errorf("no copy from before: %v", err)
	}
	b.OGMeterID = &m.ID
	if err := s.Write(ctx, "edit", func(tx *Tx) error { return tx.Save(&b) }); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Undo(ctx); err != nil {
		t.Fatal(err)
	}
	if n, err = s.Notebook(ctx); err != nil || n.Batches[0].OGMeterID != nil {
		t.Errorf("undo left %v (%v)", n.Batches[0].OGMeterID, err)
	}
}

// A notebook from before there were serving orders keeps its tastings and
// scores; the new tables can be written and undone.
func TestTastingsWithoutOrdersAreMigrated(t *testing.T) {
	const rows = `
INSERT INTO batch (id, name, created_at, changed_at, kind, started_at, volume_l, style, note) VALUES ('b',
	'heather-1', '2026-03-01T18:30:00.000000000Z', '2026-03-01T18:30:00.000000000Z', 'batch',
	'2026-03-01T18:30:00.000000000Z', 12, '', '');
INSERT INTO taster VALUES ('t', 'A', '2026-03-01T18:30:00.000000000Z', '2026-03-01T18:30:00.000000000Z', '');
INSERT INTO tasting VALUES ('g', 'evening', '2026-03-01T18:30:00.000000000Z', '2026-03-01T18:30:00.000000000Z',
	'2026-03-01T18:30:00.000000000Z', '["floral"]', 1, NULL, NULL, 7, '');
INSERT INTO serving VALUES ('s', 'g', 'b', '417', 0);
INSERT INTO score VALUES ('x', 'g', 's', 't', 'floral', 4.5, -1, NULL, NULL, '2026-03-01T18:30:00.000000000Z');`
	ctx := context.Background()
	path := oldNotebook(t, 2, rows)
	s := open(t, path)
	n, err := s.Whole(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if len(n.Tastings) != 1 || n.Tastings[0].FlightSize != trials.DefaultFlight || len(n.Scores) != 1 ||
		*n.Scores[0].Intensity != 4.5 {
		t.Fatalf("tastings %+v, scores %+v", n.Tastings, n.Scores)
	}
	if _, err := os.Stat(path + ".before-v3"); err != nil {
		t.Errorf("no copy from before: %v", err)
	}
	place := &trials.Place{TastingID: "g", TasterID: "t", ServingID: "s", Position: 1}
	if err := s.Write(ctx, "order", func(tx *Tx) error { return tx.Save(place) }); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Undo(ctx); err != nil {
		t.Fatal(err)
	}
	if n, err = s.Notebook(ctx); err != nil || len(n.Places) != 0 {
		t.Errorf("undo left %+v (%v)", n.Places, err)
	}
}

// A meter that goes takes its calibrations along; readings stay as shown.
func TestDeletingAMeter(t *testing.T) {
	ctx := context.Background()
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	if err := s.Write(ctx, "all kinds", func(tx *Tx) error { return tx.Save(sample()...) }); err != nil {
		t.Fatal(err)
	}
	if err := s.Write(ctx, "delete meter", func(tx *Tx) error {
		return tx.Delete(trials.Meter{Record: trials.Record{ID: "m"}})
	}); err != nil {
		t.Fatal(err)
	}
	n, _ := s.Notebook(ctx)
	if len(n.Meters)+len(n.Calibrations) != 0 || n.Readings[0].MeterID != nil || n.Batches[0].OGMeterID != nil {
		t.Errorf("left %+v, %+v", n.Meters, n.Readings[0])
	}
	if _, err := s.Undo(ctx); err != nil {
		t.Fatal(err)
	}
	if n, _ = s.Notebook(ctx); len(n.Calibrations) != 1 || n.Readings[0].MeterID == nil || n.Batches[0].OGMeterID == nil {
		t.Errorf("undo brought back %+v, %+v", n.Calibrations, n.Readings[0])
	}
}

// A journal of statements, from before it became data, is not read any more:
// undo says which write it cannot take back, and goes on with those after it.
func TestJournalOfStatementsIsLost(t *testing.T) {
	ctx := context.Background()
	path := oldNotebook(t, 4, `
INSERT INTO taster VALUES ('t', 'A', '2026-03-01T18:30:00.000000000Z', '2026-03-01T18:30:00.000000000Z', 'new');
INSERT INTO journal_write (write_id, at, what) VALUES (7, '2026-03-01T18:30:00.000000000Z', 'edit A');
INSERT INTO journal_step (write_id, sql) VALUES (7, 'UPDATE taster SET id = ''t'', note = ''old'' WHERE id = ''t''');
CREATE TRIGGER journal_taster_update AFTER UPDATE ON taster
BEGIN INSERT INTO journal_step (write_id, sql) SELECT max(write_id),
	'UPDATE taster SET note = ' || quote(OLD.note) FROM journal_write; END;`)
	s := open(t, path)
	_, err := s.Undo(ctx)
	if trials.CodeOf(err) != trials.NotFound ||
		!strings.Contains(err.Error(), `"edit A" was written by an older hedgerow`) {
		t.Errorf("undo of an old write: %v", err)
	}
	before := whole(t, s)
	if len(before.Tasters) != 1 || before.Tasters[0].Note != "new" {
		t.Fatalf("tasters %+v", before.Tasters)
	}
	edited := before.Tasters[0]
	edited.Note = "newer"
	saved(t, s, &edited)
	undone(t, s)
	same(t, "after undo", whole(t, s), before)
}

// A notebook that was made at any version and brought up to date is made of the same
// as a new one, to the order of its columns: what differs is refused on opening.
func TestEveryVersionUpgradesToTheSame(t *testing.T) {
	ctx := context.Background()
	list, err := steps()
	if err != nil {
		t.Fatal(err)
	}
	want, err := reference(ctx)
	if err != nil {
		t.Fatal(err)
	}
	for v := range list {
		db, err := connect(ctx, "file::memory:", 0)
		if err != nil {
			t.Fatal(err)
		}
		tx, err := db.BeginTx(ctx, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i, step := range list[:v] {
			if _, err := tx.ExecContext(ctx, step); err != nil {
				t.Fatal(err)
			}
			if err := addDigestColumns(ctx, tx, i+1); err != nil {
				t.Fatal(err)
			}
		}
		if err := runSteps(ctx, tx, list, v); err != nil {
			t.Errorf("from version %d: %v", v, err)
			continue
		}
		if got, err := objects(ctx, tx); err != nil || sumOf(got) != sumOf(want) {
			t.Errorf("from version %d: made of something else (%v)", v, err)
		}
		tx.Rollback()
		db.Close()
	}
}
