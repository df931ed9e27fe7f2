package dilution

import (
	"strings"
	"testing"
)

// TestCO2Table holds co2_table.csv: the columns computed independently from
// Weiss to their rounding, and the published beer formula, which implies factors
// of 0.93 to 0.97 against water (Liger-Belair [19]; computed independently).
func TestCO2Table(t *testing.T) {
	tab := readTable(t, "co2_table.csv", "t_C,K0_water_mol_L_atm,S_water_g_L_bar,"+
		"residual_vol_water_1atm,residual_vol_beer_0.94_1atm,published_beer_formula_g_L_bar(crosscheck)")
	for _, row := range tab.rows {
		tempC, _ := tab.num(t, row, "t_C")
		s, _ := tab.num(t, row, "S_water_g_L_bar")
		water, _ := tab.num(t, row, "residual_vol_water_1atm")
		beer, _ := tab.num(t, row, "residual_vol_beer_0.94_1atm")
		formula, _ := tab.num(t, row, "published_beer_formula_g_L_bar(crosscheck)")
		closeTo(t, "solubility", co2Solubility(tempC), s, 6e-5)
		g := gas{TempC: tempC, PressureBar: barPerAtm, BeerFactor: 1}
		closeTo(t, "residual, water", must(residualCO2Volumes(g))(t), water, 6e-5)
		g.BeerFactor = BeerCO2Factor
		closeTo(t, "residual, beer", must(residualCO2Volumes(g))(t), beer, 6e-5)
		if f := formula / co2Solubility(tempC); f < 0.93 || f > 0.971 {
			t.Errorf("published beer formula at %g C implies a factor of %g", tempC, f)
		}
	}
}

// TestCO2Yields holds the yields of CO2, by hand: 0.9565/2.0665 = 0.4629 g/g by
// Balling, at most 0.4886 from hexose and 0.5143 from sucrose (stoichiometry),
// and 1.9770 g/L in a volume.
func TestCO2Yields(t *testing.T) {
	closeTo(t, "Balling", CO2PerExtract, 0.4629, 5e-5)
	closeTo(t, "sucrose", CO2PerDisaccharide, 0.5143, 5e-5)
	closeTo(t, "volume", co2GramsPerVolume, 1.9770, 5e-5)
}

// TestCO2OfPoint: each 0.001 of gravity still to ferment is 2.14 g/L of extract
// and 0.50 volumes, at most 0.56 (computed independently).
func TestCO2OfPoint(t *testing.T) {
	og, now, final := Exactly(1.048), Exactly(1.011), Exactly(1.010)
	a := Account{Start: Start{VolumeL: Exactly(1), OG: &og, NowSG: &now, FinalSG: &final}}
	beer := must(a.Run())(t)[0].State
	left, _ := beer.fermentableKg()
	gas, ok := beer.CO2ToCome()
	if !ok {
		t.Fatal("CO2 to come is not known")
	}
	closeTo(t, "extract, g/L", 1000*left, 2.14, 0.006)
	closeTo(t, "volumes", gas.ExpectedVolumes, 0.50, 0.006)
	closeTo(t, "most volumes", gas.UpperVolumes, 0.56, 0.006)
}

