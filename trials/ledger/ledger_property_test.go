package ledger

import (
	"fmt"
	"math"
	"testing"
	"time"

	"hedgerow/dilution"
	"hedgerow/testdata/properties"
	"hedgerow/trials"
	"hedgerow/trials/steeps"

	"pgregory.net/rapid"
)

// drawLiquid is a random addition of any kind.
func drawLiquid(t *rapid.T) trials.Addition {
	volume := rapid.Float64Range(0.05, 2).Draw(t, "volume")
	mass := rapid.Float64Range(10, 1000).Draw(t, "mass")
	a := trials.Addition{Stage: trials.StageSecondary}
	switch rapid.SampledFrom([]string{"water", "tea", "spirit", "juice", "sugar", "honey", "fruit", "beer"}).Draw(t,
		"kind") {
	case "water":
		a.LiquidKind, a.VolumeL, a.VolumeTempC = "water", &volume, ptr(rapid.Float64Range(0, 100).Draw(t, "temperature"))
	case "tea":
		a.LiquidKind, a.VolumeL, a.SolidsGPerL = "tea", &volume, ptr(rapid.Float64Range(0, 30).Draw(t, "solids"))
	case "spirit":
		a.LiquidKind, a.VolumeL, a.StrengthPct = "spirit", ptr(volume/5), ptr(rapid.Float64Range(20, 96).Draw(t, "strength"))
	case "juice":
		a.LiquidKind, a.VolumeL, a.Plato = "juice", &volume, ptr(rapid.Float64Range(2, 20).Draw(t, "plato"))
	case "sugar":
		a.LiquidKind, a.LiquidMassG = "sugar", &mass
	case "honey":
		a.LiquidKind, a.LiquidMassG = "honey", &mass
	case "fruit":
		a.MaterialKey, a.Method, a.Form, a.MassG, a.ExtractedPct = "raspberry", trials.MethodContact, "fresh", &mass,
			ptr(rapid.Float64Range(10, 100).Draw(t, "extracted"))
	case "beer":
		a.LiquidKind, a.VolumeL, a.LiquidOG, a.LiquidSG = "beer", &volume, ptr(1.055), ptr(1.012)
	}
	return a
}

// endOf is the state of a finished beer of 20 L after additions in the order
// given, an hour between them.
func endOf(t *rapid.T, materials trials.Materials, additions []trials.Addition) dilution.State {
	events := []any{func(b *trials.Batch) { b.VolumeL, b.IBU, b.SRM = 20, ptr(25.0), ptr(8.0) },
		trials.Reading{Record: trials.Record{Name: "heather-1.r1"}, At: day(10), SG: ptr(1.010)}}
	for i, a := range additions {
		a.Record, a.At = trials.Record{ID: fmt.Sprint(i),
			Name: fmt.Sprintf("heather-1.a%d", i)}, day(11).Add(time.Duration(i)*time.Hour)
		events = append(events, a)
	}
	n, b := batchOf(events...)
	k, err := newBook(n, steeps.Full)
	if err != nil {
		t.Fatal(err)
	}
	builder := &ledgerBuilder{book: k, origins: origins{}}
	if err := builder.build(Events(n, b)); err != nil {
		t.Fatal(err)
	}
	snaps, err := builder.account.Run()
	if err != nil {
		t.Fatal(err)
	}
	return snaps[len(snaps)-1].State
}

// Whatever is added in whatever order, the same masses, bitterness and colour
// are there; each addition brings what it brings alone; more water never raises
// the strength and dilutes what is passive by the volumes.
func TestAdditionsInAnyOrder(t *testing.T) {
	materials := shipped(t)
	properties.CheckFew(t, func(t *rapid.T) {
		list := rapid.SliceOfN(rapid.Custom(drawLiquid), 1, 6).Draw(t, "additions")
		plain := endOf(t, materials, nil)
		end := endOf(t, materials, list)
		other := endOf(t, materials, rapid.Permutation(list).Draw(t, "other order"))
		same := func(what string, x, y float64) {
			if math.Abs(x-y) > 1e-11*(1+math.Abs(x)) {
				t.Fatalf("%s is %.15g and %.15g", what, x, y)
			}
		}
		same("water", end.WaterKg, other.WaterKg)
		same("ethanol", end.EthanolKg, other.EthanolKg)
		same("extract", end.ExtractKg, other.ExtractKg)
		same("bitterness", end.IsoAlphaMg, other.IsoAlphaMg)
		same("colour", end.ColourSRML, other.ColourSRML)
		same("volume", end.VolumeL(), other.VolumeL())
		mass := plain.MassKg()
		for _, a := range list {
			mass += endOf(t, materials, []trials.Addition{a}).MassKg() - plain.MassKg()
		}
		same("mass", end.MassKg(), mass)
		wetter := endOf(t, materials, append(list[:len(list):len(list)],
			trials.Addition{Stage: trials.StageSecondary, LiquidKind: "water", VolumeL: ptr(0.5)}))
		if wetter.ABVPct() > end.ABVPct() {
			t.Fatalf("water raised the strength from %g to %g", end.ABVPct(), wetter.ABVPct())
		}
		same("colour after water", wetter.ColourSRML, end.ColourSRML)
	})
}
