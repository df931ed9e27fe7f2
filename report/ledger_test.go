package report

import (
	"strings"
	"testing"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// ledgerOf shows the ledger of a batch.
func ledgerOf(t testing.TB, n *trials.Notebook, name string, u quantity.Units) document.View {
	t.Helper()
	b, err := n.Batch(name)
	if err != nil {
		t.Fatal(err)
	}
	l, err := ledger.Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	return Ledger(n, l, u)
}

// The table and the JSON say the same: example 1 of the page on dilution gives
// 4.96 % vol before and, with 0.75 L of water, 4.959 x 12/12.75 = 4.668 after.
func TestLedgerView(t *testing.T) {
	v := ledgerOf(t, invented.Series(), "plain", quantity.Metric)
	var p struct {
		Steps []struct {
			Day   float64       `json:"day"`
			Kind  string        `json:"kind"`
			What  string        `json:"what"`
			State wording.State `json:"state"`
			Doses []any         `json:"doses"`
		} `json:"steps"`
		Draws    int      `json:"draws"`
		Warnings []string `json:"warnings"`
	}
	drawing.ReadJSON(t, v, &p)
	if len(p.Steps) != 4 || p.Steps[3].Kind != "tasting" || p.Steps[1].Day != 10 || p.Steps[2].What != "750 mL water" ||
		p.Draws != 10_000 ||
		p.Steps[0].Doses == nil {
		t.Errorf("%+v", p)
	}
	invented.Near(t, "strength before", p.Steps[1].State.ABVPct.Value, 4.959, 1e-3)
	invented.Near(t, "strength after", p.Steps[2].State.ABVPct.Value, 4.959*12/12.75, 4e-3)
	if s := p.Steps[2].State; s.SRM != nil || s.CO2Volumes != nil || s.IBU == nil {
		t.Errorf("what is not known is shown: %+v", s)
	}
	text := drawing.AsText(t, v.Document, 80)
	for _, want := range []string{"Ledger of plain", "4.7 ±0.3", "12.8 ±0.2", "1.0094 ±0.0009"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
}

// US units change every volume and no gravity; both are never mixed: 12 L are
// 3.17 US gal.
func TestLedgerViewInUSUnits(t *testing.T) {
	text := drawing.AsText(t, ledgerOf(t, invented.Series(), "plain", quantity.USUnits).Document, 80)
	if !strings.Contains(text, "US gal") || !strings.Contains(text, "3.17 ±0.06") || strings.Contains(text, "litres") ||
		strings.Contains(text, " L ") {
		t.Errorf("\n%s", text)
	}
}

// Bitterness is a column only where it is known; all columns show on demand.
func TestColumnsOfALedger(t *testing.T) {
	n := invented.Series()
	n.Batches[0].IBU = nil
	v := ledgerOf(t, n, "plain", quantity.Metric)
	if text := drawing.AsText(t, v.Document, 80); strings.Contains(text, "IBU") {
		t.Errorf("\n%s", text)
	}
	all := drawing.Drawn(t, func(b *strings.Builder) error {
		return document.WriteText(b, v.Document, document.Style{Width: 120, All: true})
	})
	for _, column := range []string{"IBU", "SRM", "OG", "RE %"} {
		if !strings.Contains(all, column) {
			t.Errorf("column %q is missing in\n%s", column, all)
		}
	}
}

// An addition is shown with the batch just before and just after it, and with
// its own dose alone.
func TestEffectOfAnAddition(t *testing.T) {
	n := invented.Widest()
	b, _ := n.Batch("double")
	l, err := ledger.Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	a, _ := n.Addition("double.a2")
	v := AdditionEffect(n, l, a, quantity.Metric, []string{"told on the way"})
	var p struct {
		Before, After wording.State
		AddedL        float64      `json:"added_l"`
		Doses         []ledgerDose `json:"doses"`
		Warnings      []string     `json:"warnings"`
	}
	drawing.ReadJSON(t, v, &p)
	if len(p.Doses) != 1 || p.Doses[0].Material != "raspberry" ||
		!drawing.HoldsAll(p.Warnings, "fermentable", "told on the way") {
		t.Errorf("%+v, %q", p.Doses, p.Warnings)
	}
	// 1.5 kg of raspberries bring 1.286 kg of water and 0.0885 kg of solubles:
	// about 1.34 L.
	invented.Near(t, "volume", p.After.VolumeL.Value-p.Before.VolumeL.Value, 1.34, 0.01)
}
