package quantity

import (
	"math"
	"testing"

	"hedgerow/trials/figure"
)

// limited is a number with a limit; without one the half-width is 0.
type limited struct {
	text        string
	value, half float64
}

// checkLimited compares l with a case by hand calculation.
func checkLimited(t *testing.T, c limited, l figure.Limited, err error) {
	t.Helper()
	if err != nil {
		t.Error(err)
		return
	}
	if !near(l.Value, c.value, 1e-9) || math.Abs(l.HalfWidth-c.half) > 1e-9 || l.HasLimit != (c.half > 0) {
		t.Errorf("%q = %g +- %g (limit %t), want %g +- %g", c.text, l.Value, l.HalfWidth, l.HasLimit, c.value, c.half)
	}
}

// The expected figures of this file are worked out by hand from the factors in
// testdata/check_units.csv.

func TestParseVolume(t *testing.T) {
	for _, c := range []limited{
		{"12L", 12, 0},
		{"12 l", 12, 0},
		{"12 Litres", 12, 0},
		{" 600 mL ", 0.6, 0},
		{"600ml", 0.6, 0},
		{"33 cl", 0.33, 0},
		{"1,5 L", 1.5, 0},
		{"0,250 L", 0.25, 0},
		{".5 L", 0.5, 0},
		{"½ L", 0.5, 0},
		{"1 hL", 100, 0},
		{"2.5 gal", 9.46352946, 0},
		{"1 1/2 gal", 5.678117676, 0},
		{"1½ gal", 5.678117676, 0},
		{"1-1/2 gallons", 5.678117676, 0},
		{"a gallon", 3.785411784, 0},
		{"half a gallon", 1.892705892, 0},
		{"three quarters of a gallon", 2.839058838, 0},
		{"two and a half gallons", 9.46352946, 0},
		{"five gallons", 18.92705892, 0},
		{"1 imp gal", 4.54609, 0},
		{"1 UK gal", 4.54609, 0},
		{"1 U.K. gallon", 4.54609, 0},
		{"1 gallon (UK)", 4.54609, 0},
		{"1 gal imperial", 4.54609, 0},
		{"1 British quart", 1.1365225, 0},
		{"1 US pint", 0.473176473, 0},
		{"1 pint (imperial)", 0.56826125, 0},
		{"8 fl. oz.", 0.2365882365, 0},
		{"8 fluid ounces", 0.2365882365, 0},
		{"1 gal 2 qt", 5.678117676, 0},
		{"1 bbl", 117.347765304, 0},
		{"12L+-0.2L", 12, 0.2},
		{"12L±0.2", 12, 0.2},
		{"12 +/- 0.2 L", 12, 0.2},
		{"12L ± 200mL", 12, 0.2},
		{"250mL+-2%", 0.25, 0.005},
		{"250+-2% mL", 0.25, 0.005},
		{"1 gal 2 qt +- 10%", 5.678117676, 0.5678117676},
		{"12L+-12L", 12, 12},
	} {
		v, err := ParseVolume(c.text, Options{})
		checkLimited(t, c, v.VolumeL, err)
	}
}

func TestParseVolumeRefuses(t *testing.T) {
	for _, c := range []struct{ text, hint string }{
		{"", "12L"},
		{"   ", "12L"},
		{"12", "12L"},
		{"L", "12L"},
		{"a lot", "12L"},
		{"0L", "above zero"},
		{"0.0 L", "above zero"},
		{"-1L", "above zero"},
		{"−1 L", "above zero"},
		{"1 pint", "US pint"},
		{"2 pts", "imp pint"},
		{"12 oz", "fl oz"},
		{"12kg", "12L"},
		{"12C", "12L"},
		{"12%", "12L"},
		{"5 g/L", "12L"},
		{"12 lters", "liters"},
		{"12 gallns", "gallons"},
		{"12 furlongs", "12L"},
		{"12 Lx", "12L"},
		{"1 metric gal", "mL or L"},
		{"1,500 mL", "without the comma"},
		{"1,000,000 mL", "without grouping"},
		{"1.2.3 L", "without grouping"},
		{"1/0 L", "3/4"},
		{"1 1/0 L", "3/4"},
		{"2 5/4 L", "12L"},
		{"2 0/4 L", "12L"},
		{"1/99999999999 L", "check the number"},
		{"99999999999/2 L", "check the number"},
		{"1 99999999999/2 L", "check the number"},
		{"12L+-1,500", "without the comma"},
		{"12+-1,500 L", "without the comma"},
		{"12L+-1 pint", "US pint"},
		{"12+-1 pint", "US pint"},
		{"12+-1% pint", "US pint"},
		{"1 gal 2 pints", "US pint"},
		{"1 gal 2,500 qt", "without the comma"},
		{"1e3 L", "12L"},
		{"12L 3", "only the volume"},
		{"12L water", "only the volume"},
		{"12L 500mL", "only the volume"},
		{"10-12 L", "one number"},
		{"12L+-", "12L"},
		{"12L+--1L", "12L+-0.2L"},
		{"12L+-13L", "12L+-0.2L"},
		{"12L+-101%", "12L+-0.2L"},
		{"12L+-3g", "same unit"},
		{"99999999999 L", "check the number"},
		{"0.0000000000001 L", "check the number"},
		{"12L#", "12L"},
		{"12\x00L", "12L"},
		{"1e400 L", "12L"},
		{"NaN L", "12L"},
		{"Inf", "12L"},
		{string(make([]byte, 5000)) + "1", "12L"},
	} {
		_, err := ParseVolume(c.text, Options{})
		wantError(t, c.text, err, c.hint)
	}
}

