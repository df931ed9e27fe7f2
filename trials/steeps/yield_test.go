package steeps

import (
	"encoding/json"
	"strings"
	"testing"

	"hedgerow/extraction"
	"hedgerow/trials"
)

// yielded works out what an extract gives in a notebook of its own.
func yielded(t testing.TB, x trials.Extract, earlier ...trials.Extract) Yield {
	t.Helper()
	n := &trials.Notebook{Extracts: append(earlier, x), Now: day(60)}
	y, err := OfExtract(n, shipped(t), x)
	if err != nil {
		t.Fatal(err)
	}
	return y
}

// Case A of the page: 749.6 mL carry 28 x 0.95 x 0.972169 = 25.860 g. With no
// measured strength 0.30 of the dry matter that came out is dissolved (common
// practice, no source): 0.30 x 25.2 x 0.972169 / 0.7496 = 9.805 g/L, 0.15 to
// 0.45 of it within the limits.
func TestYieldOfATea(t *testing.T) {
	y := yielded(t, heatherTea())
	near(t, "liquid", y.LiquidL, 0.7496, 1e-6)
	near(t, "carried", y.Grams[0].Value, 25.8597, 1e-3)
	near(t, "solids", y.SolidsGPerL, 9.805, 1e-3)
	near(t, "limit of the solids", y.SolidsHalf, 9.805/2, 1e-2)
	// sd of the last held liquid, 50.4 mL x 0.25, as a rectangular half-width.
	near(t, "limit of the liquid", y.LiquidHalfL, 0.0504*0.25*1.7320508, 1e-6)
	if y.Grams[0].Low >= y.Grams[0].Value || y.Grams[0].High <= y.Grams[0].Value {
		t.Errorf("carried %g to %g", y.Grams[0].Low, y.Grams[0].High)
	}
}

// 360 mL recovered at 80 C are 350.473 mL at 20 C (Kell's water densities); 49.5
// mL stay. Measured liquid is surer than assumed.
func TestRecoveredLiquidTakesThePlaceOfTheDefault(t *testing.T) {
	x := heatherTea()
	x.Passes[0].RecoveredL = ptr(0.36)
	y := yielded(t, x)
	near(t, "first pass", y.Result.Passes[0].LiquidOutML, 350.473, 0.01)
	if got := y.Result.Passes[0].HeldOrigin; got != extraction.Measured {
		t.Errorf("held liquid is %v", got)
	}
	// One pass, drained: 2 % of 350.5 mL in place of a quarter of 113.4 mL.
	x.Passes = x.Passes[:1]
	near(t, "limit of a measured pass", yielded(t, x).LiquidHalfL, 0.02*0.350473*1.7320508, 1e-6)
	// Squeezed well, 2 % of all the tea would be more than the doubt that a
	// default leaves, a quarter of 50.4 mL: measuring never leaves more.
	x = heatherTea()
	x.Passes[1].HeldL = ptr(0.0504)
	near(t, "limit with the last pass measured", yielded(t, x).LiquidHalfL, 0.0504*0.25*1.7320508, 1e-6)
}

// What was measured once is remembered for the same material and separation
// from then on, not before, and not for another.
func TestWhatIsRemembered(t *testing.T) {
	measured := heatherTea()
	measured.ID, measured.Name, measured.MadeAt = "x0", "tea-0", day(1)
	measured.Passes = measured.Passes[:1]
	measured.Passes[0].HeldL = ptr(0.0504) // 2.0 mL/g of 25.2 g
	later := func(edit func(*trials.Extract)) trials.Extract {
		m := measured
		edit(&m)
		return m
	}
	cases := []struct {
		what    string
		earlier trials.Extract
		outML   float64 // of the first pass: 400 less 2.0 or 4.5 mL/g
	}{
		{"measured before", measured, 349.6},
		{"measured later", later(func(x *trials.Extract) { x.MadeAt = day(9) }), 286.6},
		{"another material", later(func(x *trials.Extract) { x.MaterialKey = "heather" }), 286.6},
		{"no pass yet", later(func(x *trials.Extract) { x.Passes = nil }), 286.6},
		{"an unknown material", later(func(x *trials.Extract) { x.MaterialKey = "moonwort" }), 286.6},
	}
	for _, c := range cases {
		near(t, c.what, yielded(t, heatherTea(), c.earlier).Result.Passes[0].LiquidOutML, c.outML, 0.05)
	}
	// The later of two measurements counts: 3.0 mL/g of 25.2 g.
	second := later(func(x *trials.Extract) { x.ID, x.MadeAt = "x1", day(2) })
	second.Passes = []trials.Pass{measured.Passes[0]}
	second.Passes[0].HeldL = ptr(0.0756)
	near(t, "the later of two", yielded(t, heatherTea(), second, measured).Result.Passes[0].LiquidOutML, 324.4, 0.05)
}

