package ledger

import (
	"fmt"
	"testing"

	"hedgerow/trials"
)

// twentyEvents is an invented batch with a start and 19 events: gravities with
// one hydrometer, teas, water, sugar, fruit that comes out again, spirit, losses,
// temperatures, a measured volume.
func twentyEvents() (*trials.Notebook, trials.Batch) {
	week := 7.0 * 24 * 60
	events := []any{
		func(b *trials.Batch) {
			b.VolumeL, b.OG, b.FG, b.IBU, b.SRM, b.OGMeterID = 20, ptr(1.052), ptr(1.011), ptr(25.0), ptr(6.0), ptr("m")
		},
		jugTea(),
		trials.Addition{Record: trials.Record{ID: "a1", Name: "heather-1.a1"}, At: day(4), Stage: trials.StagePrimary,
			ExtractID: ptr("x"), PouredL: ptr(0.3)},
		trials.Addition{Record: trials.Record{ID: "a2", Name: "heather-1.a2"}, At: day(6), Stage: trials.StagePrimary,
			MaterialKey: "raspberry", Method: trials.MethodContact, Form: "fresh", MassG: ptr(2000.0), Minutes: &week,
			RetainKgKg: ptr(0.5)},
		trials.Addition{Record: trials.Record{ID: "a3", Name: "heather-1.a3"}, At: day(15),
			Stage: trials.StageSecondary, ExtractID: ptr("x"), PouredL: ptr(0.3)},
		trials.Addition{Record: trials.Record{ID: "a4", Name: "heather-1.a4"}, At: day(16),
			Stage: trials.StageSecondary, LiquidKind: "water", VolumeL: ptr(0.5), VolumeTempC: ptr(60.0)},
		trials.Addition{Record: trials.Record{ID: "a5", Name: "heather-1.a5"}, At: day(17),
			Stage: trials.StageSecondary, LiquidKind: "spirit", VolumeL: ptr(0.05), StrengthPct: ptr(60.0),
			SolidsGPerL: ptr(10.0)},
		trials.Addition{Record: trials.Record{ID: "a6", Name: "heather-1.a6"}, At: day(18),
			Stage: trials.StagePackaging, LiquidKind: "sugar", LiquidMassG: ptr(100.0)},
	}
	for i, sg := range []float64{1.045, 1.030, 1.020, 1.014, 1.011, 1.010} {
		events = append(events, trials.Reading{Record: trials.Record{Name: fmt.Sprintf("heather-1.r%d", i+1)},
			At: day(2 + 2*i), SG: &sg, SampleTempC: ptr(24.0), MeterID: ptr("m"), BeerTempC: ptr(19.0)})
	}
	for i := range 4 {
		events = append(events, trials.Loss{Record: trials.Record{Name: fmt.Sprintf("heather-1.l%d", i+1)},
			At: day(3 + 4*i), Kind: trials.LossSample, VolumeL: 0.15})
	}
	events = append(events, trials.Reading{Record: trials.Record{Name: "heather-1.r7"}, At: day(14),
		VolumeL: ptr(20.0)}, trials.Reading{Record: trials.Record{Name: "heather-1.r8"}, At: day(19),
		BeerTempC: ptr(21.0)})
	n, b := batchOf(events...)
	n.Meters = []trials.Meter{{Record: trials.Record{ID: "m", Name: "float-1"}, Kind: trials.MeterHydrometer,
		ZeroError: ptr(0.0005)}}
	return n, b
}

// The batch of the benchmark is what it is said to be, and works.
func TestTwentyEvents(t *testing.T) {
	n, b := twentyEvents()
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	// The sugar went in at packaging, so a line on the beer after conditioning ends it.
	if len(l.Steps) != 21 || l.Last().Kind != EventConditioned || l.Draws.N != 10_000 {
		t.Errorf("%d events with %d draws", len(l.Steps), l.Draws.N)
	}
}

// BenchmarkLedger20 measures a ledger of 20 events with 10000 draws, from the
// records: the steeps too.
func BenchmarkLedger20(b *testing.B) {
	n, batch := twentyEvents()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Of(n, batch); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkExplain20 measures which inputs the same ledger depends on.
func BenchmarkExplain20(b *testing.B) {
	n, batch := twentyEvents()
	l, err := Of(n, batch)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := l.Explain(); err != nil {
			b.Fatal(err)
		}
	}
}
