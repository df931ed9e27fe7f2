package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode"

	"hedgerow/trials/figure"

	"pgregory.net/rapid"
)

// reporter is what *testing.T and *rapid.T have in common here.
type reporter interface {
	Helper()
	Errorf(format string, args ...any)
}

// fuzzOptions are options under which every kind of unit can be read.
func fuzzOptions() Options {
	return Options{Spoons: coriander(), PlatoToSG: lincoln}
}

// checkRefusal reports whether err is nil, and checks an error for being one
// printable line with a hint.
func checkRefusal(t reporter, text string, err error) bool {
	t.Helper()
	if err == nil {
		return true
	}
	var e *Error
	if !errors.As(err, &e) || e.Hint == "" || e.Problem == "" {
		t.Errorf("%q: error %v without problem or hint", text, err)
		return false
	}
	unprintable := func(r rune) bool { return !unicode.IsPrint(r) }
	if strings.ContainsFunc(e.Error(), unprintable) || strings.ContainsFunc(e.Hint, unprintable) ||
		strings.Contains(e.Problem, "%!") {
		t.Errorf("%q: error %q, hint %q is not one plain line", text, e, e.Hint)
	}
	return false
}

// checkAccepted checks that an accepted number is finite and lies in a range,
// and that its limit is not negative.
func checkAccepted(t reporter, text string, l *figure.Limited, low, high float64) {
	t.Helper()
	if l == nil {
		return
	}
	if !(l.Value >= low && l.Value <= high) || !(l.HalfWidth >= 0 && l.HalfWidth <= math.MaxFloat64) || !l.HasLimit &&
		l.HalfWidth != 0 {
		t.Errorf("%q: accepted %+v, allowed %g to %g", text, *l, low, high)
	}
}

const tiny, huge = 1e-30, 1e15

func FuzzParseVolume(f *testing.F) {
	for _, s := range []string{"12L", "1 1/2 gal", "12L+-2%", "1 gal 2 qt", "½ imp pint", "1,500 mL", "half a gallon",
		"250+-2% mL"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) { checkAmounts(t, text) })
}

func checkAmounts(t reporter, text string) {
	v, err := ParseVolume(text, fuzzOptions())
	if checkRefusal(t, text, err) {
		checkAccepted(t, text, &v.VolumeL, tiny, huge)
	}
	m, err := ParseMass(text, fuzzOptions())
	if checkRefusal(t, text, err) {
		checkAccepted(t, text, &m.MassG, tiny, huge)
	}
}

func FuzzParseSingle(f *testing.F) {
	for _, s := range []string{"96C", "205F", "96C>60C", "1h30", "5d", "1.048", "12P", "1,048+-0.001", "60+-1%",
		"96C@0min,72C@20min"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) { checkSingles(t, text) })
}

func checkSingles(t reporter, text string) {
	if l, err := ParseTemperature(text); checkRefusal(t, text, err) {
		checkAccepted(t, text, &l, figure.TempMinC, figure.TempMaxC)
	}
	if s, err := ParseTempSpan(text); checkRefusal(t, text, err) && s.EndC != nil {
		checkAccepted(t, text, &figure.Limited{Value: *s.EndC}, figure.TempMinC, figure.TempMaxC)
	}
	if l, err := ParseDuration(text); checkRefusal(t, text, err) {
		checkAccepted(t, text, &l, tiny, 1e14)
	}
	if g, err := ParseGravity(text, lincoln); checkRefusal(t, text, err) {
		checkAccepted(t, text, &g.SG, figure.SGMin, figure.SGMax)
	}
	if l, err := ParsePercent(text); checkRefusal(t, text, err) {
		checkAccepted(t, text, &l, 0, 100)
	}
	if c, err := ParseCurve(text); checkRefusal(t, text, err) && len(c) < 2 {
		t.Errorf("%q: accepted a course of %d readings", text, len(c))
	}
}

func FuzzParseDose(f *testing.F) {
	for _, s := range []string{"3/4 oz per 5 gal", "10-15 g/L", "half a teaspoon per gallon",
		"2 tbsp (5 g) dried in 1 gal", "up to 2 oz per 5 gal",
		"1 lb 4 oz/bbl", "2 sticks (3 g each) per 5 gal (19 L)", "between 3 and 5 g/L",
		"an ounce or two per five-gallon batch", "50 ppm", "zest of one orange"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) { checkDose(t, text) })
}

func checkDose(t reporter, text string) {
	d, err := ParseDose(text, fuzzOptions())
	if !checkRefusal(t, text, err) {
		return
	}
	checkAccepted(t, text, &figure.Limited{Value: d.LowGPerL}, tiny, 1e30)
	checkAccepted(t, text, &figure.Limited{Value: d.HighGPerL}, d.LowGPerL, 1e30)
	if d.IsRange != (d.HighGPerL > d.LowGPerL) {
		t.Errorf("%q: %+v", text, d)
	}
}

