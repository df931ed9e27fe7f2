package dilution

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestHotWater holds, by hand from the density of water (Kell [2]): 0.6 L of water measured at
// 80 C is 0.5831 kg and 0.5841 L at 20 C.
func TestHotWater(t *testing.T) {
	s := must(Tea{VolumeL: 0.6, TempC: 80}.Portion())(t)
	closeTo(t, "mass", s.MassKg(), 0.5831, 5e-5)
	closeTo(t, "volume at 20 C", s.VolumeL(), 0.5841, 5e-5)
	closeTo(t, "volume at 80 C", must(s.VolumeAtL(80))(t), 0.6, 1e-12)
}

// TestColdBeer: beer at 4 C occupies 0.99775 of its volume at 20 C (section 5).
func TestColdBeer(t *testing.T) {
	beer := must(FromGravities(Gravities{OG: 1.048, FG: 1.010}, 10))(t)
	closeTo(t, "share", must(beer.VolumeAtL(4))(t)/10, 0.99775, 6e-5)
	if _, err := beer.VolumeAtL(60); err == nil || !strings.Contains(err.Error(), "40 C") {
		t.Errorf("beer at 60 C: error %v", err)
	}
}

// TestTeaSolids: 5 g/L of solubles give SG 1.0019, and the volume as measured
// holds them (section 5).
func TestTeaSolids(t *testing.T) {
	s := must(Tea{VolumeL: 1, TempC: 20, SolidsGPerL: 5}.Portion())(t)
	closeTo(t, "gravity", s.SG(), 1.0019, 6e-5)
	closeTo(t, "volume", s.VolumeL(), 1, 1e-12)
	closeTo(t, "extract", s.ExtractKg, 0.005, 0)
	closeTo(t, "unfermentable", s.UnfermentableKg, 0.005, 0)
}

// TestTeaFitsItsVolume: at any temperature and strength the masses fill the
// volume that was measured.
func TestTeaFitsItsVolume(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		tea := Tea{
			VolumeL:     rapid.Float64Range(0.01, 20).Draw(rt, "volume"),
			TempC:       rapid.Float64Range(0, 100).Draw(rt, "temperature"),
			SolidsGPerL: rapid.Float64Range(0, 400).Draw(rt, "solids"),
		}
		s, err := tea.Portion()
		if err != nil {
			rt.Fatal(err)
		}
		v, err := s.VolumeAtL(tea.TempC)
		if err != nil || !nearly(v, tea.VolumeL) {
			rt.Errorf("%g L came back as %g L, error %v", tea.VolumeL, v, err)
		}
	})
}

// TestSpirits holds, computed independently from R 22 and SPS-4, 10 L of 1.048/1.010 with
// 1 L of spirit at 20 C: at 40 % vol 11.0022 L and SG 1.00433; at 60 % the volume
// is 0.11 % below the sum, at 96 % 0.66 %; 2 L at 96 %: 1.3 %.
func TestSpirits(t *testing.T) {
	cases := []struct{ litres, abv, shrinkPct, tolerance float64 }{
		{1, 60, 0.11, 0.006},
		{1, 96, 0.66, 0.006},
		{2, 96, 1.3, 0.06},
	}
	beer := must(FromGravities(Gravities{OG: 1.048, FG: 1.010}, 10))(t)
	for _, c := range cases {
		mixed := beer.Plus(must(Spirit{VolumeL: c.litres, TempC: 20, ABVPct: c.abv}.Portion())(t))
		closeTo(t, "shrinkage in %", 100*(1-mixed.VolumeL()/(10+c.litres)), c.shrinkPct, c.tolerance)
		if !mixed.notes().has(NoteSpirit) {
			t.Error("a beer with spirit has an original gravity that is not called an equivalent")
		}
	}
	mixed := beer.Plus(must(Spirit{VolumeL: 1, TempC: 20, ABVPct: 40}.Portion())(t))
	closeTo(t, "volume", mixed.VolumeL(), 11.0022, 6e-5)
	closeTo(t, "gravity", mixed.SG(), 1.00433, 6e-6)
}

// TestSpiritIsItself: a portion of spirit has the strength and volume it was
// given as.
func TestSpiritIsItself(t *testing.T) {
	for abv := 0.0; abv <= 100; abv += 2.5 {
		s := must(Spirit{VolumeL: 0.7, TempC: 20, ABVPct: abv}.Portion())(t)
		closeTo(t, "strength", s.ABVPct(), abv, 1e-7)
		closeTo(t, "volume", s.VolumeL(), 0.7, 1e-9)
	}
}

