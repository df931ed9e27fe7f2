package ledger

import (
	"strings"
	"testing"

	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/steeps"
)

// A tincture goes in as spirit of its strength. By hand: a month in 40 % spirit
// is complete, of 200 + 1/0.99820123 + 0.60 x 0.33 x 9 = 202.784 mL 4.0 x 9 = 36 mL stay
// in 10 g of dried material; it carries 10 x 0.85 x 1.08 x 166.784/202.784 g.
func TestTinctureGoesInAsSpirit(t *testing.T) {
	x := trials.Extract{Record: trials.Record{ID: "x", Name: "tinc-1"}, MadeAt: day(1), MaterialKey: "heather",
		Method: trials.MethodTincture, Form: "powder", MassG: 10, MoisturePct: ptr(10.0), SpiritPct: ptr(40.0),
		Passes: []trials.Pass{{VolumeL: 0.2, StartC: 20, Minutes: 30 * 24 * 60, Separation: trials.SeparationDrained}}}
	y, err := steeps.OfExtract((&trials.Notebook{Now: day(60)}), shipped(t), x)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "liquid", y.LiquidL, 0.166784, 1e-6)
	near(t, "carried", y.Grams[0].Value, 10*0.918*166.784/202.784, 1e-3)
	n, b := batchOf(x, trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(40),
		Stage: trials.StagePackaging, ExtractID: ptr("x")},
		trials.Reading{Record: trials.Record{ID: "r", Name: "heather-1.r1"}, At: day(10), SG: ptr(1.010)})
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	// A label says whole per cents: the strength is off by one at most (common
	// practice, no source).
	in := l.Account.Steps[2].(dilution.Add).Liquid.(dilution.AddSpirit)
	near(t, "limit of its strength", in.ABVPct.HalfWidth, 1, 0)
	// Alcohol adds by volume to within 0.01 % vol at so little: 4.959 % of 11.97 L
	// and 40 % of 0.166784 L.
	v := l.Steps[1].State().VolumeL.Value
	near(t, "strength", l.Last().State().ABVPct.Value, (4.95937*v+40*0.166784)/(v+0.166784), 0.01)
	if !strings.Contains(strings.Join(TextsOf(l.Warnings), "\n"), "only an equivalent") {
		t.Errorf("the equivalent is not said: %q", l.Warnings)
	}
}
