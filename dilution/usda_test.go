package dilution

import (
	"math"
	"testing"
)

// TestUSDA1917 compares the model with the 34 beers of USDA Bulletin 493 (1917):
// strength from the two gravities (60/60 F) against the alcohol measured by
// distillation. A separate program found a mean error of +0.065 % vol
// (standard deviation 0.136), computed independently, and +0.075 (0.143) for the
// rule (OG-FG)*131.25. Bias and spread are logged, not only judged.
func TestUSDA1917(t *testing.T) {
	tab := readTable(t, "empirical_usda1917.csv", "og_60F,fg_60F,alcohol_measured_g_per_100mL,"+
		"extract_measured_g_per_100mL,alcohol_model,alcohol_balling_0.1808,alcohol_131.25rule")
	if len(tab.rows) != 34 {
		t.Fatalf("%d beers, want 34", len(tab.rows))
	}
	var model, rule []float64
	for _, row := range tab.rows {
		og, _ := tab.num(t, row, "og_60F")
		fg, _ := tab.num(t, row, "fg_60F")
		measured, _ := tab.num(t, row, "alcohol_measured_g_per_100mL")
		computed, _ := tab.num(t, row, "alcohol_model")
		got := alcoholAt60F(t, Gravities{OG: og, FG: fg})
		closeTo(t, "model against the independent computation", got, computed, 2e-4)
		const gramsPerPct = ethanolDensity20 / 1000 // g/100 mL in 1 % vol
		model = append(model, (got-measured)/gramsPerPct)
		rule = append(rule, (og-fg)*131.25-measured/gramsPerPct)
	}
	bias, sd := meanAndSD(model)
	ruleBias, ruleSD := meanAndSD(rule)
	t.Logf("34 beers: model %+.3f %% vol (sd %.3f), 131.25 rule %+.3f (sd %.3f)", bias, sd, ruleBias, ruleSD)
	closeTo(t, "bias", bias, 0.065, 0.001)
	closeTo(t, "spread", sd, 0.136, 0.001)
	closeTo(t, "bias of the rule", ruleBias, 0.075, 0.001)
	closeTo(t, "spread of the rule", ruleSD, 0.143, 0.001)
	if rms := math.Hypot(bias, sd); rms < ModelABVPct {
		t.Errorf("model uncertainty %g is more than the beers show, %g", ModelABVPct, rms)
	}
}

// alcoholAt60F returns g of alcohol per 100 mL at 60 F for gravities read on
// the 60/60 F scale at 60 F.
func alcoholAt60F(t *testing.T, g Gravities) float64 {
	t.Helper()
	at := Hydrometer{SampleTempC: cal60F, CalTempC: cal60F}
	at.Reading = g.OG
	wort := must(Wort(must(at.WortSG())(t), 1))(t)
	at.Reading = g.FG
	beer, _, err := wort.FermentTo(must(at.BeerSG(wort))(t))
	if err != nil {
		t.Fatal(err)
	}
	return 1000 * beer.EthanolKg / must(beer.VolumeAtL(cal60F))(t) / 10
}

// meanAndSD returns mean and sample standard deviation.
func meanAndSD(v []float64) (mean, sd float64) {
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		sd += (x - mean) * (x - mean) / float64(len(v)-1)
	}
	return mean, math.Sqrt(sd)
}
