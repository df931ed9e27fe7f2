package dilution

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// drawBeer draws a finished beer with bitterness, colour and gas.
func drawBeer(rt *rapid.T, name string) State {
	og := rapid.Float64Range(1.020, 1.120).Draw(rt, name+" og")
	fg := og - rapid.Float64Range(0, 0.95).Draw(rt, name+" attenuation")*(og-1)
	s, err := FromGravities(Gravities{OG: og, FG: fg}, rapid.Float64Range(0.5, 50).Draw(rt, name+" volume"))
	if err != nil {
		rt.Fatal(err)
	}
	s = s.withIBU(rapid.Float64Range(0, 80).Draw(rt, name+" ibu"))
	s = s.withSRM(rapid.Float64Range(1, 40).Draw(rt, name+" srm"))
	return s.WithCO2Volumes(rapid.Float64Range(0, 3).Draw(rt, name+" co2"))
}

// drawPortion draws something to add.
func drawPortion(rt *rapid.T, name string) State {
	volume := rapid.Float64Range(0.01, 5).Draw(rt, name+" volume")
	tempC := rapid.Float64Range(0, 40).Draw(rt, name+" temperature")
	var s State
	var err error
	switch rapid.SampledFrom([]string{"tea", "juice", "fruit", "spirit"}).Draw(rt, name) {
	case "tea":
		s, err = Tea{VolumeL: volume, TempC: tempC, SolidsGPerL: rapid.Float64Range(0, 30).Draw(rt, name+" solids")}.Portion()
	case "juice":
		s, err = juice{VolumeL: volume, TempC: tempC, Plato: rapid.Float64Range(0, 60).Draw(rt, name+" plato"),
			Fermentability: 0.9}.Portion()
	case "fruit":
		s, err = crushedFruit{MassKg: volume, Water: 0.85, Sugar: 0.08, Nonfermentable: 0.02, Extraction: 0.9,
			Fermentability: 1}.Portion()
	case "spirit":
		s, err = Spirit{VolumeL: volume / 5, TempC: tempC,
			ABVPct: rapid.Float64Range(0, 100).Draw(rt, name+" strength")}.Portion()
	}
	if err != nil {
		rt.Fatal(err)
	}
	return s
}

// nearly reports whether a and b agree to 1e-12 of their size.
func nearly(a, b float64) bool {
	return math.Abs(a-b) <= 1e-12*max(1, math.Abs(a), math.Abs(b))
}

// TestMixKeepsMass: every mass and passive total of the mix is the sum.
func TestMixKeepsMass(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		a, b := drawBeer(rt, "a"), drawPortion(rt, "b")
		m := a.Plus(b)
		if !nearly(m.MassKg(), a.MassKg()+b.MassKg()) {
			rt.Errorf("mass %g, want %g", m.MassKg(), a.MassKg()+b.MassKg())
		}
		ibu, _ := a.IBU()
		mixed, ok := m.IBU()
		if !ok || !nearly(mixed*m.VolumeL(), ibu*a.VolumeL()) {
			rt.Errorf("iso-alpha %g mg, want %g", mixed*m.VolumeL(), ibu*a.VolumeL())
		}
	})
}

// TestMixOrder: the order of additions does not matter.
func TestMixOrder(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		beer, a, b := drawBeer(rt, "beer"), drawPortion(rt, "a"), drawPortion(rt, "b")
		ab, ba := beer.Plus(a).Plus(b), beer.Plus(b).Plus(a)
		figuresOf := []func(State) float64{State.VolumeL, State.SG, State.ABVPct, State.realExtractPct, State.OriginalSG}
		for i, figure := range figuresOf {
			if !nearly(figure(ab), figure(ba)) {
				rt.Errorf("figure %d: %g in one order, %g in the other", i, figure(ab), figure(ba))
			}
		}
		ibu1, _ := ab.IBU()
		ibu2, _ := ba.IBU()
		srm1, _ := ab.SRM()
		srm2, _ := ba.SRM()
		if !nearly(ibu1, ibu2) || !nearly(srm1, srm2) {
			rt.Errorf("IBU %g and %g, SRM %g and %g", ibu1, ibu2, srm1, srm2)
		}
	})
}

// TestNothingAdded: adding nothing changes nothing.
func TestNothingAdded(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		beer := drawBeer(rt, "beer")
		if got := beer.Plus(State{}); got != beer {
			rt.Errorf("%+v became %+v", beer, got)
		}
	})
}

// TestWaterWeakens: more water never raises strength, bitterness, colour or
// equivalent original gravity, and always raises the volume.
func TestWaterWeakens(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		beer := drawBeer(rt, "beer")
		a := rapid.Float64Range(0, 20).Draw(rt, "water")
		b := a + rapid.Float64Range(0.001, 20).Draw(rt, "more water")
		less, more := beer.Plus(State{WaterKg: a}), beer.Plus(State{WaterKg: b})
		if more.ABVPct() > less.ABVPct() || more.OriginalSG() > less.OriginalSG() || more.VolumeL() <= less.VolumeL() {
			rt.Errorf("%g kg water: %g %% vol, %g kg: %g %% vol", a, less.ABVPct(), b, more.ABVPct())
		}
		ibuLess, _ := less.IBU()
		ibuMore, _ := more.IBU()
		if ibuMore > ibuLess {
			rt.Errorf("water raised bitterness from %g to %g", ibuLess, ibuMore)
		}
	})
}

