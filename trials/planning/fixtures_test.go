package planning

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
