package steeps

import (
	"math"
	"strings"
	"testing"

	"hedgerow/trials"
)

// steeped works a steep out that must work.
func steeped(t testing.TB, q SteepRequest) SteepAnswer {
	t.Helper()
	a, err := q.Steep(shipped(t))
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// at80 is a pass at 80 C, stirred, where a minute is a minute of reduced time.
func at80(volumeL, minutes float64, separation string) trials.Pass {
	return trials.Pass{VolumeL: volumeL, StartC: 80, Minutes: minutes, Agitation: "stirred", Separation: separation}
}

// settled is a pass hot and long enough for equilibrium: crushed material has
// K = 0.70/min x 300 min = 210.
func settled(volumeL float64, separation string) trials.Pass { return at80(volumeL, 300, separation) }

// dried28 is the material of the worked examples: 28 g at 10 % water, 25.2 g of
// dry matter.
func dried28(form string, passes ...trials.Pass) SteepRequest {
	return SteepRequest{Form: form, Method: trials.MethodTea, MassG: 28, MoisturePct: ptr(10.0), Passes: passes, IntoL: 19}
}

// stage is a pass of which only the efficiency is known, as the worked examples
// give it.
func stage(volumeL, efficiency float64, separation string) trials.Pass {
	return trials.Pass{VolumeL: volumeL, Efficiency: &efficiency, Separation: separation}
}

// The worked examples of section 3 of the reference page on extraction. In C the
// form cut has w 0.15 and 0.35 /min at 80 C, so that K 1.2 takes 1.2/0.35 min.
func TestWorkedExamplesOfPasses(t *testing.T) {
	const drained, squeezed = trials.SeparationDrained, trials.SeparationSqueezed
	ginger := SteepRequest{Form: "fresh-cut", Method: trials.MethodTea, MassG: 100, MoisturePct: ptr(81.27), IntoL: 19,
		Passes: []trials.Pass{stage(0.3, 0.8, drained)}}
	sorbed := dried28("cut", at80(0.4, 1.2/0.35, drained), at80(0.4, 1.2/0.35, squeezed))
	sorbed.SorptionMLPerG = 2
	cases := []struct {
		what    string
		request SteepRequest
		yields  []float64
		total   float64
		outML   []float64
	}{
		{"A", dried28("cut", stage(0.4, 1, drained), stage(0.4, 1, squeezed)), []float64{0.716500, 0.255669}, 0.972169,
			[]float64{286.6, 463.0}},
		{"A by heat and time", dried28("crushed", settled(0.4, drained), settled(0.4, squeezed)),
			[]float64{0.716500, 0.255669}, 0.972169, []float64{286.6, 463.0}},
		{"A2", dried28("cut", stage(0.8, 1, drained)), []float64{0.858250}, 0.858250, []float64{686.6}},
		{"A3 drained", dried28("cut", stage(0.4, 1, drained)), []float64{0.716500}, 0.716500, []float64{286.6}},
		{"A3 pressed", dried28("cut", stage(0.4, 1, squeezed)), []float64{0.874000}, 0.874000, []float64{349.6}},
		{"A4", dried28("cut", stage(0.2, 1, drained), stage(0.2, 1, drained)), []float64{0.433, 0.361838}, 0.794838,
			[]float64{86.6, 200}},
		{"B", dried28("cut", stage(0.4, 0.7, drained), stage(0.4, 0.7, squeezed)), []float64{0.501550, 0.368353},
			0.869903, []float64{286.6, 463.0}},
		{"C", sorbed, []float64{0.499389, 0.348753}, 0.848142, []float64{286.6, 463.0}},
		{"D", dried28("cut", stage(0.25, 0.8, drained), stage(0.25, 0.8, drained), stage(0.25, 0.8, drained)),
			[]float64{0.437120, 0.359714, 0.134264}, 0.931098, []float64{136.6, 250, 250}},
		{"E", ginger, []float64{0.623149}, 0.623149, []float64{297.0}},
		{"F", dried28("cut", stage(0.1, 1, drained)), []float64{0}, 0, []float64{0}},
	}
	for _, c := range cases {
		a := steeped(t, c.request)
		if len(a.Result.Passes) != len(c.yields) {
			t.Fatalf("%s: %d passes", c.what, len(a.Result.Passes))
		}
		for i, p := range a.Result.Passes {
			near(t, c.what+": yield of a pass", p.Yield[0], c.yields[i], 1e-6)
			near(t, c.what+": liquid of a pass", p.LiquidOutML, c.outML[i], 0.05)
		}
		near(t, c.what+": yield", a.Result.Yield[0], c.total, 1e-6)
	}
	short := steeped(t, dried28("cut", stage(0.1, 1, drained)))
	if len(short.Result.Warnings) == 0 || !strings.Contains(strings.Join(short.Result.Warnings, " "), "113") {
		t.Errorf("too little liquid to wet 25.2 g (113 mL) is not said: %q", short.Result.Warnings)
	}
}

// Into 19 L, same section: 28 x 0.95 x 0.972169 / 19.7496 and 28 x 0.95 x
// 0.7165 / 19.2866. Half of the extract poured gives half the grams in less
// liquid: 28 x 0.95 x 0.972169 / 2 / 19.3748.
func TestWorkedExamplesIntoBeer(t *testing.T) {
	two := dried28("crushed", settled(0.4, trials.SeparationDrained), settled(0.4, trials.SeparationSqueezed))
	a := steeped(t, two)
	near(t, "A into 19 L", a.Dose.EffectiveGPerL[0], 1.3094, 5e-5)
	near(t, "volume after mixing", a.Dose.MixL, 19.7496, 5e-5)
	near(t, "dose as weighed", a.Dose.WeighedGPerL, 28/19.7496, 1e-6)
	near(t, "A3 into 19 L", steeped(t, dried28("crushed",
		settled(0.4, trials.SeparationDrained))).Dose.EffectiveGPerL[0], 0.9882, 5e-5)
	two.AddedL = ptr(0.3748)
	half := steeped(t, two)
	near(t, "half of A into 19 L", half.Dose.EffectiveGPerL[0], 28*0.95*0.972169/2/19.3748, 1e-5)
	near(t, "half of A as weighed", half.Dose.WeighedGPerL, 14/19.3748, 1e-5)
}

// Section 6 of the page: minutes at 80 C of a steep that cools, and what a form
// gives up in them.
func TestSteepsThatCool(t *testing.T) {
	jug := func(form string) SteepAnswer {
		return steeped(t, dried28(form, trials.Pass{VolumeL: 0.4, StartC: 96, EndC: ptr(45.0), Minutes: 60,
			Agitation: "still", Separation: trials.SeparationDrained}))
	}
	stand := func(form string) SteepAnswer {
		return steeped(t, SteepRequest{Form: form, Method: trials.MethodFlameOut, MassG: 28, MoisturePct: ptr(10.0),
			Treatments: []Treatment{{StartC: ptr(98.0), EndC: ptr(92.0), Minutes: 10, Agitation: "now-and-then"}},
			IntoL:      19})
	}
	near(t, "jug, minutes at 80 C", jug("cut").Result.Passes[0].ReducedMinutes, 42.66436, 2e-3)
	near(t, "flame-out, minutes at 80 C", stand("cut").Result.Passes[0].ReducedMinutes, 15.15991, 5e-4)
	cases := []struct {
		form       string
		stand, jug float64
	}{{"crushed", 1.000, 1.000}, {"cut", 0.979, 1.000}, {"whole", 0.892, 0.987}, {"frozen", 0.858, 0.972}}
	for _, c := range cases {
		near(t, c.form+" at flame-out", stand(c.form).Result.Yield[0], c.stand, 6e-4)
		near(t, c.form+" in the jug", jug(c.form).Result.Passes[0].ShareOfEquilibrium[0], c.jug, 6e-4)
	}
}

// The method comparison that closes section 6: the point figures in g/L, 28 g
// cut in 20 L. (D is the first five minutes of the jug, which by Newton's law
// ends at 20 + 76 exp(-0.018531 x 5) = 89.3 C.)
func TestMethodComparison(t *testing.T) {
	jug := trials.Pass{VolumeL: 0.4, StartC: 96, EndC: ptr(45.0), Minutes: 60, Agitation: "still",
		Separation: trials.SeparationDrained}
	short := trials.Pass{VolumeL: 0.4, StartC: 96, EndC: ptr(89.27), Minutes: 5, Agitation: "now-and-then",
		Separation: trials.SeparationDrained}
	cold := trials.Pass{VolumeL: 0.4, StartC: 4, Minutes: 720, Agitation: "still", Separation: trials.SeparationDrained}
	direct := func(method string, minutes, tempC float64, end *float64, bag bool, agitation string) SteepRequest {
		return SteepRequest{Form: "cut", Method: method, MassG: 28, MoisturePct: ptr(10.0), IntoL: 20,
			Treatments: []Treatment{{StartC: &tempC, EndC: end, Minutes: minutes, InBag: bag, Agitation: agitation}}}
	}
	tea := func(method string, passes ...trials.Pass) SteepRequest {
		return SteepRequest{Form: "cut", Method: method, MassG: 28, MoisturePct: ptr(10.0), Passes: passes, IntoL: 20}
	}
	cases := []struct {
		what    string
		request SteepRequest
		want    float64
	}{
		{"F", direct(trials.MethodContact, 5*24*60, 20, nil, true, "still"), 1.33},
		{"A", direct(trials.MethodFlameOut, 10, 98, ptr(92.0), false, "now-and-then"), 1.30},
		{"C", tea(trials.MethodTea, jug, settled(0.4, trials.SeparationSqueezed)), 1.25},
		{"B", tea(trials.MethodTea, jug), 0.94},
		{"E", tea(trials.MethodColdTea, cold), 0.93},
		{"G", direct(trials.MethodContact, 4*60, 4, nil, true, "still"), 0.80},
		{"D", tea(trials.MethodTea, short), 0.80},
	}
	for _, c := range cases {
		near(t, c.what, steeped(t, c.request).Dose.EffectiveGPerL[0], c.want, 0.005)
	}
}

// Section 3: cut, aroma class, 10 min of rolling boil: 0.988 released, 0.747 of
// it still in the wort.
func TestAromaLeavesTheBoil(t *testing.T) {
	a := steeped(t, SteepRequest{Form: "cut", Method: trials.MethodBoil, MassG: 28, MoisturePct: ptr(10.0),
		Treatments: []Treatment{{Minutes: 10}}, IntoL: 20})
	near(t, "released", a.Result.Yield[1], 0.988, 6e-4)
	near(t, "left", a.Result.Yield[1]*a.Result.Survival[1], 0.747, 6e-4)
	near(t, "acid left", a.Result.Survival[0], 1, 1e-12)
	if reasons := a.RankingReasons(1); len(reasons) == 0 {
		t.Error("an aroma dose from a boil is shown as a number (section 8, rule 1, says ranking only)")
	}
	if reasons := steeped(t, dried28("cut", settled(0.4, trials.SeparationDrained))).RankingReasons(2); len(reasons) == 0 {
		t.Error("a resin dose in water is shown as a number (section 8, rule 2)")
	}
}

// The intervals hold the point value, and 80 % lies within 95 %.
func TestSteepIntervalsAreInOrder(t *testing.T) {
	a := steeped(t, dried28("cut", at80(0.4, 5, trials.SeparationDrained)))
	for c, band := range a.Doubt.Dose {
		e80, e95 := band.At80, band.At95
		if !(e95.Low <= e80.Low && e80.Low <= e80.Value && e80.Value <= e80.High && e80.High <= e95.High) {
			t.Errorf("class %d: 95 %% %g to %g, 80 %% %g to %g, value %g", c, e95.Low, e95.High, e80.Low, e80.High, e80.Value)
		}
	}
}

// A material from the catalogue brings its moisture: raspberry 85.75 % (USDA
// Standard Reference), so 100 g are 14.25 g dry and 15.83 g at 10 % water.
func TestMaterialBringsItsMoisture(t *testing.T) {
	a := steeped(t, SteepRequest{Material: "raspberry", Form: "frozen", Method: trials.MethodContact, MassG: 100,
		Treatments: []Treatment{{Minutes: 14 * 24 * 60}}, IntoL: 1})
	near(t, "dry matter", a.Result.DryG, 14.25, 1e-9)
	near(t, "as dried", a.Result.AsDriedG, 14.25/0.9, 1e-9)
}

func TestSteepRefuses(t *testing.T) {
	pass := settled(0.4, trials.SeparationDrained)
	edit := func(f func(*SteepRequest)) SteepRequest {
		q := dried28("cut", pass)
		f(&q)
		return q
	}
	withPass := func(f func(*trials.Pass)) SteepRequest {
		p := pass
		f(&p)
		return dried28("cut", p)
	}
	cases := []struct {
		what string
		q    SteepRequest
		want string
	}{
		{"no mass", edit(func(q *SteepRequest) { q.MassG = 0 }), "mass 0 g"},
		{"mass that is no number", edit(func(q *SteepRequest) { q.MassG = math.NaN() }), "mass"},
		{"all water", edit(func(q *SteepRequest) { q.MoisturePct = ptr(100.0) }), "moisture"},
		{"unknown form", edit(func(q *SteepRequest) { q.Form = "crusht" }), "crusht"},
		{"unknown method", edit(func(q *SteepRequest) { q.Method = "soak" }), "soak"},
		{"unknown material", edit(func(q *SteepRequest) { q.Material = "hether" }), "hether"},
		{"no beer", edit(func(q *SteepRequest) { q.IntoL = 0 }), "volume"},
		{"more than there is", edit(func(q *SteepRequest) { q.AddedL = ptr(0.9) }), "900"},
		{"no volume", withPass(func(p *trials.Pass) { p.VolumeL = 0 }), "volume"},
		{"negative volume", withPass(func(p *trials.Pass) { p.VolumeL = -0.4 }), "-0.4"},
		{"no time", withPass(func(p *trials.Pass) { p.Minutes = 0 }), "time 0 min"},
		{"hotter than the model", withPass(func(p *trials.Pass) { p.StartC = 130 }), "130"},
		{"unknown separation", withPass(func(p *trials.Pass) { p.Separation = "wrung" }), "wrung"},
		{"unknown agitation", withPass(func(p *trials.Pass) { p.Agitation = "shaken" }), "shaken"},
		{"recovered and held", withPass(func(p *trials.Pass) { p.RecoveredL, p.HeldL = ptr(0.3), ptr(0.1) }), "both"},
		{"contact without time", SteepRequest{Form: "cut", Method: trials.MethodContact, MassG: 28, IntoL: 19}, "how long"},
	}
	for _, c := range cases {
		_, err := c.q.Steep(shipped(t))
		if code := trials.CodeOf(err); err == nil || code != trials.Invalid && code != trials.NotFound ||
			!strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.what, err)
		}
	}
}