func FuzzParseAddition(f *testing.F) {
	for _, s := range []string{"600mL water 80C", "500mL tea 8g/L", "250mL+-2% spirit 60+-1% 10+-5g/L",
		"500g sugar ferments=98%", "2.5kg raspberry retain=0.5+-0.25",
		"1L juice 12P", "2L beer og=1.050 fg=1.010", "1 lb 4 oz honey", "1L wort 1.048"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) { checkAddition(t, text) })
}

func checkAddition(t reporter, text string) {
	a, err := ParseAddition(text, fuzzOptions())
	if !checkRefusal(t, text, err) {
		return
	}
	if a.Kind == "" || (a.VolumeL == nil) == (a.MassG == nil) || (a.Kind == KindMaterial) == (a.Material == "") {
		t.Errorf("%q: %+v", text, a)
	}
	checkAccepted(t, text, a.VolumeL, tiny, huge)
	checkAccepted(t, text, a.MassG, tiny, huge)
	checkAccepted(t, text, a.StrengthPct, 0, 100)
	checkAccepted(t, text, a.FermentsPct, 0, 100)
	checkAccepted(t, text, a.SolidsGPerL, 0, 1000)
	checkAccepted(t, text, a.Plato, 0, 50)
	checkAccepted(t, text, a.RetainKgKg, 0, 10)
	for _, g := range []*figure.Limited{a.SG, a.OG, a.FG} {
		checkAccepted(t, text, g, figure.SGMin, figure.SGMax)
	}
	if a.TempC != nil {
		checkAccepted(t, text, &figure.Limited{Value: *a.TempC}, figure.TempMinC, figure.TempMaxC)
	}
}

func FuzzParsePass(f *testing.F) {
	for _, s := range []string{"400mL 96C>60C 30min drained", "400mL@96C 96>80C 1h30 stirred recovered=360mL bag",
		"1L 96C@0min,89C@5min,72C@20min held=40mL spent=120g sg=1.008 ph=2.7",
		"400 mL water at 96 C for 30 min, then squeezed", "400mL -2C 2d now and then"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) { checkPass(t, text) })
}

func checkPass(t reporter, text string) {
	p, err := ParsePass(text, fuzzOptions())
	if !checkRefusal(t, text, err) {
		return
	}
	checkAccepted(t, text, &p.VolumeL, tiny, huge)
	checkAccepted(t, text, &figure.Limited{Value: p.Minutes}, tiny, 1e14)
	for _, c := range append(p.Curve, figure.CurvePoint{TempC: p.StartC}) {
		checkAccepted(t, text, &figure.Limited{Value: c.TempC}, figure.TempMinC, figure.TempMaxC)
		checkAccepted(t, text, &figure.Limited{Value: c.Minutes}, 0, p.Minutes)
	}
	for _, c := range []*float64{p.EndC, p.VolumeTempC} {
		if c != nil {
			checkAccepted(t, text, &figure.Limited{Value: *c}, figure.TempMinC, figure.TempMaxC)
		}
	}
	checkAccepted(t, text, p.RecoveredL, 0, huge)
	checkAccepted(t, text, p.HeldL, 0, huge)
	checkAccepted(t, text, p.SpentG, tiny, huge)
	checkAccepted(t, text, p.TeaSG, figure.SGMin, figure.SGMax)
	checkAccepted(t, text, p.TeaPH, 0, 14)
}

// TestWordSalad joins words of the languages at random, which reaches deeper
// than random bytes do.
func TestWordSalad(t *testing.T) {
	words := strings.Fields(`1 2 5 10 0 0.5 1,5 1,500 3/4 1/2 ½ a an half quarter two and or to between up about ~ < >
		- + +- +-2% +-1 % L mL gal oz lb g kg mg tsp tbsp cup pint fl US imp UK bbl ppm C F P min h d weeks 96C 400mL
		30min 60% 8g/L 12P 1.048
		per / in for each of ( ) , @ = water tea spirit sugar honey juice beer raspberry retain= og= fg= ferments=
		held= recovered= spent= sg= ph=
		drained squeezed stirred bag fresh dried batch handful heads sticks tincture 1h30 96C@0min,72C@20min`)
	rapid.Check(t, func(t *rapid.T) {
		text := ""
		for _, w := range rapid.SliceOfN(rapid.SampledFrom(words), 1, 9).Draw(t, "words") {
			text += w + rapid.SampledFrom([]string{" ", " ", ""}).Draw(t, "space")
		}
		for _, check := range []func(reporter, string){checkAmounts, checkSingles, checkDose, checkAddition, checkPass} {
			check(t, text)
		}
	})
}
