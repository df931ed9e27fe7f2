package quantity

import (
	"strings"
	"testing"
)

// The expected doses of this file are worked out by hand from the factors in
// testdata/check_units.csv.

func TestParseDose(t *testing.T) {
	const ozPer5gal = 28.349523125 / 18.92705892
	const perGal = 1 / 3.785411784
	for _, c := range []struct {
		text      string
		low, high float64
	}{
		{"10 g/L", 10, 10},
		{"10g/l", 10, 10},
		{"10 g / L", 10, 10},
		{"1,5 g/L", 1.5, 1.5},
		{"10 grams per litre", 10, 10},
		{"10-15 g/L", 10, 15},
		{"10–15 g/L", 10, 15},
		{"10g-15g/L", 10, 15},
		{"10g to 15g per L", 10, 15},
		{"3 to 5 g/L", 3, 5},
		{"from 3 to 5 g/L", 3, 5},
		{"between 3 and 5 g/L", 3, 5},
		{"1 or 2 g/L", 1, 2},
		{"an ounce or two per 5 gal", ozPer5gal, 2 * ozPer5gal},
		{"an ounce and a half per 5 gal", 1.5 * ozPer5gal, 1.5 * ozPer5gal},
		{"two oz and a quarter per 5 gal", 2.25 * ozPer5gal, 2.25 * ozPer5gal},
		{"5 oz per two gallons and a half", 10 * ozPer5gal, 10 * ozPer5gal},
		{"10+-5 g/L", 5, 15},
		{"10+-20% g/L", 8, 12},
		{"about 3 g/L", 3, 3},
		{"~3 g/L", 3, 3},
		{"approx. 3 g/L", 3, 3},
		{"12 g/hL", 0.12, 0.12},
		{"1 kg/hL", 10, 10},
		{"50 mg/L", 0.05, 0.05},
		{"50 ppm", 0.05, 0.05},
		{"3/4 oz per 5 gal", 0.75 * ozPer5gal, 0.75 * ozPer5gal},
		{"3/4oz/5gal", 0.75 * ozPer5gal, 0.75 * ozPer5gal},
		{"¾ oz per 5 gal.", 0.75 * ozPer5gal, 0.75 * ozPer5gal},
		{"0.5-1 oz per 5 gal", 0.5 * ozPer5gal, ozPer5gal},
		{"1/2-1 oz per 5 gal", 0.5 * ozPer5gal, ozPer5gal},
		{"half an ounce to an ounce per 5 gal", 0.5 * ozPer5gal, ozPer5gal},
		{"1-1/2 oz per 5 gal", 1.5 * ozPer5gal, 1.5 * ozPer5gal},
		{"1 1/2 to 2 oz per 5 gal", 1.5 * ozPer5gal, 2 * ozPer5gal},
		{"one and a half oz per 5 gal", 1.5 * ozPer5gal, 1.5 * ozPer5gal},
		{"1 oz crushed in 5 gal", ozPer5gal, ozPer5gal},
		{"1 oz. in a 5-gallon batch", ozPer5gal, ozPer5gal},
		{"an ounce per five-gallon batch", ozPer5gal, ozPer5gal},
		{"add 1 oz to 5 gal of wort", ozPer5gal, ozPer5gal},
		{"1 oz for each 5 gallons", ozPer5gal, ozPer5gal},
		{"1 oz a gallon", 28.349523125 * perGal, 28.349523125 * perGal},
		{"1 lb 4 oz per 5 US gal", 20 * ozPer5gal, 20 * ozPer5gal},
		{"1 oz per imp gal", 28.349523125 / 4.54609, 28.349523125 / 4.54609},
		{"1 oz per gallon (UK)", 28.349523125 / 4.54609, 28.349523125 / 4.54609},
		{"1 oz per 5 gal (23 L)", 28.349523125 / 23, 28.349523125 / 23},
		{"20 g in 4 to 5 L", 4, 5},
		{"1 lb/bbl", 453.59237 / 117.347765304, 453.59237 / 117.347765304},
		{"3 lb per barrel", 3 * 453.59237 / 117.347765304, 3 * 453.59237 / 117.347765304},
		{"1 lb per UK bbl", 453.59237 / 163.65924, 453.59237 / 163.65924},
		{"a teaspoon per gallon", 1.8 * perGal, 1.8 * perGal},
		{"half a teaspoon per gallon", 0.9 * perGal, 0.9 * perGal},
		{"an eighth tsp per 5 gal", 0.225 / 18.92705892, 0.225 / 18.92705892},
		{"two teaspoons per gallon", 3.6 * perGal, 3.6 * perGal},
		{"1-2 tsp per gallon", 1.8 * perGal, 3.6 * perGal},
		{"1 tsp to 1 tbsp per gallon", 1.8 * perGal, 5 * perGal},
		{"2 tbsp (8 g) in 1 L", 8, 8},
		{"2 sticks (3 g each) in 2 L", 3, 3},
		{"1-2 sticks (about 3 g each) in 1 L", 3, 6},
		{"1 pint (30 g) of flowers for 6 L", 5, 5},
		{"a handful (20-30 g) in 10 L", 2, 3},
		{"2 vanilla beans (6 g, split) in 6 L", 1, 1},
		{"20 g in a batch of 20 L", 1, 1},
		{"20 g per batch of 20 L", 1, 1},
	} {
		d, err := ParseDose(c.text, Options{Spoons: coriander()})
		switch {
		case err != nil:
			t.Error(err)
		case !near(d.LowGPerL, c.low, 1e-9) || !near(d.HighGPerL, c.high, 1e-9):
			t.Errorf("%q = %g to %g g/L, want %g to %g", c.text, d.LowGPerL, d.HighGPerL, c.low, c.high)
		case d.IsRange != (c.low != c.high):
			t.Errorf("%q: range %t", c.text, d.IsRange)
		case d.UpTo || d.PerTea:
			t.Errorf("%q: up to %t, per tea %t", c.text, d.UpTo, d.PerTea)
		}
	}
}

