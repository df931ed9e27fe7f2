package ledger

import (
	"math"
	"testing"
	"time"

	"hedgerow/trials"
)

func ptr[T any](v T) *T { return &v }

// day is a moment of an invented batch.
func day(d int) time.Time { return time.Date(2026, 3, 1+d, 12, 0, 0, 0, time.UTC) }

// batchOf is an invented batch with its events, in a notebook.
func batchOf(events ...any) (*trials.Notebook, trials.Batch) {
	b := trials.Batch{Record: trials.Record{ID: "b", Name: "heather-1", CreatedAt: day(0)}, Kind: trials.KindBatch,
		StartedAt: day(0), VolumeL: 12, OG: ptr(1.048)}
	n := &trials.Notebook{Now: day(60)}
	for _, e := range events {
		switch r := e.(type) {
		case func(*trials.Batch):
			r(&b)
		case trials.Addition:
			r.BatchID = b.ID
			n.Additions = append(n.Additions, r)
		case trials.Reading:
			r.BatchID = b.ID
			n.Readings = append(n.Readings, r)
		case trials.Loss:
			r.BatchID = b.ID
			n.Losses = append(n.Losses, r)
		case trials.Extract:
			n.Extracts = append(n.Extracts, r)
		case trials.Batch:
			n.Batches = append(n.Batches, r)
		}
	}
	n.Batches = append(n.Batches, b)
	return n, b
}

// near fails the test unless got is within tolerance of want.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s is %.6f, want %.6f within %g", what, got, want, tolerance)
	}
}

// jugTea is case A of the reference page on extraction as a record: 36 g dried at
// 10 % water, passes of 450 and 350 mL drained and one of 250 mL squeezed, hot and
// stirred for long enough to be near equilibrium. With the 3.6 mL of its own water and
// the 12.2 mL of what dissolves, computed apart by the recursion of the page, it gives
// 981.614 mL with 36 x 0.85 x 0.983317 = 30.0895 g.
func jugTea() trials.Extract {
	pass := func(volumeL float64, by string) trials.Pass {
		return trials.Pass{VolumeL: volumeL, StartC: 94, EndC: ptr(80.0), Minutes: 30, Agitation: "stirred", Separation: by}
	}
	return trials.Extract{Record: trials.Record{ID: "x", Name: "tea-1"}, MadeAt: day(3), MaterialKey: "hibiscus",
		Method: trials.MethodTea, Form: "crushed", MassG: 36, MoisturePct: ptr(10.0),
		Passes: []trials.Pass{pass(0.45, trials.SeparationDrained), pass(0.35, trials.SeparationDrained),
			pass(0.25, trials.SeparationSqueezed)}}
}

// shipped is the catalogue alone.
func shipped(t testing.TB) trials.Materials {
	t.Helper()
	m, err := (&trials.Notebook{}).Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// handBatch is an invented pale ale of 20 L at 1.050 that is expected to reach
// 1.010. Heather tea goes in in mid-fermentation, raspberries later; a sample
// and a transfer take beer away.
func handBatch() (*trials.Notebook, trials.Batch) {
	tea := trials.Extract{Record: trials.Record{ID: "x", Name: "heather-tea"}, MadeAt: day(4), MaterialKey: "heather",
		Method: trials.MethodTea,
		Form:   "cut", MassG: 60, MoisturePct: ptr(10.0), SolidsGPerL: ptr(12.0),
		Passes: []trials.Pass{{VolumeL: 1, StartC: 90, Minutes: 60, Agitation: "stirred",
			HeldL: ptr(0.243 + (6/0.99820123+0.60*0.33*54)/1000), Separation: trials.SeparationDrained}}}
	week := 7.0 * 24 * 60
	return batchOf(
		func(b *trials.Batch) { b.VolumeL, b.OG, b.FG, b.IBU = 20, ptr(1.050), ptr(1.010), ptr(25.0) },
		tea,
		trials.Reading{Record: trials.Record{ID: "r1", Name: "heather-1.r1"}, At: day(3), SG: ptr(1.0280)},
		trials.Addition{Record: trials.Record{ID: "a1", Name: "heather-1.a1"}, At: day(4), Stage: trials.StagePrimary,
			ExtractID: ptr("x")},
		trials.Loss{Record: trials.Record{ID: "l1", Name: "heather-1.l1"}, At: day(5), Kind: trials.LossSample, VolumeL: 0.3},
		trials.Reading{Record: trials.Record{ID: "r2", Name: "heather-1.r2"}, At: day(8), SG: ptr(1.0160),
			SampleTempC: ptr(25.0)},
		trials.Addition{Record: trials.Record{ID: "a2", Name: "heather-1.a2"}, At: day(9), Stage: trials.StagePrimary,
			MaterialKey: "raspberry", Method: trials.MethodContact,
			Form: "fresh", MassG: ptr(2000.0), Minutes: &week, RetainKgKg: ptr(0.5)},
		trials.Reading{Record: trials.Record{ID: "r3", Name: "heather-1.r3"}, At: day(20), SG: ptr(1.0095)},
		trials.Loss{Record: trials.Record{ID: "l2", Name: "heather-1.l2"}, At: day(21), Kind: trials.LossTransfer,
			VolumeL: 0.8},
	)
}
