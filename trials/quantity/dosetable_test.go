package quantity

import (
	"math"
	"strings"
	"testing"
)

// TestPhrases reads every phrase of testdata/phrases.csv and its variants. The
// factors there were worked out by hand from the formula beside them.
func TestPhrases(t *testing.T) {
	rows := readTable(t, "phrases.csv", "phrase,variants,factor_to_g_per_l,formula,seen_in,note")
	for _, row := range rows {
		phrase, variants, factor := row[0], row[1], row[2]
		if examples, ok := refusedPhrases[phrase]; ok {
			for _, e := range examples {
				_, err := ParseDose(e.text, Options{})
				wantError(t, e.text, err, e.hint)
			}
			continue
		}
		if factor == "" {
			examples, ok := spoonPhrases[phrase]
			if !ok {
				t.Errorf("phrase %q has no expected value and no expected error", phrase)
			}
			checkSpoonPhrases(t, examples)
			continue
		}
		texts := strings.Split(phrase, ", ")
		if variants != "" {
			texts = append(texts, strings.Split(variants, "; ")...)
		}
		for _, text := range texts {
			checkFactor(t, text, mustFloat(t, factor))
		}
	}
}

// checkFactor checks that one of a phrase is the factor of the table, which has
// six digits.
func checkFactor(t *testing.T, phrase string, factor float64) {
	t.Helper()
	d, err := ParseDose("1 "+phrase, Options{})
	if err != nil {
		t.Errorf("%v", err)
		return
	}
	if !near(d.LowGPerL, factor, 6e-6) || d.HighGPerL != d.LowGPerL {
		t.Errorf("1 %s = %g to %g g/L, want %g", phrase, d.LowGPerL, d.HighGPerL, factor)
	}
}

// refusedPhrases are examples of the phrases that cannot be converted, with what
// the hint must say. Most are the variants of the table.
var refusedPhrases = map[string][]struct{ text, hint string }{
	"cup per gallon": {{"1/6 cup loose fresh per gallon", "weigh"}, {"1 cup per gallon", "weigh"}},
	"each (bean, stick, nut, pod, zest of one fruit)": {
		{"1 vanilla bean", "weigh"},
		{"half a cinnamon stick", "weigh"},
		{"zest of one orange", "weigh"},
		{"1 nutmeg", "weigh"},
		{"2 vanilla beans per 5 gal", "weigh"}, {"the zest of 2 oranges in 20 L", "weigh"}, {"1 each per gal", "weigh"}},
	"flower heads": {{"heads of elderflower", "strip"}, {"20 heads of elderflower in 5 L",
		"strip"}, {"15 flower heads per gallon", "strip"}},
	"pint, carrier bag, handful, armful": {{"pint of flowers", "weigh"}, {"1 pint of flowers for 6 L", "weigh"},
		{"half a carrier bag", "weigh"}, {"a handful per gallon", "weigh"}, {"an armful in 20 L", "weigh"}},
	"percent of extract":    {{"10 % of extract from fruit", "g/L"}},
	"percent of grain bill": {{"5% of grain bill", "g/L"}, {"5 percent of the grain", "g/L"}},
	"cubes or square inches of wood": {{"72 cubes per gallon", "weigh the wood"}, {"54 sq in per gallon",
		"weigh the wood"}, {"54 square inches per gal", "weigh the wood"}},
	"mL of tincture per batch": {{"2.6-2.7 fl oz of tincture in 4.5 gal", "weigh the material"},
		{"20 mL of tincture in 19 L", "weigh the material"}},
}

// spoonPhrases are examples of the phrases that need a spoon weight, with the
// grams per litre that coriander seed gives: 1.8 g/tsp and 5 g/tbsp over the
// volumes of testdata/check_units.csv, by hand.
var spoonPhrases = map[string][]struct {
	text   string
	gPerL  float64
	perTea bool
}{
	"tsp per 5 US gal": {{"1 tsp per 5 US gal", 1.8 / 18.92705892, false}, {"1 teaspoon in a five-gallon batch",
		1.8 / 18.92705892, false}},
	"tsp per US gal": {{"1 tsp per US gal", 1.8 / 3.785411784, false}, {"a teaspoon per gallon", 1.8 / 3.785411784,
		false}},
	"tbsp per batch": {{"2 tbsp in 1 gal", 10 / 3.785411784, false}, {"1 tablespoon per 20 L", 0.25, false}},
	"strength of a tea": {{"8 tbsp per gallon of water", 40 / 3.785411784, true}, {"40 g per litre of tea", 40, true},
		{"10 g in 500 mL water", 20, true}},
}

