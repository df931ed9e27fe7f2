package trials

import (
	"testing"
	"time"
)

func ptr[T any](v T) *T { return &v }

// day is a moment of an invented batch.
func day(d int) time.Time { return time.Date(2026, 3, 1+d, 12, 0, 0, 0, time.UTC) }

// batchOf is an invented batch with its events, in a notebook.
func batchOf(events ...any) (*Notebook, Batch) {
	b := Batch{Record: Record{ID: "b", Name: "heather-1", CreatedAt: day(0)}, Kind: KindBatch, StartedAt: day(0),
		VolumeL: 12, OG: ptr(1.048)}
	n := &Notebook{Now: day(60)}
	for _, e := range events {
		switch r := e.(type) {
		case func(*Batch):
			r(&b)
		case Addition:
			r.BatchID = b.ID
			n.Additions = append(n.Additions, r)
		case Reading:
			r.BatchID = b.ID
			n.Readings = append(n.Readings, r)
		case Loss:
			r.BatchID = b.ID
			n.Losses = append(n.Losses, r)
		case Extract:
			n.Extracts = append(n.Extracts, r)
		case Batch:
			n.Batches = append(n.Batches, r)
		}
	}
	n.Batches = append(n.Batches, b)
	return n, b
}

// shipped is the catalogue alone.
func shipped(t testing.TB) Materials {
	t.Helper()
	m, err := (&Notebook{}).Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// handBatch is an invented pale ale of 20 L at 1.050 that is expected to reach
// 1.010. Heather tea goes in in mid-fermentation, raspberries later; a sample
// and a transfer take beer away.
func handBatch() (*Notebook, Batch) {
	tea := Extract{Record: Record{ID: "x", Name: "heather-tea"}, MadeAt: day(4), MaterialKey: "heather", Method: MethodTea,
		Form: "cut", MassG: 60, MoisturePct: ptr(10.0), SolidsGPerL: ptr(12.0),
		Passes: []Pass{{VolumeL: 1, StartC: 90, Minutes: 60, Agitation: "stirred", Separation: SeparationDrained}}}
	week := 7.0 * 24 * 60
	return batchOf(
		func(b *Batch) { b.VolumeL, b.OG, b.FG, b.IBU = 20, ptr(1.050), ptr(1.010), ptr(25.0) },
		tea,
		Reading{Record: Record{ID: "r1", Name: "heather-1.r1"}, At: day(3), SG: ptr(1.0280)},
		Addition{Record: Record{ID: "a1", Name: "heather-1.a1"}, At: day(4), Stage: StagePrimary, ExtractID: ptr("x")},
		Loss{Record: Record{ID: "l1", Name: "heather-1.l1"}, At: day(5), Kind: LossSample, VolumeL: 0.3},
		Reading{Record: Record{ID: "r2", Name: "heather-1.r2"}, At: day(8), SG: ptr(1.0160), SampleTempC: ptr(25.0)},
		Addition{Record: Record{ID: "a2", Name: "heather-1.a2"}, At: day(9), Stage: StagePrimary,
			MaterialKey: "raspberry", Method: MethodContact,
			Form: "fresh", MassG: ptr(2000.0), Minutes: &week, RetainKgKg: ptr(0.5)},
		Reading{Record: Record{ID: "r3", Name: "heather-1.r3"}, At: day(20), SG: ptr(1.0095)},
		Loss{Record: Record{ID: "l2", Name: "heather-1.l2"}, At: day(21), Kind: LossTransfer, VolumeL: 0.8},
	)
}
