package ledger

import (
	"fmt"
	"testing"

	"hedgerow/trials"
)

// twenty is a batch with 20 events after its start: three teas, water, sugar and
// fruit, losses and readings through eight weeks.
func twenty() (*trials.Notebook, trials.Batch) {
	events := []any{func(b *trials.Batch) { b.VolumeL, b.FG, b.IBU = 20, ptr(1.010), ptr(30.0) }}
	gravities := []float64{1.040, 1.030, 1.022, 1.017, 1.014, 1.012, 1.011}
	for i, sg := range gravities {
		events = append(events, trials.Reading{Record: trials.Record{ID: fmt.Sprint("r", i),
			Name: fmt.Sprintf("heather-1.r%d", i+1)}, At: day(2 + 3*i), SG: ptr(sg), SampleTempC: ptr(22.0)})
	}
	for i := range 3 {
		x := jugTea()
		x.ID, x.Name = fmt.Sprint("x", i), fmt.Sprint("tea-", i)
		events = append(events, x, trials.Addition{Record: trials.Record{ID: fmt.Sprint("t", i),
			Name: fmt.Sprintf("heather-1.a%d", i+1)}, At: day(4 + 5*i), Stage: trials.StagePrimary,
			ExtractID: ptr(x.ID)})
	}
	for i := range 5 {
		events = append(events, trials.Loss{Record: trials.Record{ID: fmt.Sprint("l", i),
			Name: fmt.Sprintf("heather-1.l%d", i+1)}, At: day(6 + 4*i), Kind: trials.LossSample, VolumeL: 0.2})
	}
	for i := range 2 {
		events = append(events, trials.Addition{Record: trials.Record{ID: fmt.Sprint("w", i),
			Name: fmt.Sprintf("heather-1.a%d", i+4)}, At: day(7 + 6*i), Stage: trials.StageSecondary,
			LiquidKind: "water", VolumeL: ptr(0.5)})
	}
	week := 7.0 * 24 * 60
	events = append(events,
		trials.Addition{Record: trials.Record{ID: "s", Name: "heather-1.a6"}, At: day(30), Stage: trials.StageSecondary,
			LiquidKind: "sugar", LiquidMassG: ptr(100.0)},
		trials.Addition{Record: trials.Record{ID: "f", Name: "heather-1.a7"}, At: day(31), Stage: trials.StageSecondary,
			MaterialKey: "raspberry", Method: trials.MethodContact, Form: "frozen", MassG: ptr(1500.0), Minutes: &week})
	return batchOf(events...)
}

// One account of 20 events with 10 000 draws, steeps included.
func BenchmarkLedgerOf20Events(b *testing.B) {
	n, batch := twenty()
	if events := Events(n, batch); len(events) != 21 {
		b.Fatalf("%d events, want the start and 20", len(events))
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Of(n, batch); err != nil {
			b.Fatal(err)
		}
	}
}

// panel is a series of 50 trials, each tasted by 8 tasters on two attributes and
// liking: 1200 scores.
func panel() *trials.Notebook {
	n := &trials.Notebook{Now: day(60)}
	for i := range 8 {
		n.Tasters = append(n.Tasters, trials.Taster{Record: trials.Record{ID: fmt.Sprint("t", i),
			Name: fmt.Sprint("Taster ", string(rune('A'+i)))}})
	}
	for i := range 50 {
		name := fmt.Sprintf("trial-%02d", i)
		brew(n, name)
		if i > 0 {
			pour(n, name, float64(i)/10, "hibiscus")
		}
	}
	for evening := range 10 {
		id := fmt.Sprint("evening-", evening)
		n.Tastings = append(n.Tastings, trials.Tasting{Record: trials.Record{ID: id, Name: id}, At: day(30 + evening),
			Attributes: []string{"tartness", "fruit"}, Blind: true, ClosedAt: ptr(day(50))})
		for i := range 5 {
			batch := fmt.Sprintf("trial-%02d", 5*evening+i)
			serving := id + batch
			n.Servings = append(n.Servings, trials.Serving{ID: serving, TastingID: id, BatchID: batch,
				Code: fmt.Sprint(100 + i)})
			for taster := range 8 {
				for k, attribute := range []string{"tartness", "fruit", trials.Overall} {
					s := trials.Score{ID: fmt.Sprint(serving, taster, k), TastingID: id, ServingID: serving,
						TasterID: fmt.Sprint("t", taster), Attribute: attribute}
					if attribute == trials.Overall {
						s.Liking = ptr(float64(1 + (i+taster)%9))
					} else {
						s.Intensity, s.Vote = ptr(float64((5*evening+i+taster)%11)), ptr((evening+taster)%3-1)
					}
					n.Scores = append(n.Scores, s)
				}
			}
		}
	}
	return n
}

// The trials of a comparison: 50 ledgers and 1200 scores.
func BenchmarkTrialSetOf50Trials(b *testing.B) {
	n := panel()
	m, _ := shipped(b).Get("hibiscus")
	b.ReportAllocs()
	for b.Loop() {
		s, err := Gather(n, m)
		if err != nil || len(s.Trials) != 50 || len(s.Scores) != 1200 {
			b.Fatal(len(s.Trials), len(s.Scores), err)
		}
	}
}

// A dilution of one liquid with 200 000 draws, as the calculator makes it.
func BenchmarkDilute(b *testing.B) {
	materials := shipped(b)
	q := beerOf(12, 1.048, 1.010, Liquid{Kind: "water", VolumeL: about(0.6)})
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Dilute(materials, q); err != nil {
			b.Fatal(err)
		}
	}
}