func TestParseDoseRefuses(t *testing.T) {
	for _, c := range []struct{ text, hint string }{
		{"1 oz and a bit per 5 gal", "in figures"},
		{"1 oz per 5 gal, twice", "in figures"},
		{"1 oz heaped per 5 gal", "in figures"},
		{"", "1.5 g/L"},
		{"g/L", "1.5 g/L"},
		{"lots", "1.5 g/L"},
		{"1 oz", "per 5 gal"},
		{"5 per gal", "1.5 g/L"},
		{"1 oz per batch", "per 5 gal"},
		{"1 oz per", "per 5 gal"},
		{"1 oz per 5", "per 5 gal"},
		{"1 oz per 5 gl", "gal"},
		{"1 oz per 5 galons", "gallons"},
		{"1 oz per bottle", "per 5 gal"},
		{"3 oz per lb of grain", "per 5 gal"},
		{"1 oz per day", "per 5 gal"},
		{"1 oz per pint", "US pint"},
		{"1 tsp per gal", "weigh 10 level teaspoons of heather"},
		{"2 fl oz per gal", "weigh"},
		{"1 mL per L", "weigh"},
		{"1 cup of tincture per gal", "tincture"},
		{"1%", "g/L"},
		{"a pinch per gal", "weigh it"},
		{"3 sprigs in 5 L", "weigh it"},
		{"5 furlongs per gal", "1.5 g/L"},
		{"5 grms per L", "grams"},
		{"96C per L", "1.5 g/L"},
		{"0 g/L", "above zero"},
		{"-1 g/L", "above zero"},
		{"0-5 g/L", "up to"},
		{"1 oz per 0 gal", "above zero"},
		{"1 oz per -5 gal", "above zero"},
		{"5-3 g/L", "smaller figure first"},
		{"5 g to 3 g per L", "smaller figure first"},
		{"10+-10 g/L", "range"},
		{"10+--1 g/L", "12L+-2%"},
		{"at least 5 g/L", "range"},
		{"> 5 g/L", "range"},
		{"1 oz dried or 4 oz fresh per 5 gal", "on its own"},
		{"1 oz dried fresh per 5 gal", "on their own"},
		{"10 g/L or 20 g/L", "on its own"},
		{"10 g/L or 20", "on its own"},
		{"10 g/L 12P", "on its own"},
		{"10 g/L and 2 pints", "US pint"},
		{"10 g/L for 1,500 min", "without the comma"},
		{"5 months per gal", "weeks"},
		{"10+-1,500 g/L", "without the comma"},
		{"1-1,500 g/L", "without the comma"},
		{"1 lb 1,500 oz per gal", "without the comma"},
		{"1 oz to 1 pint per gal", "US pint"},
		{"1 oz (1,500 mg) per gal", "without the comma"},
		{"1 oz (1 month) per gal", "weeks"},
		{"1 oz (dried", "close the bracket"},
		{"1 oz (dried, fresh) per gal", "on their own"},
		{"1 oz per 1,500 gal", "without the comma"},
		{"1 oz per gal (1,500 mL)", "without the comma"},
		{"1 oz per gal (1 pint)", "US pint"},
		{"10 g/L mL", "1.5 g/L"},
		{"1 oz tsp per gal", "1.5 g/L"},
		{"1 oz 2 tsp per gal", "weigh 10 level teaspoons"},
		{"1 oz 2 kg per gal", "on its own"},
		{"1,500 g/hL", "without the comma"},
		{"5 g/L/L", "1.5 g/L"},
		{"1 oz (5 g per gal", "1.5 g/L"},
		{"1 oz (5 g / 2) per gal", "in brackets"},
		{"1 oz (5 g", "close the bracket"},
		{"5 ppm per L", "5 mg/L"},
		{"1 oz @ 5 gal", "1.5 g/L"},
		{"half per gallon", "1.5 g/L"},
	} {
		_, err := ParseDose(c.text, Options{Spoons: SpoonWeights{Material: "heather"}})
		wantError(t, c.text, err, c.hint)
	}
}

