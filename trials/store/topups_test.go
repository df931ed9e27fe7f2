package store

import (
	"context"
	"testing"
	"time"

	"hedgerow/trials"
)

// A notebook from before there were top-ups opens with its extracts and additions
// as they were, takes a top-up, and undo takes it back.
func TestNotebookFromBeforeTopUps(t *testing.T) {
	ctx := context.Background()
	path := oldNotebook(t, 3, `
INSERT INTO batch (id, name, created_at, changed_at, kind, started_at, volume_l, og, style, note)
VALUES ('b', 'old', '2026-03-01T18:30:00.000000000Z', '2026-03-01T18:30:00.000000000Z', 'batch',
	'2026-03-01T18:30:00.000000000Z', 12, 1.048, '', '');
INSERT INTO extract (id, name, created_at, changed_at, made_at, material_key, method, form, mass_g, lot, note)
VALUES ('e', 'tea-1', '2026-03-01T18:30:00.000000000Z', '2026-03-01T18:30:00.000000000Z',
	'2026-03-01T18:30:00.000000000Z', 'heather', 'tea', 'cut', 40, '', '');
INSERT INTO addition (id, name, created_at, changed_at, batch_id, at, stage, lot, note, material_key, method,
	form, mass_g, in_bag, agitation, liquid_kind)
VALUES ('a', 'old.a1', '2026-03-01T18:30:00.000000000Z', '2026-03-01T18:30:00.000000000Z', 'b',
	'2026-03-02T18:30:00.000000000Z', 'secondary', '', '', 'heather', 'contact', 'cut', 5, 0, '', '');`)
	s := open(t, path)
	n, err := s.Notebook(ctx)
	if err != nil {
		t.Fatal(err)
	}
	x, a := n.Extracts[0], n.Additions[0]
	if x.Name != "tea-1" || x.MassG != 40 || len(x.TopUps) != 0 || a.Name != "old.a1" || *a.MassG != 5 || a.Curve != "" {
		t.Fatalf("read %+v and %+v", x, a)
	}
	x.TopUps = []trials.TopUp{{At: testNow.Add(time.Hour), VolumeL: 0.2}}
	if err := s.Write(ctx, "top up tea-1", func(tx *Tx) error { return tx.Save(&x) }); err != nil {
		t.Fatal(err)
	}
	if n, err = s.Notebook(ctx); err != nil || len(n.Extracts[0].TopUps) != 1 || n.Extracts[0].TopUps[0].VolumeL != 0.2 {
		t.Fatalf("top-up read back as %+v (%v)", n.Extracts[0].TopUps, err)
	}
	if _, err := s.Undo(ctx); err != nil {
		t.Fatal(err)
	}
	if n, err = s.Notebook(ctx); err != nil || len(n.Extracts[0].TopUps) != 0 {
		t.Errorf("undo left %+v (%v)", n.Extracts[0].TopUps, err)
	}
}
