package dilution

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestFermentMassBalance: per g of ethanol 1.0665 g leave as CO2 and yeast, and
// water stays (Balling).
func TestFermentMassBalance(t *testing.T) {
	w := must(Wort(1.060, 20))(t)
	after := must(w.Ferment(1.5))(t)
	closeTo(t, "water", after.WaterKg, w.WaterKg, 0)
	closeTo(t, "ethanol", after.EthanolKg, 1.5/2.0665, 1e-15)
	closeTo(t, "mass lost", w.MassKg()-after.MassKg(), 1.0665*1.5/2.0665, 1e-14)
	closeTo(t, "original gravity", after.OriginalSG(), 1.060, 1e-12)
}

// TestFermentTo: fermenting to a gravity lands on it and keeps the original
// gravity, also after water went in.
func TestFermentTo(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		w, err := Wort(rapid.Float64Range(1.03, 1.11).Draw(rt, "og"), 20)
		if err != nil {
			rt.Fatal(err)
		}
		w = w.Plus(State{WaterKg: rapid.Float64Range(0, 10).Draw(rt, "water")})
		og := w.OriginalSG()
		to := w.SG() - rapid.Float64Range(0, 0.9).Draw(rt, "share")*(w.SG()-1)
		after, rose, err := w.FermentTo(to)
		if err != nil || rose {
			rt.Fatalf("rose %v, error %v", rose, err)
		}
		if math.Abs(after.SG()-to) > 1e-12 || math.Abs(after.OriginalSG()-og) > 1e-12 {
			rt.Errorf("gravity %g, want %g; original %g, want %g", after.SG(), to, after.OriginalSG(), og)
		}
	})
}

// TestGravityRose: a gravity above the present one keeps the state and says so;
// the present one again does not.
func TestGravityRose(t *testing.T) {
	beer := must(FromGravities(Gravities{OG: 1.050, FG: 1.012}, 20))(t)
	after, rose, err := beer.FermentTo(1.014)
	if err != nil || !rose || after != beer {
		t.Errorf("rose %v, error %v", rose, err)
	}
	if _, rose, err = beer.FermentTo(1.012); err != nil || rose {
		t.Errorf("same gravity again: rose %v, error %v", rose, err)
	}
	if _, _, err = beer.FermentTo(0.98); err == nil {
		t.Error("a gravity without extract left was taken")
	}
	if _, _, err = beer.FermentTo(12); err == nil {
		t.Error("a gravity of 12 was taken")
	}
}

// TestSugarAnyTime: sugar before or after fermentation gives the same end, and
// 20 L of 1.048 wort (base FG 1.010) with 0.5 kg sucrose ends as a separate
// program computed independently: equivalent OG 1.05670, FG 1.00785,
// 6.41 % vol, 20.21 L.
func TestSugarAnyTime(t *testing.T) {
	sugar := must(Sugars()[0].Weighed(0.5).Portion())(t)
	wort := must(Wort(1.048, 20))(t)
	base, _, err := wort.FermentTo(1.010)
	if err != nil {
		t.Fatal(err)
	}
	late, ok := base.finished().Plus(sugar).Finish()
	if !ok {
		t.Fatal("final gravity of the base is not known")
	}
	early := must(wort.Plus(sugar).Ferment(wort.ExtractKg - base.ExtractKg + 0.5))(t)
	closeTo(t, "ethanol late and early", late.EthanolKg, early.EthanolKg, 1e-12)
	closeTo(t, "extract late and early", late.ExtractKg, early.ExtractKg, 1e-12)
	closeTo(t, "equivalent original gravity", late.OriginalSG(), 1.05670, 6e-6)
	closeTo(t, "final gravity", late.SG(), 1.00785, 6e-6)
	closeTo(t, "strength", late.ABVPct(), 6.41, 0.006)
	closeTo(t, "volume", late.VolumeL(), 20.21, 0.025)
}

// TestFinishUnknown: without a final gravity nothing is assumed.
func TestFinishUnknown(t *testing.T) {
	w := must(Wort(1.050, 10))(t)
	if after, ok := w.Finish(); ok || after != w {
		t.Error("a wort of unknown final gravity was fermented")
	}
	if _, ok := w.fermentableKg(); ok {
		t.Error("fermentable extract is given as known")
	}
}
