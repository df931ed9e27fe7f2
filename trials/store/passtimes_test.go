package store

import (
	"context"
	"testing"
	"time"

	"hedgerow/trials"
)

// A notebook from before passes had times opens with them logged with their
// extract; a pass that is new is logged when it is written, keeps its id and times
// through an edit, and undo brings both back.
func TestNotebookFromBeforePassTimes(t *testing.T) {
	ctx := context.Background()
	path := oldNotebook(t, 7, `
INSERT INTO extract (id, name, created_at, changed_at, made_at, material_key, method, form, mass_g, lot, note)
VALUES ('e', 'tea-1', '2026-02-01T18:30:00.000000000Z', '2026-02-01T18:30:00.000000000Z',
	'2026-02-01T18:00:00.000000000Z', 'heather', 'tea', 'cut', 40, '', '');
INSERT INTO pass (id, extract_id, place, volume_l, start_c, curve, minutes, agitation, in_bag, separation)
VALUES ('p', 'e', 1, 0.4, 96, '', 30, '', 0, 'drained');`)
	s := open(t, path)
	read := func() trials.Extract {
		t.Helper()
		n, err := s.Notebook(ctx)
		if err != nil {
			t.Fatal(err)
		}
		return n.Extracts[0]
	}
	write := func(x trials.Extract) {
		t.Helper()
		if err := s.Write(ctx, "pass of tea-1", func(tx *Tx) error { return tx.Save(&x) }); err != nil {
			t.Fatal(err)
		}
	}
	x := read()
	if p := x.Passes[0]; p.EndedAt != nil || !p.LoggedAt.Equal(time.Date(2026, 2, 1, 18, 30, 0, 0, time.UTC)) {
		t.Fatalf("read %+v", p)
	}
	second := x.Passes[0]
	second.ID, second.LoggedAt, second.EndedAt = "", time.Time{}, new(testNow.Add(-time.Hour))
	x.Passes = append(x.Passes, second)
	write(x)
	logged := read().Passes[1]
	if !logged.LoggedAt.Equal(testNow) || !logged.EndedAt.Equal(testNow.Add(-time.Hour)) {
		t.Fatalf("logged %+v", logged)
	}
	x = read()
	x.Passes[1].Minutes = 45
	write(x)
	if p := read().Passes[1]; p.ID != logged.ID || !p.LoggedAt.Equal(logged.LoggedAt) || p.Minutes != 45 {
		t.Errorf("edited to %+v", p)
	}
	if _, err := s.Undo(ctx); err != nil {
		t.Fatal(err)
	}
	if p := read().Passes[1]; p.ID != logged.ID || !p.EndedAt.Equal(*logged.EndedAt) || p.Minutes != 30 {
		t.Errorf("undo left %+v", p)
	}
}