// Gravities of the passes give the solids: 1.004 is 1.03286 P and 10.3512 g/L,
// 1.002 is 5.1747 g/L (SPS-4, inverted independently). Of 400 mL each 286.6 and
// 463 mL come out (case A of the page) and hold (286.6 x 10.3512 + 463 x
// 5.1747)/749.6 = 7.1539 g/L; where it was measured at 20 C, what came out counts.
func TestSolidsFromTheGravityOfTheTea(t *testing.T) {
	x := heatherTea()
	x.Passes[0].TeaSG = ptr(1.004)
	if y := yielded(t, x); y.Result.Steep.SolidsGPerL != nil {
		t.Error("solids of half the tea were taken for all of it")
	}
	x.Passes[1].TeaSG = ptr(1.002)
	y := yielded(t, x)
	near(t, "solids", y.SolidsGPerL, 7.15390, 2e-4)
	near(t, "doubt of measured solids", y.SolidsHalf, 0, 0)
	x.SolidsGPerL = ptr(6.0)
	near(t, "typed solids", yielded(t, x).SolidsGPerL, 6, 0)
}

// A material still in is reckoned up to now, or up to the packaging.
func TestTimeOfAMaterialStillIn(t *testing.T) {
	a := trials.Addition{Record: trials.Record{ID: "a", Name: "b.a1"}, BatchID: "b", At: day(5)}
	n := &trials.Notebook{Now: day(7)}
	near(t, "until now", contactMinutes(n.Index(), a), 2*24*60, 0)
	n.Packagings = []trials.Packaging{{BatchID: "b", At: day(6)}}
	near(t, "until packaged", contactMinutes(n.Index(), a), 24*60, 0)
	n.Now = day(5)
	near(t, "just put in", contactMinutes(n.Index(), a), 1, 0)
	a.Minutes = ptr(30.0)
	near(t, "as given", contactMinutes(n.Index(), a), 30, 0)
}

// Logged thermometer readings take the place of start and end: an hour at 80 C
// is an hour of reduced time, whatever StartC says.
func TestCurveOfAPass(t *testing.T) {
	x := heatherTea()
	x.Passes[0].Curve, x.Passes[0].Minutes = "80C@0min,80C@60min", 60
	near(t, "minutes at 80 C", yielded(t, x).Result.Passes[0].ReducedMinutes, 60, 1e-6)
	x.Passes[0].Curve = "80C then 70C"
	if _, err := OfExtract((&trials.Notebook{}), shipped(t), x); trials.CodeOf(err) != trials.Invalid ||
		!strings.Contains(err.Error(), "80C then 70C") {
		t.Errorf("%v", err)
	}
}

// An extract that was not steeped yet has an empty list of passes in JSON.
func TestExtractWithoutPassesAsJSON(t *testing.T) {
	text, err := json.Marshal(trials.Extract{Record: trials.Record{Name: "tea-1"}})
	if err != nil || !strings.Contains(string(text), `"passes":[]`) || !strings.Contains(string(text), `"name":"tea-1"`) {
		t.Errorf("%s, %v", text, err)
	}
}