// TestDoseWords checks what is noted besides the number.
func TestDoseWords(t *testing.T) {
	for _, c := range []struct {
		text         string
		basis        string
		upTo, perTea bool
		assumptions  string // joined, in part
		warnings     string // joined, in part; empty for none
	}{
		{"48 g fresh in 19 L", basisFresh, false, false, "", ""},
		{"10 g/L fresh", basisFresh, false, false, "", ""},
		{"10 g/L (dried)", basisDry, false, false, "", ""},
		{"2 tbsp (10 g) dried in 1 gal", basisDry, false, false, "weight in brackets is used, 10 g", ""},
		{"2 tbsp (5 g) in 1 gal", "", false, false, "in brackets", "differs from the amount before it (10 g)"},
		{"up to 2 oz per 5 gal", "", true, false, "US gal", ""},
		{"at most 3 g/L", "", true, false, "", ""},
		{"max. 3 g/L", "", true, false, "", ""},
		{"<3 g/L", "", true, false, "", ""},
		{"30 g per litre of tea", "", false, true, "", "how much of it goes into how much beer"},
		{"30 g in 1 L boiling water", "", false, true, "", "how much of it"},
		{"10 g per 100 mL vodka", "", false, true, "", "how much of it"},
		{"10 g/L tea leaves", "", false, false, "", "not used in the conversion: tea"},
		{"30 g per litre of beer", "", false, false, "", ""},
		{"30 g coriander seed in 20 L", "", false, false, "", ""},
		{"30 g wormwood in 20 L", "", false, false, "", "not used in the conversion: wormwood"},
		{"1 oz per 5 gal for 5 days in secondary", "", false, false, "US gal", "for 5 days in secondary"},
		{"1 oz per 5 gal (19 L)", "", false, false, "volume in brackets is used, 19 L", ""},
		{"1 tsp per gal (3.8 L)", "", false, false, "a level tsp of coriander seed weighs 1.8 g", ""},
		{"2 kg per L", "", false, false, "", "check the units"},
		{"1 g/L at 60 C for 30 min", "", false, false, "", "at 60 c for 30 min"},
		{"1 lb/bbl", "", false, false, "US beer barrel", ""},
		{"5 ppm", "", false, false, "mg/L", ""},
	} {
		d, err := ParseDose(c.text, Options{Spoons: coriander()})
		if err != nil {
			t.Error(err)
			continue
		}
		if d.BasisWord != c.basis || d.UpTo != c.upTo || d.PerTea != c.perTea || d.AsWritten != c.text {
			t.Errorf("%q = %+v", c.text, d)
		}
		assumptions, warnings := strings.Join(d.Assumptions, "; "), strings.Join(d.Warnings, "; ")
		if !strings.Contains(assumptions, c.assumptions) || c.assumptions == "" && assumptions != "" {
			t.Errorf("%q assumes %q, want %q", c.text, assumptions, c.assumptions)
		}
		if !strings.Contains(warnings, c.warnings) || c.warnings == "" && warnings != "" {
			t.Errorf("%q warns %q, want %q", c.text, warnings, c.warnings)
		}
	}
}

// TestDoseGallon checks the factor of 1.2 between the gallons, and that no
// assumption is made where the text is plain.
func TestDoseGallon(t *testing.T) {
	us, err := ParseDose("1 oz per 5 gal", Options{})
	if err != nil {
		t.Fatal(err)
	}
	imp, err := ParseDose("1 oz per 5 gal", Options{Gallon: Imperial})
	if err != nil {
		t.Fatal(err)
	}
	if ratio := us.LowGPerL / imp.LowGPerL; !near(ratio, 4.54609/3.785411784, 1e-12) {
		t.Errorf("US to imperial is %g, want 1.20095", ratio)
	}
	if !strings.Contains(imp.Assumptions[0], "imperial") || !strings.Contains(us.Assumptions[0], "US") {
		t.Errorf("assumptions %q and %q", us.Assumptions, imp.Assumptions)
	}
}
