package main

import (
	"math"
	"testing"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// addedTexts are texts of every kind of addition.
var addedTexts = []string{
	"600mL water", "600mL water 80C", "600g water", "1/2 gal water 50F",
	"500mL tea 8g/L", "500mL tea 8+-3g/L 70C",
	"250mL+-2% spirit 60+-1% 10+-5g/L", "300mL spirit 40% 30C",
	"500g sugar", "150g+-5g dextrose ferments=90%", "500g honey", "300g maple syrup", "300g agave",
	"200g molasses ferments=95+-2%",
	"1L juice 12P", "1kg juice 1.048", "1L juice 1.050+-0.002 4C", "1L wort 12+-0.5P 60C",
	"2L+-1% beer og=1.060 fg=1.014",
	"2.5kg raspberry", "2.5kg+-2% raspberry extracted=80+-10%", "1.5kg raspberry ferments=95%",
}

// tenLitres is an invented beer of 10 L at 1.048 and 1.010 with one addition, as
// records.
func tenLitres(a trials.Addition) (*trials.Notebook, trials.Batch) {
	at := func(day int) time.Time { return time.Date(2026, 3, 1+day, 12, 0, 0, 0, time.UTC) }
	og, fg, volume := 1.048, 1.010, 10.0
	b := trials.Batch{Record: trials.Record{ID: "b", Name: "moor"}, Kind: trials.KindBatch, StartedAt: at(0),
		VolumeL: volume, OG: &og, FG: &fg}
	a.ID, a.Name, a.BatchID, a.At, a.Stage = "a", "moor.a1", "b", at(12), trials.StageSecondary
	return &trials.Notebook{
		Now: at(60), Batches: []trials.Batch{b}, Additions: []trials.Addition{a},
		Readings: []trials.Reading{{Record: trials.Record{ID: "r", Name: "moor.r1"}, BatchID: "b", At: at(10), SG: &fg,
			VolumeL: &volume}},
	}, b
}

// The same text means the same in the calculator and in a record: `dilute --add`
// and `addition add` give the same figures, their doubt too (to what 10000 draws
// scatter).
func TestCalculatorAndRecordAgree(t *testing.T) {
	t.Parallel()
	materials, err := (&trials.Notebook{}).Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range addedTexts {
		p, err := quantity.ParseAddition(text, quantity.Options{PlatoToSG: ledger.SGFromPlato})
		if err != nil {
			t.Fatal(err)
		}
		l := liquidOf(p)
		calculated, err := ledger.Dilute(materials,
			ledger.DiluteRequest{VolumeL: figure.Limited{Value: 10}, OG: figure.Limited{Value: 1.048},
				FG:      figure.Limited{Value: 1.010},
				Liquids: []ledger.Liquid{l}, GravityLimit: trials.DefaultGravityLimit, VolumeLimit: trials.DefaultVolumeLimit})
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		var a trials.Addition
		if l.Kind == quantity.KindMaterial {
			ledger.FillFruit(&a, l)
			a.Method, a.Form = trials.MethodContact, "fresh"
		} else {
			ledger.FillLiquid(&a, l)
		}
		n, b := tenLitres(a)
		recorded, err := ledger.Of(n, b)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		x, y := calculated.Moments[len(calculated.Moments)-1].State, recorded.Last().State()
		agree(t, text+": volume", x.VolumeL, y.VolumeL)
		agree(t, text+": gravity", x.GravitySG, y.GravitySG)
		agree(t, text+": strength", x.ABVInputsPct, y.ABVInputsPct)
		agree(t, text+": original gravity", x.OriginalSG, y.OriginalSG)
	}
}

// agree compares two estimates of one figure.
func agree(t *testing.T, what string, x, y figure.Estimate) {
	t.Helper()
	if math.Abs(x.Value-y.Value) > 1e-9*math.Abs(x.Value) {
		t.Errorf("%s is %.9g calculated and %.9g recorded", what, x.Value, y.Value)
	}
	if math.Abs(x.U-y.U) > 0.03*x.U {
		t.Errorf("u of %s is %.4g calculated and %.4g recorded", what, x.U, y.U)
	}
}
