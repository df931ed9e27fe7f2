package dilution

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestUnitsTable holds every factor of units.csv (NIST Handbook 44 and the
// imperial gallon, exact) to its printed digits.
func TestUnitsTable(t *testing.T) {
	tab := readTable(t, "units.csv", "unit,to,factor,status")
	for _, row := range tab.rows {
		from, to := tab.text(row, "unit"), tab.text(row, "to")
		if from == "degF offset" {
			// Its factor is a formula: (F-32)/1.8.
			closeTo(t, from, must(Convert(Conversion{Value: 212, From: from, To: to}))(t), 100, 1e-12)
			continue
		}
		want, _ := tab.num(t, row, "factor")
		got := must(Convert(Conversion{Value: 1, From: from, To: to}))(t)
		closeTo(t, from, got, want, 1e-11*want)
	}
}

// TestConvertThereAndBack: a conversion and its reverse return the value.
func TestConvertThereAndBack(t *testing.T) {
	pairs := [][2]string{{"US gal", "imperial gal"}, {"oz", "kg"}, {"F", "K"}, {"psi", "bar"}, {"EBC", "SRM"}, {"oz/US gal", "lb/US bbl"}}
	rapid.Check(t, func(rt *rapid.T) {
		pair := rapid.SampledFrom(pairs).Draw(rt, "units")
		v := rapid.Float64Range(-100, 1000).Draw(rt, "value")
		there, err := Convert(Conversion{Value: v, From: pair[0], To: pair[1]})
		if err != nil {
			rt.Fatal(err)
		}
		back, err := Convert(Conversion{Value: there, From: pair[1], To: pair[0]})
		if err != nil {
			rt.Fatal(err)
		}
		if math.Abs(back-v) > 1e-9 {
			rt.Errorf("%g %s became %g", v, pair[0], back)
		}
	})
}

// TestConvertRefusals: ambiguous, unknown and unlike units.
func TestConvertRefusals(t *testing.T) {
	for _, name := range []string{"gal", "gallon", "pint", "fl oz", "tsp", "handful", ""} {
		if _, err := Convert(Conversion{Value: 1, From: name, To: "L"}); err == nil || !strings.Contains(err.Error(), "say which") {
			t.Errorf("%q: error %v", name, err)
		}
	}
	if _, err := Convert(Conversion{Value: 1, From: "L", To: "cask"}); err == nil {
		t.Error("cask was taken")
	}
	if _, err := Convert(Conversion{Value: 1, From: "oz", To: "L"}); err == nil || !strings.Contains(err.Error(), "do not convert") {
		t.Errorf("oz to L: error %v", err)
	}
}