// TestSugarInWort holds, computed independently from SPS-4: table sugar adds 0.619 L/kg
// in wort, and 20 L of 1.048 with 1 kg come to 1.06512.
func TestSugarInWort(t *testing.T) {
	mixed := must(Wort(1.048, 20))(t).Plus(must(Sugars()[0].Weighed(1).Portion())(t))
	closeTo(t, "volume added", mixed.VolumeL()-20, 0.619, 0.0006)
	closeTo(t, "gravity", mixed.SG(), 1.06512, 6e-6)
}

// TestSugarsTable holds the make-up of the syrups against fruit_usda_sr.csv, and
// dextrose against 180.16/198.17 = 90.9 % glucose, by hand.
func TestSugarsTable(t *testing.T) {
	rows := map[string]string{
		"honey": "honey", "maple syrup": "maple syrup (Canadian)", "agave syrup": "agave syrup", "molasses": "molasses",
	}
	tab := readTable(t, "fruit_usda_sr.csv", usdaHeader)
	found := 0
	for _, s := range Sugars() {
		if s.Name == "dextrose" {
			closeTo(t, "glucose in dextrose", s.Sugar, 0.909, 0.0006)
		}
		for _, row := range tab.rows {
			if rows[s.Name] == "" || tab.text(row, "name") != rows[s.Name] {
				continue
			}
			found++
			water, _ := tab.num(t, row, "water_pct")
			sugar, _ := tab.num(t, row, "sugars_pct")
			other, _ := tab.num(t, row, "derived_nonferm_soluble_pct")
			closeTo(t, s.Name+" water", 100*s.Water, water, 1e-9)
			closeTo(t, s.Name+" sugar", 100*s.Sugar, sugar, 1e-9)
			closeTo(t, s.Name+" other solubles", 100*s.Nonfermentable, other, 1e-9)
		}
		if _, err := s.Weighed(1).Portion(); err != nil {
			t.Errorf("%s: %v", s.Name, err)
		}
	}
	if found != len(rows) {
		t.Errorf("%d of %d syrups are in the table", found, len(rows))
	}
}

// usdaHeader is the header of fruit_usda_sr.csv.
const usdaHeader = "usda_ndb,name,usda_desc,water_pct,sugars_pct,carb_pct,fibre_pct,ash_pct,protein_pct," +
	"fat_pct,derived_nonferm_soluble_pct,derived_insoluble_pct,derived_soluble_solids_of_liquid_pct"

// TestFruitTable: every fruit of the USDA table makes a portion whose liquid has
// the soluble solids that the table derives.
func TestFruitTable(t *testing.T) {
	tab := readTable(t, "fruit_usda_sr.csv", usdaHeader)
	held := 0
	for _, row := range tab.rows {
		water, _ := tab.num(t, row, "water_pct")
		sugar, ok := tab.num(t, row, "sugars_pct")
		if !ok {
			continue // no sugar figure in the table
		}
		other, _ := tab.num(t, row, "derived_nonferm_soluble_pct")
		solids, _ := tab.num(t, row, "derived_soluble_solids_of_liquid_pct")
		f := crushedFruit{MassKg: 1, Water: water / 100, Sugar: sugar / 100, Nonfermentable: other / 100, Extraction: 1,
			Fermentability: 1}
		s, err := f.Portion()
		if err != nil {
			t.Errorf("%s: %v", tab.text(row, "name"), err)
			continue
		}
		held++
		closeTo(t, tab.text(row, "name"), s.realExtractPct(), solids, 0.0051)
	}
	if held < 28 {
		t.Errorf("only %d fruits held", held)
	}
}

// TestFruitShares: the extraction fraction takes all solubles and water alike,
// and what does not ferment stays.
func TestFruitShares(t *testing.T) {
	f := crushedFruit{MassKg: 2, Water: 0.8, Sugar: 0.1, Nonfermentable: 0.02, Extraction: 0.5, Fermentability: 0.9}
	s := must(f.Portion())(t)
	closeTo(t, "water", s.WaterKg, 0.8, 1e-15)
	closeTo(t, "extract", s.ExtractKg, 0.12, 1e-15)
	closeTo(t, "unfermentable", s.UnfermentableKg, 0.02+0.01, 1e-15)
	// 0.08 kg/kg insoluble of 2 kg at 1.5 kg/L.
}

