package dilution

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestGravitiesThereAndBack: (OG, FG) -> masses -> (OG, FG) returns to 1e-12 over
// original gravities 1.020-1.120 and apparent attenuations 0-110 %, the range
// that the model is for, and the volume to 1e-12 of itself.
func TestGravitiesThereAndBack(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		og := rapid.Float64Range(1.020, 1.120).Draw(rt, "og")
		attenuation := rapid.Float64Range(0, 1.10).Draw(rt, "attenuation")
		volume := rapid.Float64Range(0.1, 500).Draw(rt, "volume")
		fg := og - attenuation*(og-1)
		s, err := FromGravities(Gravities{OG: og, FG: fg}, volume)
		if err != nil {
			rt.Fatal(err)
		}
		if d := math.Abs(s.OriginalSG() - og); d > 1e-12 {
			rt.Errorf("OG off by %g", d)
		}
		if d := math.Abs(s.SG() - fg); d > 1e-12 {
			rt.Errorf("FG off by %g", d)
		}
		if d := math.Abs(s.VolumeL()/volume - 1); d > 1e-12 {
			rt.Errorf("volume off by %g of itself", d)
		}
	})
}

// TestLabelThereAndBack: strength and gravity give masses that return both, and
// the same masses as the two gravities they came from.
func TestLabelThereAndBack(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		og := rapid.Float64Range(1.020, 1.120).Draw(rt, "og")
		fg := og - rapid.Float64Range(0.1, 0.95).Draw(rt, "attenuation")*(og-1)
		from, err := FromGravities(Gravities{OG: og, FG: fg}, 10)
		if err != nil {
			rt.Fatal(err)
		}
		s, err := FromABV(Label{ABVPct: from.ABVPct(), FG: fg}, 10)
		if err != nil {
			rt.Fatal(err)
		}
		for _, d := range []float64{s.WaterKg - from.WaterKg, s.EthanolKg - from.EthanolKg, s.ExtractKg - from.ExtractKg} {
			if math.Abs(d) > 1e-10 {
				rt.Errorf("a mass is off by %g kg", d)
			}
		}
	})
}

// TestLowestFinalGravity holds the gravities at which no extract is left, computed
// independently: OG 1.048 -> 0.9893, 1.060 -> 0.9869, 1.100 ->
// 0.9794.
func TestLowestFinalGravity(t *testing.T) {
	cases := []struct{ og, lowest float64 }{
		{1.048, 0.9893},
		{1.060, 0.9869},
		{1.100, 0.9794},
	}
	for _, c := range cases {
		w := must(Wort(c.og, 1))(t)
		closeTo(t, "lowest final gravity", w.lowestSG(), c.lowest, 5e-5)
		_, err := FromGravities(Gravities{OG: c.og, FG: c.lowest - 0.0002}, 1)
		if err == nil || !strings.Contains(err.Error(), "no extract would be left") {
			t.Errorf("final gravity below %g: error %v", c.lowest, err)
		}
		if _, err := FromGravities(Gravities{OG: c.og, FG: c.lowest + 0.0002}, 1); err != nil {
			t.Errorf("final gravity above %g: %v", c.lowest, err)
		}
	}
}

// TestUsualChainMisses: the usual chain RE = 0.1808 OE + 0.8192 AE gives, for
// 1.048/1.012, 0.09 % vol more than the self-consistent model (computed
// independently).
func TestUsualChainMisses(t *testing.T) {
	s := must(FromGravities(Gravities{OG: 1.048, FG: 1.012}, 1))(t)
	oe, ae := must(PlatoFromSG(1.048))(t), must(PlatoFromSG(1.012))(t)
	re := 0.1808*oe + 0.8192*ae
	abw := (oe - re) / (2.0665 - 0.010665*oe)
	abv := abw * 1.012 * 0.99820123 / 0.7892391
	closeTo(t, "usual chain less model, % vol", abv-s.ABVPct(), 0.09, 0.006)
}

// TestOriginalExtract: the mass form of the original extract is Balling's
// printed OE = 100 (2.0665 A + RE)/(100 + 1.0665 A) in per cent by mass.
func TestOriginalExtract(t *testing.T) {
	s := must(FromGravities(Gravities{OG: 1.060, FG: 1.015}, 1))(t)
	a, re := s.ABWPct(), s.realExtractPct()
	closeTo(t, "original extract", s.originalPlato(), 100*(2.0665*a+re)/(100+1.0665*a), 1e-12)
}

// TestGravityRefusals: pairs that cannot be are errors that say why.
func TestGravityRefusals(t *testing.T) {
	cases := []struct {
		name   string
		g      Gravities
		volume float64
		says   string
	}{
		{"swapped", Gravities{OG: 1.010, FG: 1.048}, 12, "usually the two were swapped"},
		{"points", Gravities{OG: 48, FG: 1.010}, 12, "original gravity 48 is outside 0.97 to 1.2"},
		{"low", Gravities{OG: 1.048, FG: 0.96}, 12, "final gravity 0.96 is outside"},
		{"too dry", Gravities{OG: 1.020, FG: 0.98}, 12, "no extract would be left"},
		{"no volume", Gravities{OG: 1.048, FG: 1.010}, 0, "volume in litres 0 must be above zero"},
		{"negative volume", Gravities{OG: 1.048, FG: 1.010}, -2, "must be above zero"},
		{"not a number", Gravities{OG: math.NaN(), FG: 1.010}, 12, "(not a number)"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := FromGravities(c.g, c.volume)
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want one with %q", err, c.says)
			}
		})
	}
}

// TestLabelRefusals: printed strengths that do not go with the gravity.
func TestLabelRefusals(t *testing.T) {
	cases := []struct {
		label Label
		says  string
	}{
		{Label{ABVPct: 40, FG: 1.010}, "add a spirit as an addition"},
		{Label{ABVPct: 8, FG: 0.975}, "less than no extract"},
		{Label{ABVPct: 5, FG: 10.1}, "gravity 10.1"},
	}
	for _, c := range cases {
		if _, err := FromABV(c.label, 1); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: error %v, want one with %q", c.label, err, c.says)
		}
	}
}

// TestUnfermented: equal gravities are wort without alcohol.
func TestUnfermented(t *testing.T) {
	s := must(FromGravities(Gravities{OG: 1.050, FG: 1.050}, 10))(t)
	closeTo(t, "strength", s.ABVPct(), 0, 1e-12)
	if s.EthanolKg < 0 {
		t.Errorf("ethanol %g kg is negative", s.EthanolKg)
	}
}