// checkSpoonPhrases reads spoon measures with and without a spoon weight.
func checkSpoonPhrases(t *testing.T, examples []struct {
	text   string
	gPerL  float64
	perTea bool
}) {
	t.Helper()
	for _, e := range examples {
		d, err := ParseDose(e.text, Options{Spoons: coriander()})
		if err != nil || !near(d.LowGPerL, e.gPerL, 1e-9) || d.PerTea != e.perTea {
			t.Errorf("%q = %g g/L, per tea %t, %v; want %g, %t", e.text, d.LowGPerL, d.PerTea, err, e.gPerL, e.perTea)
		}
		if strings.Contains(e.text, "sp") {
			_, err = ParseDose(e.text, Options{})
			wantError(t, e.text, err, "weigh 10 level teaspoons")
		}
	}
}

// TestAdvice reads advice as people publish it, testdata/advice.csv; the figures
// there were worked out by hand and rounded to two or three digits.
func TestAdvice(t *testing.T) {
	spoons := map[string]SpoonWeights{"coriander-seed": coriander(), "allspice": groundAllspice()}
	for _, row := range readTable(t, "advice.csv", "material_key,as_written,phrase,value,base,g_per_l,source_id") {
		text, want := row[1], row[5]
		opt := Options{Spoons: spoons[row[0]]}
		if strings.Contains(row[2], "UK gal") {
			opt.Gallon = Imperial // the page is a British one
		}
		d, err := ParseDose(text, opt)
		if want == "" {
			wantError(t, text, err, "weigh")
			continue
		}
		if err != nil {
			t.Error(err)
			continue
		}
		low, high, isRange := strings.Cut(want, "-")
		if !isRange {
			high = low
		}
		// 48 g in 19 L is 2.526 and given as 2.5, so half a unit of the last digit.
		lowOK := math.Abs(d.LowGPerL-mustFloat(t, low)) <= lastDigit(low)*1.0001
		highOK := math.Abs(d.HighGPerL-mustFloat(t, high)) <= lastDigit(high)*1.0001
		if !lowOK || !highOK || d.IsRange != isRange || d.AsWritten != text {
			t.Errorf("%q = %+v, want %s g/L", text, d, want)
		}
		if base := strings.TrimSuffix(row[4], "not stated"); d.BasisWord != "" && d.BasisWord != base {
			t.Errorf("%q is on a %q basis, want %q", text, d.BasisWord, base)
		}
	}
}

// groundAllspice is item 02001 of testdata/spoons.csv.
func groundAllspice() SpoonWeights {
	tsp, tbsp := 1.9, 6.0
	return SpoonWeights{Material: "ground allspice", GramsPerTsp: &tsp, GramsPerTbsp: &tbsp}
}

// TestClaims reads the invented advice of the demonstration; the figures are by
// hand: 28.349523125 g / 18.92705892 L = 1.49783 g/L.
func TestClaims(t *testing.T) {
	want := map[string][2]float64{"1 oz per 5 gal": {1.49783, 1.49783}, "12 g/L": {12, 12}, "3 to 5 g/L": {3, 5}}
	for _, row := range readTable(t, "claims.csv", "material_key,as_written,basis,heard_from") {
		d, err := ParseDose(row[1], Options{})
		w, ok := want[row[1]]
		if err != nil || !ok || !near(d.LowGPerL, w[0], 1e-6) || !near(d.HighGPerL, w[1], 1e-6) {
			t.Errorf("%q = %g to %g, %v; want %v", row[1], d.LowGPerL, d.HighGPerL, err, w)
		}
	}
}

// TestSpoonTable weighs one spoon of every food of testdata/spoons.csv.
func TestSpoonTable(t *testing.T) {
	for _, row := range readTable(t, "spoons.csv", "food,measure,g_per_measure,bulk_density_g_per_ml,source_id,note") {
		grams := mustFloat(t, row[2])
		spoon, _, _ := strings.Cut(row[1], ",")
		spoon, _, _ = strings.Cut(spoon, " ")
		weights := SpoonWeights{Material: row[0], GramsPerTsp: &grams}
		if spoon == "tbsp" {
			weights = SpoonWeights{Material: row[0], GramsPerTbsp: &grams}
		}
		m, err := ParseMass("3 "+spoon, Options{Spoons: weights})
		if err != nil || !near(m.MassG.Value, 3*grams, 1e-12) || len(m.Assumptions) != 1 {
			t.Errorf("3 %s of %s = %+v, %v; want %g g", spoon, row[0], m, err, 3*grams)
		}
	}
}
