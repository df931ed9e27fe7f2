package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// drawn draws a number with up to two decimals, so that no comma can be taken
// for a grouping mark.
func drawn(t *rapid.T, label string) (float64, string) {
	v := float64(rapid.IntRange(1, 99999).Draw(t, label)) / 100
	return v, strconv.FormatFloat(v, 'f', -1, 64)
}

// TestProportional checks that n of a unit are n times one of it, for every name
// of every volume and mass, written with a point or a comma, close to the unit
// or apart from it.
func TestProportional(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, text := drawn(t, "n")
		if rapid.Bool().Draw(t, "comma") {
			text = strings.Replace(text, ".", ",", 1)
		}
		gap := rapid.SampledFrom([]string{"", " ", "  "}).Draw(t, "gap")
		u := rapid.SampledFrom(fixedUnits).Draw(t, "unit")
		name := rapid.SampledFrom(u.words).Draw(t, "name")
		var got, want float64
		var err error
		switch u.unit.dim {
		case volume:
			var v volumeRead
			v, err = ParseVolume(text+gap+name, Options{})
			got, want = v.VolumeL.Value, n*u.unit.scale
		case mass:
			var m massRead
			m, err = ParseMass(text+gap+strings.ToUpper(name), Options{})
			got, want = m.MassG.Value, n*u.unit.scale
		default:
			return
		}
		if err != nil || !near(got, want, 1e-12) {
			t.Errorf("%q = %g, %v; want %g", text+gap+name, got, err, want)
		}
	})
}

// TestGallons checks that the imperial gallon is 1.20095 US ones wherever a plain
// one stands: 4.54609 / 3.785411784, testdata/check_units.csv.
func TestGallons(t *testing.T) {
	const ratio = 4.54609 / 3.785411784
	rapid.Check(t, func(t *rapid.T) {
		_, mass := drawn(t, "mass")
		_, gallons := drawn(t, "gallons")
		text := fmt.Sprintf("%s oz per %s %s", mass, gallons, rapid.SampledFrom([]string{"gal", "gallons", "quarts",
			"qt"}).Draw(t, "name"))
		us, err := ParseDose(text, Options{})
		if err != nil {
			t.Fatal(err)
		}
		imp, err := ParseDose(text, Options{Gallon: Imperial})
		if err != nil {
			t.Fatal(err)
		}
		if !near(us.LowGPerL/imp.LowGPerL, ratio, 1e-12) || len(us.Assumptions) != 1 ||
			us.Assumptions[0] == imp.Assumptions[0] {
			t.Errorf("%q is %+v or %+v", text, us, imp)
		}
	})
}

// TestDoseRange checks that a range of doses is the doses of its ends, and that
// more beer never raises a dose.
func TestDoseRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, aText := drawn(t, "a")
		b, bText := drawn(t, "b")
		if b < a {
			a, b, aText, bText = b, a, bText, aText
		}
		litres, lText := drawn(t, "litres")
		joint := rapid.SampledFrom([]string{"-", " - ", " to ", " or ", "g-", " g to "}).Draw(t, "joint")
		d, err := ParseDose(aText+joint+bText+" g in "+lText+" L", Options{})
		if err != nil || !near(d.LowGPerL, a/litres, 1e-9) || !near(d.HighGPerL, b/litres, 1e-9) {
			t.Errorf("%s%s%s g in %s L = %+v, %v", aText, joint, bText, lText, d, err)
		}
		more, err := ParseDose(aText+" g in "+strconv.FormatFloat(litres+1, 'f', 2, 64)+" L", Options{})
		if err != nil || more.LowGPerL >= d.LowGPerL {
			t.Errorf("one litre more: %g g/L after %g, %v", more.LowGPerL, d.LowGPerL, err)
		}
	})
}

// TestOrderIsFree checks that the parts of an addition and of a pass may stand in
// any order.
func TestOrderIsFree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.Permutation([]string{"250mL+-2%", "spirit", "60+-1%", "10+-5g/L", "@20C"}).Draw(t, "addition")
		a, err := ParseAddition(strings.Join(parts, " "), Options{})
		if want := "spirit at 20 L=0.25+-0.005 %=60+-1 g/L=10+-5"; err != nil || describe(a) != want {
			t.Errorf("%q = %s, %v; want %s", parts, describe(a), err, want)
		}
		parts = rapid.Permutation([]string{"400mL", "96C>60C", "30min", "stirred", "squeezed", "bag", "held=40mL"}).Draw(t,
			"pass")
		p, err := ParsePass(strings.Join(parts, " "), Options{})
		if want := "0.4 L 96>60 30 min stirred squeezed bag held=0.04"; err != nil || describePass(p) != want {
			t.Errorf("%q = %s, %v; want %s", parts, describePass(p), err, want)
		}
	})
}

// TestLimitSpellings checks that a limit means the same before and after the
// unit.
func TestLimitSpellings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, vText := drawn(t, "value")
		pct, pText := drawn(t, "per cent")
		half := v * pct / 100
		if half > v {
			return
		}
		for _, text := range []string{vText + "mL+-" + pText + "%", vText + "+-" + pText + "% mL", vText + " mL +/- " +
			pText + " %", vText + "mL±" + pText + "%"} {
			l, err := ParseVolume(text, Options{})
			if err != nil || math.Abs(l.VolumeL.HalfWidth-half/1000) > 1e-9*half {
				t.Errorf("%q = %+v, %v; want +- %g", text, l.VolumeL, err, half/1000)
			}
		}
	})
}

// TestWordsAreFigures checks that numbers in words mean what they say.
func TestWordsAreFigures(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{
		{"one litre", 1},
		{"two litres", 2},
		{"ten litres", 10},
		{"twelve litres", 12},
		{"a litre", 1},
		{"an L", 1},
		{"half a litre", 0.5},
		{"a half litre", 0.5},
		{"one half litre", 0.5},
		{"half litre", 0.5},
		{"one-half litre", 0.5},
		{"a quarter of a litre", 0.25},
		{"quarter litre", 0.25},
		{"three quarters of a litre", 0.75},
		{"three-quarters litre", 0.75},
		{"two thirds of a litre", 2.0 / 3},
		{"an eighth of a litre", 0.125},
		{"one and a half litres", 1.5},
		{"two and a quarter litres", 2.25},
		{"2 and a half litres", 2.5},
		{"1/8 of a litre", 0.125},
		{"five-litre", 5},
		{"5-litre", 5},
	} {
		v, err := ParseVolume(c.text, Options{})
		if err != nil || !near(v.VolumeL.Value, c.want, 1e-12) {
			t.Errorf("%q = %g, %v; want %g", c.text, v.VolumeL.Value, err, c.want)
		}
	}
	_, err := ParseVolume("zero litres", Options{})
	wantError(t, "zero litres", err, "above zero")
}
