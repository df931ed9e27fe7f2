package dilution

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestWaterToStrength: the water for a target strength, added, lands on it; and
// the water of TestExampleOne (computed independently) is found back from its result.
func TestWaterToStrength(t *testing.T) {
	beer := must(FromGravities(Gravities{OG: 1.048, FG: 1.010}, 12))(t)
	want := 4.723115 // dilute_water row of the check values, from 0.6 L
	p := must(WaterTo(beer, Target{ABVPct: &want, WaterTempC: 20}))(t)
	closeTo(t, "water", p.VolumeL, 0.6, 1e-5)
	closeTo(t, "strength", p.After.ABVPct(), want, 1e-10)
	gravity := 1.0095045 // same source
	p = must(WaterTo(beer, Target{SG: &gravity, WaterTempC: 20}))(t)
	closeTo(t, "water", p.VolumeL, 0.6, 1e-4)
}

// TestWaterToLands: whatever the beer, the planned water lands on the target.
func TestWaterToLands(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		beer := drawBeer(rt, "beer")
		share := rapid.Float64Range(0.2, 1).Draw(rt, "share")
		tempC := rapid.Float64Range(0, 100).Draw(rt, "temperature")
		if beer.ABVPct() > 0.1 {
			want := share * beer.ABVPct()
			p, err := WaterTo(beer, Target{ABVPct: &want, WaterTempC: tempC})
			if err != nil || math.Abs(p.After.ABVPct()-want) > 1e-9 {
				rt.Errorf("%g %% vol wanted, %g came, error %v", want, p.After.ABVPct(), err)
			}
		}
		want := 1 + share*(beer.SG()-1)
		if beer.SG() < 1.002 {
			return
		}
		p, err := WaterTo(beer, Target{SG: &want, WaterTempC: tempC})
		if err != nil || math.Abs(p.After.SG()-want) > 1e-10 {
			rt.Errorf("gravity %g wanted, %g came, error %v", want, p.After.SG(), err)
		}
		// The volume is what a jug shows at the water's temperature.
		water, err := Tea{VolumeL: max(p.VolumeL, 1e-12), TempC: tempC}.Portion()
		if err != nil || math.Abs(water.WaterKg-p.MassKg) > 1e-9 {
			rt.Errorf("%g L at %g C are not %g kg", p.VolumeL, tempC, p.MassKg)
		}
	})
}

// TestWaterToRefusals: targets that water cannot reach.
func TestWaterToRefusals(t *testing.T) {
	beer := must(FromGravities(Gravities{OG: 1.048, FG: 1.010}, 12))(t)
	cases := []struct {
		name    string
		abv, sg float64
		says    string
	}{
		{"stronger", 6, 0, "brew stronger for more"},
		{"none", -1, 0, "target strength in % vol -1"},
		{"denser", 0, 1.02, "target gravity 1.02 is not between 1 and the present 1.01000"},
		{"below water", 0, 0.99, "nearer to 1"},
		{"water", 0, 1, "nearer to 1"},
		{"not a number", math.NaN(), 0, "(not a number)"},
		{"a trace", 0.01, 0, "a hundred times"},
	}
	for _, c := range cases {
		target := Target{WaterTempC: 20}
		if c.abv != 0 {
			target.ABVPct = &c.abv
		} else {
			target.SG = &c.sg
		}
		if _, err := WaterTo(beer, target); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: error %v, want one with %q", c.name, err, c.says)
		}
	}
	if _, err := WaterTo(beer, Target{WaterTempC: 20}); err == nil {
		t.Error("no target at all was taken")
	}
	want := 4.0
	if _, err := WaterTo(beer, Target{ABVPct: &want, WaterTempC: 120}); err == nil {
		t.Error("water of 120 C was taken")
	}
}

// TestKeepABV: the stronger wort, fermented to the same real attenuation and
// with the liquid in it, has the strength of the plain beer.
func TestKeepABV(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		og := rapid.Float64Range(1.035, 1.080).Draw(rt, "og")
		plain := Gravities{OG: og, FG: 1 + rapid.Float64Range(0.15, 0.35).Draw(rt, "left")*(og-1)}
		q := Stronger{Plain: plain, VolumeL: 20, Added: drawPortion(rt, "added")}
		if q.Added.SpiritKg > 0.5*q.Added.WaterKg {
			q.Added = State{WaterKg: 1}
		}
		plan, err := KeepABV(q)
		if err != nil {
			rt.Skip("out of reach")
		}
		beer, err := FromGravities(plain, 20)
		if err != nil {
			rt.Fatal(err)
		}
		if math.Abs(plan.After.ABVPct()-beer.ABVPct()) > 1e-9 {
			rt.Errorf("%g %% vol, want %g", plan.After.ABVPct(), beer.ABVPct())
		}
		again, err := FromGravities(Gravities{OG: plan.OG, FG: plan.FG}, 20)
		if err != nil || math.Abs(again.EthanolKg-plan.Before.EthanolKg) > 1e-9 {
			rt.Errorf("the gravities of the plan do not give its beer: error %v", err)
		}
		// Real attenuation is the share of the extract that fermented.
		share := func(s State) float64 { return 2.0665 * s.EthanolKg / (s.ExtractKg + 2.0665*s.EthanolKg) }
		if math.Abs(share(plan.Before)-share(beer)) > 1e-9 {
			rt.Errorf("attenuation %g, want %g", share(plan.Before), share(beer))
		}
	})
}

// TestKeepABVByHand: 19 L of 1.048/1.010 (4.959 % vol by the check values) to be
// diluted with 1 kg of water. To first order the wort needs 1/19 more extract:
// 11.92 P times 1.053 is 12.55 P, 1.0506; the curvature of strength with gravity
// is worth less than 0.0003.
func TestKeepABVByHand(t *testing.T) {
	plan := must(KeepABV(Stronger{Plain: Gravities{OG: 1.048, FG: 1.010}, VolumeL: 19, Added: State{WaterKg: 1}}))(t)
	closeTo(t, "original gravity", plan.OG, 1.0506, 0.0003)
	closeTo(t, "strength", plan.After.ABVPct(), 4.959, 0.001)
	want := 25.0
	if _, err := KeepABV(Stronger{Plain: Gravities{OG: 1.048, FG: 1.010}, VolumeL: 19,
		WantABVPct: &want}); err == nil || !strings.Contains(err.Error(), "25 cannot be reached") {
		t.Errorf("25 %% vol: error %v", err)
	}
	if _, err := KeepABV(Stronger{Plain: Gravities{OG: 1.010, FG: 1.048}, VolumeL: 19}); err == nil {
		t.Error("swapped gravities were taken")
	}
}

// TestEqualLiquid: every jar ends with the same added liquid per litre of beer,
// the wettest one gets none.
func TestEqualLiquid(t *testing.T) {
	jars := []Jar{{BeerL: 4, AddedL: 0}, {BeerL: 4, AddedL: 0.1}, {BeerL: 4, AddedL: 0.2}, {BeerL: 2, AddedL: 0.05}}
	water := must(EqualLiquid(jars))(t)
	// 0.2 L in 4 L is 0.05 L/L.
	for i, want := range []float64{0.2, 0.1, 0, 0.05} {
		closeTo(t, "water", water[i], want, 1e-15)
	}
	if _, err := EqualLiquid([]Jar{{BeerL: 0}}); err == nil {
		t.Error("a jar without beer was taken")
	}
	if _, err := EqualLiquid([]Jar{{BeerL: 1, AddedL: -1}}); err == nil {
		t.Error("a negative liquid was taken")
	}
}
