package quantity

import "testing"

// TestFactors reads one of every unit of testdata/check_units.csv, a table made
// independently from the definitions [1] [2] [3]; it holds 12 digits or more.
func TestFactors(t *testing.T) {
	covered := map[string]bool{}
	for _, row := range readTable(t, "check_units.csv", "unit,to,factor,status") {
		c, ok := factorCases[row[0]]
		if !ok {
			continue
		}
		covered[row[0]] = true
		got, err := c.parse(c.text)
		if err != nil {
			t.Errorf("%s: %v", row[0], err)
			continue
		}
		if want := mustFloat(t, row[2]); !near(got*c.perBase, want, 1e-12) {
			t.Errorf("%q is %.15g %s, want %.15g", c.text, got*c.perBase, row[1], want)
		}
	}
	for name := range factorCases {
		if !covered[name] {
			t.Errorf("the table has no row %q", name)
		}
	}
}

// factorCases are the texts for the rows of the table, and how many of its unit
// are in one base unit. Lengths, pressures, colours and CO2 are not read here.
var factorCases = map[string]struct {
	text    string
	parse   func(text string) (float64, error)
	perBase float64
}{
	"US gallon":                   {"1 US gal", litres, 1},
	"US liquid quart":             {"1 US quart", litres, 1},
	"US liquid pint":              {"1 US pint", litres, 1000},
	"US cup":                      {"1 US cup", litres, 1000},
	"US fluid ounce":              {"1 US fl oz", litres, 1000},
	"US tablespoon":               {"1 US tbsp", litres, 1000},
	"US teaspoon":                 {"1 US tsp", litres, 1000},
	"US beer barrel (31 US gal)":  {"1 US beer barrel", litres, 1},
	"imperial gallon":             {"1 imperial gallon", litres, 1},
	"imperial quart":              {"1 imp qt", litres, 1},
	"imperial pint":               {"1 UK pint", litres, 1000},
	"imperial fluid ounce":        {"1 imp fl oz", litres, 1000},
	"UK beer barrel (36 imp gal)": {"1 UK bbl", litres, 1},
	"avoirdupois pound":           {"1 lb", grams, 1},
	"avoirdupois ounce":           {"1 oz", grams, 1},
	"grain":                       {"1 grain", grams, 1000},
	"metric teaspoon":             {"1 metric tsp", litres, 1000},
	"metric tablespoon":           {"1 metric tbsp", litres, 1000},
	"oz per US gallon":            {"1 oz per US gallon", gramsPerLitre, 1},
	"oz per imperial gallon":      {"1 oz/imp gal", gramsPerLitre, 1},
	"lb per US gallon":            {"1 lb per US gal", gramsPerLitre, 1},
}

func litres(text string) (float64, error) {
	v, err := ParseVolume(text, Options{})
	return v.VolumeL.Value, err
}

func grams(text string) (float64, error) {
	m, err := ParseMass(text, Options{})
	return m.MassG.Value, err
}

func gramsPerLitre(text string) (float64, error) {
	d, err := ParseDose(text, Options{})
	return d.HighGPerL, err
}

// TestPlainUnits checks which unit a plain name means under each gallon, and
// that it is said. The litres are those of testdata/check_units.csv; that a
// British spoon is the metric one is from memory.
func TestPlainUnits(t *testing.T) {
	for _, c := range []struct {
		text    string
		us, imp float64
	}{
		{"1 gal", 3.785411784, 4.54609},
		{"4 qt", 3.785411784, 4.54609},
		{"1 fl oz", 0.0295735295625, 0.0284130625},
		{"1 tbsp", 0.01478676478125, 0.015},
		{"1 tsp", 0.00492892159375, 0.005},
		{"1 cup", 0.2365882365, 0.284130625},
		{"1 bbl", 117.347765304, 117.347765304},
	} {
		for gallon, want := range map[gallon]float64{us: c.us, Imperial: c.imp} {
			v, err := ParseVolume(c.text, Options{Gallon: gallon})
			if err != nil || !near(v.VolumeL.Value, want, 1e-12) {
				t.Errorf("%q with the %v gallon = %.12g, %v; want %.12g", c.text, gallon, v.VolumeL.Value, err, want)
			}
			if len(v.Assumptions) != 1 {
				t.Errorf("%q: assumptions %q, want one", c.text, v.Assumptions)
			}
		}
	}
	for _, text := range []string{"1 US gal", "1 imp gal", "12 L", "1 UK bbl", "1 metric cup"} {
		if v, err := ParseVolume(text, Options{}); err != nil || len(v.Assumptions) != 0 {
			t.Errorf("%q: assumptions %q, %v; want none", text, v.Assumptions, err)
		}
	}
}
