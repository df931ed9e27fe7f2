package ledger

import (
	"reflect"
	"testing"

	"hedgerow/dilution"
	"hedgerow/trials"
)

// A liquid written into a record and read back is the same, limits too.
func TestLiquidsAsRecords(t *testing.T) {
	cases := map[string]struct{ in, out Liquid }{
		"water with its limit": {
			Liquid{Kind: "water", VolumeL: limited(0.6, 0.01), TempC: ptr(80.0)},
			Liquid{Kind: "water", VolumeL: limited(0.6, 0.01), TempC: ptr(80.0)}},
		"tincture": {
			Liquid{Kind: "spirit", VolumeL: about(0.25), StrengthPct: limited(60, 1), SolidsGPerL: about(10)},
			Liquid{Kind: "spirit", VolumeL: about(0.25), StrengthPct: limited(60, 1), SolidsGPerL: about(10)}},
		"wort is kept as juice": {
			Liquid{Kind: "wort", VolumeL: about(1), Plato: about(12), FermentsPct: about(80)},
			Liquid{Kind: "juice", VolumeL: about(1), Plato: about(12), FermentsPct: about(80)}},
		"beer": {
			Liquid{Kind: "beer", VolumeL: about(2), OG: about(1.060), FG: about(1.014)},
			Liquid{Kind: "beer", VolumeL: about(2), OG: about(1.060), FG: about(1.014)}},
		"weighed juice of known gravity": {
			Liquid{Kind: "juice", MassG: limited(1000, 5), Plato: limited(12, 0.5)},
			Liquid{Kind: "juice", MassG: limited(1000, 5), Plato: limited(12, 0.5)}},
		"honey": {
			Liquid{Kind: "honey", MassG: about(500)},
			Liquid{Kind: "honey", MassG: about(500)}},
	}
	for name, c := range cases {
		var a trials.Addition
		FillLiquid(&a, c.in)
		if got := asLiquid(a); !reflect.DeepEqual(got, c.out) {
			t.Errorf("%s became %+v", name, got)
		}
	}
}

// Juice of known gravity: 1.050 is 12.39746 P (SPS-4, inverted independently).
func TestJuiceByItsGravity(t *testing.T) {
	var a trials.Addition
	FillLiquid(&a, Liquid{Kind: "juice", VolumeL: about(1), SG: limited(1.050, 0.002)})
	near(t, "extract", *a.Plato, 12.39746, 1e-5)
	// About 250 P for a unit of gravity (0.001 SG is 0.25 P, page on dilution).
	near(t, "its limit", Liquid{SG: limited(1.050, 0.002)}.platoOf().HalfWidth, 0.5, 1e-9)
}

// A correction from one kind to another leaves nothing of the first behind.
func TestFillingAgainLeavesNothingBehind(t *testing.T) {
	var a, fresh trials.Addition
	FillLiquid(&a, Liquid{Kind: "spirit", VolumeL: limited(0.25, 0.01), StrengthPct: about(60), SolidsGPerL: about(10),
		TempC: ptr(18.0)})
	FillLiquid(&a, Liquid{Kind: "sugar", MassG: about(500)})
	FillLiquid(&fresh, Liquid{Kind: "sugar", MassG: about(500)})
	if !reflect.DeepEqual(a, fresh) {
		t.Errorf("left behind: %+v", a)
	}
}

// Short words and full names mean the same sugars; an unknown one names near
// ones.
func TestSugarsByName(t *testing.T) {
	for word, want := range map[string]string{"sugar": "table sugar", "sucrose": "table sugar", "dextrose": "dextrose",
		"maple": "maple syrup", "agave": "agave syrup", "molasses": "molasses", "honey": "honey"} {
		if s, err := sugarNamed(word); err != nil || s.Name != want {
			t.Errorf("%s is %q, %v", word, s.Name, err)
		}
	}
	if _, err := sugarNamed("hony"); err == nil || err.(*trials.Problem).Hint != "did you mean honey?" {
		t.Errorf("hony: %v", err)
	}
}

// Limits are converted with their amounts: 500 +- 10 g of sugar, else 1 %; the
// sugar of fruit is known to a quarter (page on dilution, section 5).
func TestLimitsOfWeighedLiquids(t *testing.T) {
	materials := shipped(t)
	halves := func(l Liquid) map[string]float64 {
		in, _, err := liquidMaker{materials: materials, origins: origins{}}.steps(l)
		if err != nil {
			t.Fatal(err)
		}
		half := map[string]float64{}
		account := dilution.Account{Start: dilution.Start{VolumeL: dilution.Exactly(10),
			OG: dilution.ExactlyOrNone(ptr(1.05))}, Steps: []dilution.Step{in}}
		for _, x := range account.Inputs() {
			half[x.Name] = x.HalfWidth + x.SharedHalfWidth
		}
		return half
	}
	near(t, "as given", halves(Liquid{Kind: "sugar", MassG: limited(500, 10)})["mass of sugar"], 0.010, 1e-12)
	near(t, "by default", halves(Liquid{Kind: "sugar", MassG: about(500)})["mass of sugar"], 0.005, 1e-12)
	fruit := halves(Liquid{Kind: "material", Material: "raspberry", MassG: limited(2500, 50)})
	near(t, "mass of fruit", fruit["mass of raspberry"], 0.050, 1e-12)
	near(t, "sugar of fruit", fruit["sugar share of raspberry"], 0.25*0.0442, 1e-12)
}
