package steeps

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

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

// Case A of the page, with own water and the volume of what dissolves, computed
// apart: 981.614 mL carry 36 x 0.85 x 0.983317 = 30.0895 g. With no measured strength
// 0.63 of the dry matter of hibiscus that came out is dissolved: 0.63 x 32.4 x
// 0.983317 / 0.981614 = 20.4474 g/L, divided and multiplied by exp(1.96 x 0.10).
func TestYieldOfATea(t *testing.T) {
	y := yielded(t, jugTea())
	near(t, "liquid", y.LiquidL, 0.981614, 1e-6)
	near(t, "carried", y.Grams[0].Value, 30.0895, 1e-3)
	near(t, "solids", y.SolidsGPerL, 20.4474, 1e-3)
	near(t, "limit of the solids", y.SolidsHalf, 20.4474*math.Sinh(0.196), 1e-2)
	// 80 % limits of the last held liquid: 2.6 mL/g of 32.4 g, sd of ln 0.30. As a
	// rectangular half-width.
	near(t, "limit of the liquid", y.LiquidHalfL, 0.08424*math.Sinh(1.28155*0.30)/1.28155*1.7320508, 1e-6)
	if y.Grams[0].Low >= y.Grams[0].Value || y.Grams[0].High <= y.Grams[0].Value {
		t.Errorf("carried %g to %g", y.Grams[0].Low, y.Grams[0].High)
	}
}

// 360 mL recovered at 80 C are 350.473 mL at 20 C (Kell's water densities). Measured
// liquid is surer than assumed, but for the 2 % of what was poured on that any jug
// is read to.
func TestRecoveredLiquidTakesThePlaceOfTheDefault(t *testing.T) {
	x := jugTea()
	x.Passes[0].RecoveredL = ptr(0.36)
	y := yielded(t, x)
	near(t, "first pass", y.Result.Passes[0].LiquidOutML, 350.473, 0.01)
	if got := y.Result.Passes[0].HeldOrigin; got != extraction.Measured {
		t.Errorf("held liquid is %v", got)
	}
	// One pass, drained: 2 % of the 450 mL poured on, read as 80 % limits.
	x.Passes = x.Passes[:1]
	near(t, "limit of a measured pass", yielded(t, x).LiquidHalfL, 0.02*0.45*1.7320508/1.28155, 1e-6)
}

// What was measured once is remembered for the same material and separation
// from then on, not before, and not for another.
func TestWhatIsRemembered(t *testing.T) {
	measured := jugTea()
	measured.ID, measured.Name, measured.MadeAt = "x0", "tea-0", day(1)
	measured.Passes = measured.Passes[:1]
	measured.Passes[0].HeldL = ptr(0.0648) // 2.0 mL/g of 32.4 g
	later := func(edit func(*trials.Extract)) trials.Extract {
		m := measured
		edit(&m)
		return m
	}
	cases := []struct {
		what    string
		earlier trials.Extract
		outML   float64 // of the first pass: with 2.0 or 4.0 mL/g, computed apart
	}{
		{"measured before", measured, 401.0537},
		{"measured later", later(func(x *trials.Extract) { x.MadeAt = day(9) }), 336.2537},
		{"another material", later(func(x *trials.Extract) { x.MaterialKey = "heather" }), 336.2537},
		{"no pass yet", later(func(x *trials.Extract) { x.Passes = nil }), 336.2537},
		{"an unknown material", later(func(x *trials.Extract) { x.MaterialKey = "moonwort" }), 336.2537},
	}
	for _, c := range cases {
		near(t, c.what, yielded(t, jugTea(), c.earlier).Result.Passes[0].LiquidOutML, c.outML, 0.05)
	}
	// The later of two measurements counts: 3.0 mL/g of 32.4 g.
	second := later(func(x *trials.Extract) { x.ID, x.MadeAt = "x1", day(2) })
	second.Passes = []trials.Pass{measured.Passes[0]}
	second.Passes[0].HeldL = ptr(0.0972)
	near(t, "the later of two", yielded(t, jugTea(), second, measured).Result.Passes[0].LiquidOutML, 368.6537, 0.05)
}

// Gravities of the passes give the solids: 1.004 is 1.03286 P and 10.3512 g/L,
// 1.002 is 5.1747 g/L (SPS-4, inverted independently). There come out 336.2537, 350
// and 295.36 mL, which hold 0.95 (336.2537 x 10.3512 + 645.36 x 5.1747)/981.6137 =
// 6.6006 g/L, for acid is 5 % denser than sugar; where it was measured at 20 C, what
// came out counts. A limit of 0.001 and a factor good to 0.08 leave 1.96 times 1.643,
// 1.478 and 1.478 g/L weighed alike, by hand.
func TestSolidsFromTheGravityOfTheTea(t *testing.T) {
	x := jugTea()
	x.Passes[0].TeaSG = ptr(1.004)
	if y := yielded(t, x); y.SolidsGPerL < 7 {
		t.Error("solids of half the tea were taken for all of it")
	}
	x.Passes[1].TeaSG, x.Passes[2].TeaSG = ptr(1.002), ptr(1.002)
	y := yielded(t, x)
	near(t, "solids", y.SolidsGPerL, 0.95*6.94796, 2e-4)
	near(t, "doubt of measured solids", y.SolidsHalf, 3.0075, 1e-3)
	x.SolidsGPerL = ptr(6.0)
	near(t, "typed solids", yielded(t, x).SolidsGPerL, 6, 0)
}

// A material still in is reckoned up to now, or up to the packaging.
func TestTimeOfAMaterialStillIn(t *testing.T) {
	a := trials.Addition{Record: trials.Record{ID: "a", Name: "b.a1"}, BatchID: "b", At: day(5)}
	n := &trials.Notebook{Now: day(7)}
	near(t, "until now", contactMinutes(n.Index(), a, n.Now), 2*24*60, 0)
	n.Packagings = []trials.Packaging{{BatchID: "b", At: day(6)}}
	near(t, "until packaged", contactMinutes(n.Index(), a, n.Now), 24*60, 0)
	n.Now = day(5)
	near(t, "just put in", contactMinutes(n.Index(), a, n.Now), 1, 0)
	a.Minutes = ptr(30.0)
	near(t, "as given", contactMinutes(n.Index(), a, n.Now), 30, 0)
	a.MaterialKey, n.Packagings = "heather", nil
	near(t, "a plant after a third of its time", contactMinutes(n.Index(), a, day(5).Add(10*time.Minute)), 10, 0)
	near(t, "a plant after its time", contactMinutes(n.Index(), a, day(6)), 30, 0)
}

// Logged thermometer readings take the place of start and end: an hour at 80 C
// is an hour of reduced time, whatever StartC says.
func TestCurveOfAPass(t *testing.T) {
	x := jugTea()
	x.Passes[0].Curve, x.Passes[0].Minutes = "80C@0min,80C@60min", 60
	near(t, "minutes at 80 C", yielded(t, x).Result.Passes[0].ReducedMinutes[0], 60, 1e-6)
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
