package report

import (
	"strings"
	"testing"

	"hedgerow/report/wording"
	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// dilution works out a dilution of 12 L at 1.048 and 1.010.
func dilution(t testing.TB, edit func(*ledger.DiluteRequest)) ledger.Dilution {
	t.Helper()
	materials, err := (&trials.Notebook{}).Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	q := ledger.DiluteRequest{VolumeL: figure.Limited{Value: 12}, OG: figure.Limited{Value: 1.048},
		FG:           figure.Limited{Value: 1.010},
		GravityLimit: trials.DefaultGravityLimit, VolumeLimit: trials.DefaultVolumeLimit}
	edit(&q)
	d, err := ledger.Dilute(materials, q)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// water is 0.6 L of it, with 30 IBU in the beer.
func water(q *ledger.DiluteRequest) {
	q.IBU = &figure.Limited{Value: 30}
	q.Liquids = []ledger.Liquid{{Kind: "water", VolumeL: &figure.Limited{Value: 0.6}}}
}

// Example 1 of the page on dilution, as a reader and as a program see it. Digits
// follow the intervals: u of the strength is 0.144 with the model, 0.103 without.
func TestDilutionView(t *testing.T) {
	v := Dilution(dilution(t, water), quantity.Metric, DiluteExtra{Explain: true})
	var p struct {
		Before, After wording.State
		Factor        *figure.Stated `json:"dilution_factor"`
		Stages        []diluteStage
		Largest       string `json:"largest_contribution_to_abv"`
		Method        string
		Warnings      []string
	}
	drawing.ReadJSON(t, v, &p)
	invented.Near(t, "volume", p.After.VolumeL.Value, 12.6002, 5e-5)
	invented.Near(t, "gravity", p.After.GravitySG.Value, 1.00950, 5e-6)
	invented.Near(t, "strength", p.After.ABVPct.Value, 4.723, 5e-4)
	invented.Near(t, "bitterness", p.After.IBU.Value, 28.57, 5e-3)
	invented.Near(t, "factor", p.Factor.Value, 0.9524, 5e-5)
	invented.Near(t, "strength before", p.Before.ABVPct.Value, 4.959, 5e-4)
	if *p.After.ABVPct.Low >= *p.After.ABVInputsPct.Low || *p.After.ABVPct.High <= *p.After.ABVInputsPct.High {
		t.Error("the model uncertainty does not widen the interval")
	}
	if p.After.SRM != nil || p.Warnings == nil || len(p.Stages) != 2 || p.Largest != "original gravity" ||
		!strings.Contains(p.Method, "seed") {
		t.Errorf("%+v", p)
	}
	text := drawing.AsText(t, v.Document, 80)
	for _, want := range []string{"4.7 ±0.3", "4.7 ±0.2", "1.0095 ±0.0009", "28.57 ±0.03", "dilution factor 0.9524",
		"better original gravity",
		"How it was worked out", "OIML R 22", "0.10 % vol", "ethanol kg", "volume of water"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	if strings.Contains(text, "colour") {
		t.Errorf("a colour that was not given is shown:\n%s", text)
	}
	drawing.CheckView(t, "dilution", v)
}

// While it still ferments: stages by name, what would have been without, and the
// gas to come (example 3: 212 g).
func TestDilutionViewInFermentation(t *testing.T) {
	v := Dilution(dilution(t, func(q *ledger.DiluteRequest) {
		q.VolumeL.Value, q.OG.Value = 18, 1.052
		q.FG = figure.Limited{Value: 1.011, HalfWidth: 0.002, HasLimit: true}
		q.Now = &figure.Limited{Value: 1.020}
		q.Liquids = []ledger.Liquid{{Kind: "material", Material: "raspberry", MassG: &figure.Limited{Value: 2500},
			RetainKgKg: &figure.Limited{Value: 0.5}}}
	}), quantity.Metric, DiluteExtra{Explain: true})
	text := drawing.AsText(t, v.Document, 100)
	for _, want := range []string{"before", "mixed", "fermented", "racked",
		"without the additions it would end at 1.011", "5.4", "g of CO2 still to come"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	if !strings.Contains(text, "mixed: 212") && !strings.Contains(text, "mixed: 210") {
		t.Errorf("212 g of CO2 are not told:\n%s", text)
	}
	drawing.CheckView(t, "fruit", v)
}

// In US units every volume is in gallons: 12 L are 3.17.
func TestDilutionViewInUSUnits(t *testing.T) {
	text := drawing.AsText(t, Dilution(dilution(t, water), quantity.USUnits, DiluteExtra{}).Document, 80)
	if !strings.Contains(text, "volume, US gal") || !strings.Contains(text, "3.17 ±0.06") ||
		strings.Contains(text, "litres") {
		t.Errorf("\n%s", text)
	}
}