func TestParseMass(t *testing.T) {
	for _, c := range []limited{
		{"36g", 36, 0},
		{"28 grams", 28, 0},
		{"0.5 kg", 500, 0},
		{"0,5 kg", 500, 0},
		{"250 mg", 0.25, 0},
		{"1 oz", 28.349523125, 0},
		{"1 1/2 oz", 42.5242846875, 0},
		{"3/4 oz", 21.26214234375, 0},
		{"½ oz", 14.1747615625, 0},
		{"⅛ oz", 3.543690390625, 0},
		{"1⅓ lb", 604.789826667, 0},
		{"3⁄4 oz", 21.26214234375, 0},
		{"2 lbs", 907.18474, 0},
		{"1 lb 4 oz", 566.9904625, 0},
		{"1lb4oz", 566.9904625, 0},
		{"a pound", 453.59237, 0},
		{"half an ounce", 14.1747615625, 0},
		{"1/2 an ounce", 14.1747615625, 0},
		{"40g+-1g", 40, 1},
		{"40g+-2.5%", 40, 1},
		{"1 lb 4 oz +- 1 oz", 566.9904625, 28.349523125},
		{"3 tsp", 5.4, 0},
		{"half a teaspoon", 0.9, 0},
		{"2 tbsp", 10, 0},
		{"2 tbsp +-10%", 10, 1},
		{"2 tbsp +-1 tsp", 10, 1.8},
	} {
		m, err := ParseMass(c.text, Options{Spoons: coriander()})
		checkLimited(t, c, m.MassG, err)
	}
}

func TestParseMassRefuses(t *testing.T) {
	for _, c := range []struct{ text, hint string }{
		{"40", "40g"},
		{"0g", "above zero"},
		{"-5g", "above zero"},
		{"2 fl oz", "weigh it"},
		{"1 cup", "weigh it"},
		{"250 mL", "weigh it"},
		{"1 pint", "must be weighed"},
		{"a handful", "weigh it"},
		{"handful", "weigh it"},
		{"half a carrier bag", "weigh it"},
		{"10 flower heads", "strip"},
		{"2 cinnamon sticks", "weigh the pieces"},
		{"zest of 2 lemons", "weigh the pieces"},
		{"3 drops", "weigh it"},
		{"96C", "40g"},
		{"3 tsp", "weigh 10 level teaspoons of coriander"},
		{"1 T", "tbsp"},
		{"1 oz per 5 gal", "only the mass"},
		{"5 g/L", "40g"},
		{"some", "40g"},
		{"5 g/pint", "US pint"},
		{"2 tbsp+-1 cup", "same unit"},
	} {
		_, err := ParseMass(c.text, Options{Spoons: SpoonWeights{Material: "coriander"}})
		wantError(t, c.text, err, c.hint)
	}
}

// TestSpoonFromOther checks 1 tbsp = 3 tsp where only one weight is known, and
// that a weight that cannot be is refused.
func TestSpoonFromOther(t *testing.T) {
	weight, zero, nan := 6.0, 0.0, math.NaN()
	m, err := ParseMass("1 tbsp", Options{Spoons: SpoonWeights{GramsPerTsp: &weight}})
	checkLimited(t, limited{"1 tbsp", 18, 0}, m.MassG, err)
	m, err = ParseMass("1 tsp", Options{Spoons: SpoonWeights{GramsPerTbsp: &weight}})
	checkLimited(t, limited{"1 tsp", 2, 0}, m.MassG, err)
	for _, bad := range []*float64{&zero, &nan} {
		_, err = ParseMass("1 tsp", Options{Spoons: SpoonWeights{GramsPerTsp: bad}})
		wantError(t, "1 tsp", err, "weigh 10")
	}
}
