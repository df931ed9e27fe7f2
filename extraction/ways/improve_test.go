package ways

import (
	"testing"

	"hedgerow/extraction"
	"hedgerow/trials/figure"
)

// gain returns the gain of one change.
func gain(gains []Gain, what string) (Gain, bool) {
	for _, g := range gains {
		if g.What == what {
			return g, true
		}
	}
	return Gain{}, false
}

// Case A3 of the worked examples with another pass of 450 mL, squeezed. By hand: of
// the 0.288 left in 579.6 mL there come out 495.36/579.6, in all 0.958142 in 815.76
// mL: 36*0.85*0.958142/17.81576 = 1.6457 g/L. Squeezing A3 alone gives 0.8128 in
// 365.76 mL: 36*0.85*0.8128/17.36576 = 1.4322 g/L.
func TestImproveA3(t *testing.T) {
	s := leaf36(stirred(450, extraction.Drained))
	gains, err := Improve(&s, extraction.Water, extraction.Mix{IntoL: 17}, extraction.Draws{N: 2000, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	second, ok := gain(gains, "another pass like the last, squeezed")
	if !ok || !near(second.DoseGPerL, 1.6457, 5e-5) || !near(second.ExtraML, 495.36, 0.01) ||
		!near(second.Ratio.Value, 1.6457/1.2579, 1e-4) || second.ExtraMinutes != 600 {
		t.Errorf("second pass %+v, want 1.6457 g/L and 495.36 mL more", second)
	}
	press, ok := gain(gains, "squeeze every pass")
	if !ok || !near(press.DoseGPerL, 1.4322, 5e-5) || !near(press.ExtraML, 45.36, 0.01) || press.P != 1 {
		t.Errorf("squeezing %+v, want 1.4322 g/L and 45 mL more for sure", press)
	}
	if gains[0].What != second.What {
		t.Errorf("best is %q, want the second pass", gains[0].What)
	}
	for _, what := range []string{"crush it", "stir throughout", "loose, not in a bag"} {
		if g, ok := gain(gains, what); ok {
			t.Errorf("%q offered for crushed material, stirred and loose: %+v", what, g)
		}
	}
	// What is left: 1 - 0.712 in the held 129.6 mL.
	r := run(t, s)
	if !near(r.Left.InHeldLiquid[extraction.Water], 0.288, 1e-6) || !near(r.Left.HeldML, 129.6, 1e-9) ||
		r.Left.Undissolved[extraction.Water] > 1e-9 {
		t.Errorf("left %+v, want 0.288 in 129.6 mL", r.Left)
	}
}

// A short, still, cold steep of whole spice in a bag: everything would help, and
// the interval of each change keeps its value.
func TestImproveASlowSteep(t *testing.T) {
	s := extraction.Steep{
		Method: extraction.ColdTea,
		Form:   extraction.WholeHard,
		Kind:   extraction.SeedWhole,
		MassG:  20,
		Passes: []extraction.Pass{
			{VolumeML: 300, StartC: new(4.0), EndC: new(10.0), Minutes: 120, InBag: true}},
	}
	gains, err := Improve(
		&s,
		extraction.Water,
		extraction.Mix{IntoL: 10, AddedML: new(100.0)},
		extraction.Draws{N: 2000, Seed: 1},
	)
	if err != nil {
		t.Fatal(err)
	}
	if len(gains) != len(changes) {
		t.Errorf("%d changes apply, want all %d", len(gains), len(changes))
	}
	for _, g := range gains {
		if !(g.P > 0.9 && g.Ratio.Value > 1 && g.Ratio.Low <= g.Ratio.Value && g.Ratio.Value <= g.Ratio.High &&
			g.Ratio.Level == 0.8) {
			t.Errorf("%s: %+v with P %v, want a gain", g.What, g.Ratio, g.P)
		}
	}
	longer, _ := gain(gains, "twice as long")
	if longer.ExtraMinutes != 120 || longer.Steep.Passes[0].EndC != nil || s.Passes[0].EndC == nil {
		t.Errorf("twice as long adds %v min; the steep itself must stay as it was", longer.ExtraMinutes)
	}
}

// Heat costs aroma: hotter and longer is no gain once it is dissolved.
func TestHotterLosesAroma(t *testing.T) {
	s := extraction.Steep{Method: extraction.FlameOut, Form: extraction.Powder, MassG: 20,
		Passes: []extraction.Pass{{StartC: new(80.0), Minutes: 60, Agitation: extraction.Stirred}}}
	gains, err := Improve(&s, extraction.Aroma, extraction.Mix{IntoL: 10}, extraction.Draws{N: 1000, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if g, ok := gain(gains, "twice as long"); !ok || g.P > 0.05 || g.Ratio.Value > 0.8 {
		t.Errorf("twice as long %+v, want a loss", g)
	}
}

// Logged curves and steeps without any dose do not trip it.
func TestImproveEdges(t *testing.T) {
	curve := extraction.Steep{Method: extraction.Tea, Form: extraction.Cut, MassG: 20, Passes: []extraction.Pass{
		{VolumeML: 300, Curve: []figure.CurvePoint{{Minutes: 0, TempC: 85}, {Minutes: 10, TempC: 70},
			{Minutes: 20, TempC: 60}}}}}
	gains, err := Improve(&curve, extraction.Water, extraction.Mix{IntoL: 10}, extraction.Draws{N: 500, Seed: 1})
	hotter, ok := gain(gains, "10 C hotter")
	if err != nil || !ok || hotter.Steep.Passes[0].Curve[0].TempC != 95 || curve.Passes[0].Curve[0].TempC != 85 {
		t.Errorf("%+v, %v, want a curve from 95 C and the old one untouched", hotter, err)
	}
	if longer, ok := gain(gains, "twice as long"); !ok || longer.ExtraMinutes != 20 {
		t.Errorf("%+v, want 20 min more", longer)
	}
	dry := leaf36(stirred(120, extraction.Drained))
	gains, err = Improve(&dry, extraction.Water, extraction.Mix{IntoL: 10}, extraction.Draws{N: 500, Seed: 1})
	if g, ok := gain(gains, "squeeze every pass"); err != nil || !ok || g.P != 1 || g.Ratio.Level != 0 {
		t.Errorf("%+v, %v, want a sure gain without a ratio", g, err)
	}
	juice := extraction.Steep{Method: extraction.JuiceIn, Form: extraction.Juice, MassG: 100, Moisture: new(0.88)}
	gains, err = Improve(&juice, extraction.Water, extraction.Mix{IntoL: 10}, extraction.Draws{N: 500, Seed: 1})
	if err != nil || len(gains) != 0 {
		t.Errorf("juice: %v, %v, want nothing to improve", gains, err)
	}
	if _, err = Improve(&dry, extraction.Water, extraction.Mix{}, extraction.Draws{N: 500}); err == nil {
		t.Error("no beer is accepted")
	}
}