// TestPrimingPressure: 0.25 kg of sucrose in 19 L of beer make 6.05 g/L = 3.06
// volumes, at most 3.40, on top of the residual (computed independently), in
// the volume when it has fermented out.
func TestPrimingPressure(t *testing.T) {
	beer := must(FromGravities(Gravities{OG: 1.048, FG: 1.010}, 19))(t)
	primed := beer.Plus(must(Sugars()[0].Weighed(0.25).Portion())(t))
	rating := 3.0
	got := must(Pressure(Packaging{Beer: primed, WarmestC: 20, StorageC: 25, RatingBar: &rating}))(t)
	closeTo(t, "g/L", got.ToCome.ExpectedGPerL, 6.05, 0.006)
	closeTo(t, "volumes", got.ToCome.ExpectedVolumes, 3.06, 0.006)
	closeTo(t, "most volumes", got.ToCome.UpperVolumes, 3.40, 0.006)
	// Residual in water at 20 C: 0.870 (section 5).
	closeTo(t, "residual", got.ResidualVolumes, 0.870, 0.0006)
	// 0.94*0.870 + 3.058 volumes at 25 C by hand: 3.876*1.977/(0.94*1.4753).
	closeTo(t, "expected pressure", got.ExpectedBar, 5.526, 0.005)
	// Upper bound by hand: (0.8704+3.3974)*1.9770/(0.888*1.4753), with the lowest
	// solubility 0.94 - 0.052.
	closeTo(t, "upper pressure", got.UpperBar, 6.441, 0.002)
	if got.AboveRating == nil || !*got.AboveRating {
		t.Errorf("above the rating %v", got.AboveRating)
	}
	plain := must(Pressure(Packaging{Beer: beer.WithCO2Volumes(0.8), StorageC: 25}))(t)
	closeTo(t, "known CO2 is used", plain.ResidualVolumes, 0.8, 1e-12)
	if plain.AboveRating != nil {
		t.Error("a package without a rating was judged")
	}
}

// TestFlatLiquid: still water dilutes the CO2 by volume.
func TestFlatLiquid(t *testing.T) {
	beer := must(FromGravities(Gravities{OG: 1.048, FG: 1.010}, 10))(t).WithCO2Volumes(0.9)
	mixed := beer.Plus(must(Tea{VolumeL: 1, TempC: 20}.Portion())(t))
	got, ok := mixed.co2Volumes()
	if !ok {
		t.Fatal("CO2 became unknown")
	}
	closeTo(t, "volumes", got, 0.9*10/mixed.VolumeL(), 1e-12)
}

// TestWarmAndSaturate: warming lets gas go, cooling brings none back.
func TestWarmAndSaturate(t *testing.T) {
	og, fg, water := Exactly(1.048), Exactly(1.010), Exactly(1)
	a := Account{
		Start: Start{VolumeL: Exactly(10), OG: &og, NowSG: &fg, Finished: true},
		Steps: []Step{
			Saturate{TempC: Exactly(10), BeerFactor: &water},
			Warm{To: Saturate{TempC: Exactly(20), BeerFactor: &water}},
			Warm{To: Saturate{TempC: Exactly(4), BeerFactor: &water}},
		},
	}
	snaps := must(a.Run())(t)
	// Residual in water at 1 atm: 10 C 1.195, 20 C 0.870 (section 5).
	for i, want := range []float64{1.1945, 0.8704, 0.8704} {
		got, ok := snaps[i+1].State.co2Volumes()
		if !ok {
			t.Fatal("CO2 is not known")
		}
		closeTo(t, "volumes", got, want, 6e-5)
	}
}

// TestGasRefusals: gas out of range, and sugar of unknown amount.
func TestGasRefusals(t *testing.T) {
	if _, err := residualCO2Volumes(gas{TempC: 50, PressureBar: 1, BeerFactor: 1}); err == nil {
		t.Error("50 C was taken")
	}
	if _, err := residualCO2Volumes(gas{TempC: 20, PressureBar: -1, BeerFactor: 1}); err == nil {
		t.Error("a negative pressure was taken")
	}
	if _, err := equilibriumPressureBar(-1, gas{TempC: 20, BeerFactor: 1}); err == nil {
		t.Error("negative CO2 was taken")
	}
	if _, ok := (State{}).CO2ToCome(); ok {
		t.Error("nothing makes gas")
	}
	w := must(Wort(1.05, 10))(t)
	if _, err := Pressure(Packaging{Beer: w, WarmestC: 20, StorageC: 20}); err == nil ||
		!strings.Contains(err.Error(), "how far it ferments") {
		t.Errorf("unknown sugar: error %v", err)
	}
}