// TestLossesKeepComposition: losses and splits change the amount, never the
// composition; the parts of a split make the whole.
func TestLossesKeepComposition(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		beer := drawBeer(rt, "beer")
		share := rapid.Float64Range(0.01, 0.99).Draw(rt, "share")
		taken, err := beer.take(share * beer.VolumeL())
		if err != nil {
			rt.Fatal(err)
		}
		left, err := beer.loseVolume(share * beer.VolumeL())
		if err != nil {
			rt.Fatal(err)
		}
		pulp, err := beer.loseMass(share * beer.MassKg())
		if err != nil {
			rt.Fatal(err)
		}
		for _, s := range []State{taken, left, pulp} {
			if !nearly(s.SG(), beer.SG()) || !nearly(s.ABVPct(), beer.ABVPct()) {
				rt.Errorf("composition changed: SG %g to %g", beer.SG(), s.SG())
			}
		}
		if !nearly(taken.VolumeL()+left.VolumeL(), beer.VolumeL()) {
			rt.Errorf("%g and %g L do not make %g L", taken.VolumeL(), left.VolumeL(), beer.VolumeL())
		}
		if !nearly(pulp.VolumeL(), left.VolumeL()) {
			rt.Errorf("the same share by mass leaves %g L, by volume %g L", pulp.VolumeL(), left.VolumeL())
		}
	})
}

// TestEvaporation: water leaves, everything dissolved stays; putting it back
// restores the beer.
func TestEvaporation(t *testing.T) {
	beer := must(FromGravities(Gravities{OG: 1.050, FG: 1.012}, 20))(t).withIBU(30)
	less := must(beer.evaporate(2))(t)
	closeTo(t, "mass", beer.MassKg()-less.MassKg(), 2*0.99820123, 1e-12)
	back := less.Plus(must(Tea{VolumeL: 2, TempC: 20}.Portion())(t))
	closeTo(t, "volume restored", back.VolumeL(), 20, 1e-9)
	closeTo(t, "gravity restored", back.SG(), 1.012, 1e-12)
}

// TestMixRefusals: taking more than there is.
func TestMixRefusals(t *testing.T) {
	beer := must(FromGravities(Gravities{OG: 1.050, FG: 1.012}, 10))(t)
	cases := []struct {
		name string
		call func() (State, error)
		says string
	}{
		{"take", func() (State, error) { return beer.take(10.1) },
			"volume taken in litres 10.1 is more than the 10 there is"},
		{"take nothing", func() (State, error) { return beer.take(0) }, "must be above zero"},
		{"lose all", func() (State, error) { return beer.loseVolume(10) }, "is more than"},
		{"lose less than nothing", func() (State, error) { return beer.loseVolume(-1) }, "must not be negative"},
		{"pulp", func() (State, error) { return beer.loseMass(11) }, "mass lost in kg 11"},
		{"boil dry", func() (State, error) { return beer.evaporate(9.9) }, "evaporated water"},
		{"ferment", func() (State, error) { return beer.Ferment(1) }, "extract fermented in kg 1"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if _, err := c.call(); err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want one with %q", err, c.says)
			}
		})
	}
}

// TestGaps: what is unknown of a part is unknown of the mix, and never zero.
func TestGaps(t *testing.T) {
	known := must(FromGravities(Gravities{OG: 1.050, FG: 1.012}, 10))(t).withIBU(30).withSRM(8)
	unknown := must(FromGravities(Gravities{OG: 1.060, FG: 1.014}, 10))(t)
	if _, ok := known.Plus(unknown).IBU(); ok {
		t.Error("bitterness of a blend with an unknown beer is given as known")
	}
	if _, ok := known.Plus(State{WaterKg: 1}).IBU(); !ok {
		t.Error("water made the bitterness unknown")
	}
	if _, ok := known.co2Volumes(); ok {
		t.Error("CO2 that was never given is known")
	}
	if _, ok := (State{}).IBU(); ok {
		t.Error("nothing has a bitterness")
	}
}

// TestEmpty: nothing has no figures, and none is not a number.
func TestEmpty(t *testing.T) {
	var s State
	for _, v := range []float64{s.VolumeL(), s.SG(), s.ABVPct(), s.ABWPct(), s.realExtractPct(), s.OriginalSG(),
		s.originalPlato()} {
		if v != 0 {
			t.Errorf("figure of nothing is %g", v)
		}
	}
}

// TestTradeMixing: for plain water the mass balance and the trade's rule (points
// times volume) differ by at most 0.0005 in gravity and 0.049 % in volume, over
// the beers that a separate program ran through (strength 2-12, FG 1.004-1.020, water
// 0-50 % of the beer). Its figures were computed independently.
func TestTradeMixing(t *testing.T) {
	var worstSG, worstVolume float64
	for abv := 2.0; abv <= 12; abv += 1 {
		for fg := 1.004; fg <= 1.0201; fg += 0.008 {
			beer := must(FromABV(Label{ABVPct: abv, FG: fg}, 10))(t)
			for share := 0.05; share <= 0.5; share += 0.05 {
				water := must(Tea{VolumeL: 10 * share, TempC: 20}.Portion())(t)
				mixed := beer.Plus(water)
				rule := 1 + (fg-1)/(1+share)
				worstSG = max(worstSG, math.Abs(mixed.SG()-rule))
				worstVolume = max(worstVolume, math.Abs(mixed.VolumeL()/(10*(1+share))-1))
			}
		}
	}
	closeTo(t, "largest difference in gravity", worstSG, 0.0005, 0.00005)
	closeTo(t, "largest difference in volume", 100*worstVolume, 0.049, 0.001)
}