// TestJuice: a juice measured at 20 C has its Plato and its volume; a must of
// 10 % is 1038.1 kg/m3 as sucrose (SPS-4, computed independently).
func TestJuice(t *testing.T) {
	s := must(juice{VolumeL: 2, TempC: 20, Plato: 10, Fermentability: 0.95}.Portion())(t)
	closeTo(t, "volume", s.VolumeL(), 2, 1e-12)
	closeTo(t, "extract", s.realExtractPct(), 10, 1e-12)
	closeTo(t, "density", s.MassKg()/2, 1.0381, 5e-5)
	closeTo(t, "unfermentable", s.UnfermentableKg, 0.05*s.ExtractKg, 1e-12)
}

// TestHotJuice: a juice measured hot is less when cold, alone and in an account.
func TestHotJuice(t *testing.T) {
	hot := must(juice{VolumeL: 2, TempC: 60, Plato: 12, Fermentability: 1}.Portion())(t)
	// 1030.0183 kg/m3: check row of 12 P at 60 C.
	closeTo(t, "mass", hot.MassKg(), 2*1.0300183, 1e-6)
	og, tempC := Exactly(1.050), Exactly(60)
	a := Account{
		Start: Start{VolumeL: Exactly(10), OG: &og},
		Steps: []Step{Add{AddJuice{VolumeL: Exactly(2), TempC: &tempC, Plato: Exactly(12)}}},
	}
	snaps := must(a.Run())(t)
	closeTo(t, "mass added", snaps[1].State.MassKg()-snaps[0].State.MassKg(), 2*1.0300183, 1e-6)
}

// TestBlend: two halves of one beer make that beer.
func TestBlend(t *testing.T) {
	og, fg, ibu := Exactly(1.055), Exactly(1.012), Exactly(35)
	half := Start{VolumeL: Exactly(10), OG: &og, NowSG: &fg, Finished: true, IBU: &ibu}
	snaps := must(Account{Start: half, Steps: []Step{Add{AddBeer{half}}}}.Run())(t)
	closeTo(t, "volume", snaps[1].State.VolumeL(), 20, 1e-9)
	closeTo(t, "gravity", snaps[1].State.SG(), 1.012, 1e-12)
	got, _ := snaps[1].State.IBU()
	closeTo(t, "bitterness", got, 35, 1e-9)
}

// TestLabelStart: a bought beer known by strength and gravity can be the start
// and be blended in; its strength has no model uncertainty.
func TestLabelStart(t *testing.T) {
	abv, now := Within("printed strength", 6.5, 0.3), Within("gravity", 1.011, 0.001)
	bought := Start{VolumeL: Exactly(5), ABVPct: &abv, NowSG: &now, Finished: true}
	a := Account{Start: bought, Steps: []Step{Add{AddBeer{bought}}}}
	results := must(a.MonteCarlo(Draws{N: 1000, Seed: 1}))(t)
	closeTo(t, "strength", results[1].State.ABVPct(), 6.5, 1e-9)
	if results[0].Estimates[QABV].U != results[0].Estimates[QABVInputs].U {
		t.Error("a printed strength was given the model's uncertainty")
	}
}

// TestPortionRefusals: additions that cannot be.
func TestPortionRefusals(t *testing.T) {
	type portion interface{ Portion() (State, error) }
	fruit := crushedFruit{MassKg: 1, Water: 0.85, Sugar: 0.1, Nonfermentable: 0.01, Extraction: 1, Fermentability: 1}
	sweet, half := fruit, fruit
	sweet.Sugar = 0.2
	half.Extraction = 50
	cases := []struct {
		p    portion
		says string
	}{
		{Tea{VolumeL: 0, TempC: 20}, "volume in litres 0 must be above zero"},
		{Tea{VolumeL: 1, TempC: 130}, "temperature of the liquid 130"},
		{Tea{VolumeL: 1, TempC: 20, SolidsGPerL: -1}, "solids in g/L -1"},
		{juice{VolumeL: 1, TempC: 20, Plato: 90}, "degrees Plato 90"},
		{juice{VolumeL: 1, TempC: 20, Plato: 12, Fermentability: 75}, "5 % is 0.05"},
		{Spirit{VolumeL: 1, TempC: 20, ABVPct: 101}, "strength in % vol 101 is outside 0 to 100"},
		{Spirit{VolumeL: 1, TempC: 60, ABVPct: 40}, "40 C or less"},
		{sweet, "more than the solids 0.15"},
		{half, "extracted share 50"},
		{crushedFruit{Water: 0.9}, "mass in kg 0"},
	}
	for _, c := range cases {
		if _, err := c.p.Portion(); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: error %v, want one with %q", c.p, err, c.says)
		}
	}
}
