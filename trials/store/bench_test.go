package store

import (
	"context"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"hedgerow/trials"
)

// scored fills a notebook with 100 000 scores: 625 tastings of four servings,
// eight tasters, five answers each.
func scored(b *testing.B) string {
	b.Helper()
	path := filepath.Join(b.TempDir(), "n.db")
	s, err := Open(context.Background(), path, Options{Now: func() time.Time { return testNow }})
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	if err := s.Write(context.Background(), "many scores", fill); err != nil {
		b.Fatal(err)
	}
	return path
}

// fill writes the records of scored.
func fill(tx *Tx) error {
	var batches, tasters []string
	for i := range 4 {
		r := &trials.Batch{Record: trials.Record{Name: fmt.Sprint("heather-", i)}, Kind: trials.KindBatch,
			StartedAt: testNow, VolumeL: 12, OG: ptr(1.048)}
		if err := tx.Save(r); err != nil {
			return err
		}
		batches = append(batches, r.ID)
	}
	for i := range 8 {
		r := &trials.Taster{Record: trials.Record{Name: fmt.Sprint("T", i)}}
		if err := tx.Save(r); err != nil {
			return err
		}
		tasters = append(tasters, r.ID)
	}
	for i := range 625 {
		g := &trials.Tasting{Record: trials.Record{Name: fmt.Sprint("evening-", i)}, At: testNow,
			Attributes: []string{"tart", "dry", "floral", "fruit"}, Blind: true, ClosedAt: &testNow, FlightSize: 4}
		if err := tx.Save(g); err != nil {
			return err
		}
		for k, batch := range batches {
			if err := fillServing(tx, &trials.Serving{TastingID: g.ID, BatchID: batch, Code: fmt.Sprint(100 + k)},
				tasters); err != nil {
				return err
			}
		}
	}
	return nil
}

// fillServing writes a serving with five answers of every taster.
func fillServing(tx *Tx, v *trials.Serving, tasters []string) error {
	if err := tx.Save(v); err != nil {
		return err
	}
	for _, taster := range tasters {
		for i, attribute := range []string{"tart", "dry", "floral", "fruit", trials.Overall} {
			sc := &trials.Score{TastingID: v.TastingID, ServingID: v.ID, TasterID: taster, Attribute: attribute, At: testNow}
			if attribute == trials.Overall {
				sc.Liking = ptr(7.0)
			} else {
				sc.Intensity, sc.Vote = ptr(float64(i)), ptr(0)
			}
			if err := tx.Save(sc); err != nil {
				return err
			}
		}
	}
	return nil
}

// Reading everything, as compare does.
func BenchmarkReadNotebookOf100000Scores(b *testing.B) {
	path := scored(b)
	b.ReportAllocs()
	for b.Loop() {
		s, err := Open(context.Background(), path, Options{Now: func() time.Time { return testNow }})
		if err != nil {
			b.Fatal(err)
		}
		n, err := s.Whole(context.Background())
		if err != nil || len(n.Scores) != 100_000 {
			b.Fatal(len(n.Scores), err)
		}
		s.Close()
	}
}

// Reading what a list of batches needs, beside the same 100 000 scores.
func BenchmarkReadBatchesBeside100000Scores(b *testing.B) {
	path := scored(b)
	b.ReportAllocs()
	for b.Loop() {
		s, err := Open(context.Background(), path, Options{Now: func() time.Time { return testNow }})
		if err != nil {
			b.Fatal(err)
		}
		if n, err := s.Notebook(context.Background()); err != nil || len(n.Batches) != 4 {
			b.Fatal(n, err)
		}
		s.Close()
	}
}

// A pasted table of 8 tasters on 4 glasses, written in one go with its journal.
func BenchmarkWrite160Scores(b *testing.B) {
	s, err := Open(context.Background(), filepath.Join(b.TempDir(), "n.db"),
		Options{Now: func() time.Time { return testNow }})
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	i := 0
	b.ReportAllocs()
	for b.Loop() {
		i++
		if err := s.Write(context.Background(), "evening", func(tx *Tx) error { return fillEvening(tx, i) }); err != nil {
			b.Fatal(err)
		}
	}
}

// fillEvening writes one tasting with names of its own.
func fillEvening(tx *Tx, i int) error {
	batch := &trials.Batch{Record: trials.Record{Name: fmt.Sprint("heather-", i)}, Kind: trials.KindBatch,
		StartedAt: testNow, VolumeL: 12}
	g := &trials.Tasting{Record: trials.Record{Name: fmt.Sprint("evening-", i)}, At: testNow,
		Attributes: []string{"tart", "dry", "floral", "fruit"}, FlightSize: 4}
	if err := tx.Save(batch, g); err != nil {
		return err
	}
	var tasters []string
	for k := range 8 {
		r := &trials.Taster{Record: trials.Record{Name: fmt.Sprintf("T%d-%d", i, k)}}
		if err := tx.Save(r); err != nil {
			return err
		}
		tasters = append(tasters, r.ID)
	}
	for k := range 4 {
		if err := fillServing(tx, &trials.Serving{TastingID: g.ID, BatchID: batch.ID, Code: fmt.Sprint(100 + k)},
			tasters); err != nil {
			return err
		}
	}
	return nil
}
