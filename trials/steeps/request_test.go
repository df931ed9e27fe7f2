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

// dried36 is the material of the worked examples: 36 g at 10 % water, 32.4 g of
// dry matter.
func dried36(form string, passes ...trials.Pass) SteepRequest {
	return SteepRequest{Form: form, Method: trials.MethodTea, MassG: 36, MoisturePct: ptr(10.0), Passes: passes, IntoL: 17}
}

// threePasses are those of worked example A: 450 and 350 mL drained, 250 mL
// squeezed.
func threePasses(pass func(volumeL float64, separation string) trials.Pass) []trials.Pass {
	return []trials.Pass{pass(0.45, trials.SeparationDrained), pass(0.35, trials.SeparationDrained),
		pass(0.25, trials.SeparationSqueezed)}
}

// step is a pass of a stage efficiency.
func step(efficiency float64) func(float64, string) trials.Pass {
	return func(volumeL float64, separation string) trials.Pass { return stage(volumeL, efficiency, separation) }
}

// stage is a pass of which only the efficiency is known, as the worked examples
// give it.
func stage(volumeL, efficiency float64, separation string) trials.Pass {
	return trials.Pass{VolumeL: volumeL, Efficiency: &efficiency, Separation: separation}
}

// The worked examples of section 3 of the reference page on extraction, which leaves
// out the 3.6 mL of the plant's own water and the 6.4 mL of what dissolves; with them,
// computed apart by the recursion of the page and small steps of Runge and Kutta. In C
// the form cut has w 0.15 and 0.35 /min at 80 C, so that K 1.1 takes 1.1/0.35 min.
func TestWorkedExamplesOfPasses(t *testing.T) {
	const drained, squeezed = trials.SeparationDrained, trials.SeparationSqueezed
	curry := SteepRequest{Form: "fresh-cut", Method: trials.MethodTea, MassG: 90, MoisturePct: ptr(65.33), IntoL: 17,
		Passes: []trials.Pass{stage(0.32, 0.85, drained)}}
	sorbed := dried36("cut", threePasses(func(l float64, by string) trials.Pass { return at80(l, 1.1/0.35, by) })...)
	sorbed.SorptionMLPerG = 1.8
	one := func(volumeL float64, by string) SteepRequest { return dried36("cut", stage(volumeL, 1, by)) }
	cases := []struct {
		what    string
		request SteepRequest
		yields  []float64
		total   float64
		outML   []float64
	}{
		{"A", dried36("cut", threePasses(step(1))...), []float64{0.718274, 0.205596, 0.059235}, 0.983106,
			[]float64{330.4217, 350, 295.36}},
		{"A by heat and time", dried36("crushed", threePasses(settled)...), []float64{0.718274, 0.205596, 0.059235},
			0.983106, []float64{330.4217, 350, 295.36}},
		{"A2", one(1.05, drained), []float64{0.877738}, 0.877738, []float64{930.4217}},
		{"A3 drained", one(0.45, drained), []float64{0.718274}, 0.718274, []float64{330.4217}},
		{"A3 squeezed", one(0.45, squeezed), []float64{0.816878}, 0.816878, []float64{375.7817}},
		{"A4", dried36("cut", stage(0.18, 1, drained), stage(0.18, 1, drained), stage(0.18, 1, drained)),
			[]float64{0.317973, 0.396528, 0.165988}, 0.880488, []float64{60.4217, 180, 180}},
		{"B", dried36("cut", threePasses(step(0.75))...), []float64{0.537966, 0.291840, 0.120294}, 0.950101,
			[]float64{328.8179, 351.2029, 295.6607}},
		{"C", sorbed, []float64{0.482798, 0.279290, 0.137945}, 0.900032, []float64{328.3263, 351.2302, 295.8358}},
		{"D", dried36("cut", stage(0.22, 0.82, drained), stage(0.22, 0.82, drained), stage(0.22, 0.82, drained),
			stage(0.22, 0.82, drained)), []float64{0.355660, 0.385701, 0.159135, 0.061960}, 0.962455,
			[]float64{99.2670, 220.9469, 220.1704, 220.0307}},
		{"E", curry, []float64{0.573834}, 0.573834, []float64{259.3424}},
		{"F", one(0.11, drained), []float64{0}, 0, []float64{0}},
	}
	for _, c := range cases {
		a := steeped(t, c.request)
		if len(a.Result.Passes) != len(c.yields) {
			t.Fatalf("%s: %d passes", c.what, len(a.Result.Passes))
		}
		for i, p := range a.Result.Passes {
			near(t, c.what+": yield of a pass", p.Yield[0], c.yields[i], 1e-6)
			near(t, c.what+": liquid of a pass", p.LiquidOutML, c.outML[i], 1e-3)
		}
		near(t, c.what+": yield", a.Result.Yield[0], c.total, 1e-6)
	}
	// 129.6 mL held, less 3.6064 of own water and 6.4152 of solids.
	short := steeped(t, one(0.11, drained))
	if text := strings.Join(short.Result.Warnings, " "); !strings.Contains(text, "hold about 120 mL") {
		t.Errorf("too little liquid to wet 32.4 g (120 mL) is not said: %q", text)
	}
}

// Into 17 L, by hand from the examples: 36 x 0.85 x 0.983106 / 17.97578 and 36 x
// 0.85 x 0.718274 / 17.33042. Half of the extract poured gives half the grams in less
// liquid: 36 x 0.85 x 0.983106 / 2 / 17.48789.
func TestWorkedExamplesIntoBeer(t *testing.T) {
	three := dried36("crushed", threePasses(settled)...)
	a := steeped(t, three)
	near(t, "A into 17 L", a.Dose.EffectiveGPerL[0], 1.67353, 5e-5)
	near(t, "volume after mixing", a.Dose.MixL, 17.97578, 5e-5)
	near(t, "dose as weighed", a.Dose.WeighedGPerL, 36/17.97578, 1e-6)
	near(t, "A3 into 17 L", steeped(t, dried36("crushed",
		settled(0.45, trials.SeparationDrained))).Dose.EffectiveGPerL[0], 1.26824, 5e-5)
	three.AddedL = ptr(0.48789)
	half := steeped(t, three)
	near(t, "half of A into 17 L", half.Dose.EffectiveGPerL[0], 36*0.85*0.983106/2/17.48789, 1e-5)
	near(t, "half of A as weighed", half.Dose.WeighedGPerL, 18/17.48789, 1e-5)
}

// Section 6 of the page: minutes at 80 C of a steep that cools, and what a form
// gives up in them.
func TestSteepsThatCool(t *testing.T) {
	jug := func(form string) SteepAnswer {
		return steeped(t, dried36(form, trials.Pass{VolumeL: 0.45, StartC: 94, EndC: ptr(52.0), Minutes: 45,
			Agitation: "still", Separation: trials.SeparationDrained}))
	}
	stand := func(form string) SteepAnswer {
		return steeped(t, SteepRequest{Form: form, Method: trials.MethodFlameOut, MassG: 36, MoisturePct: ptr(10.0),
			Treatments: []Treatment{{StartC: ptr(98.0), EndC: ptr(92.0), Minutes: 10, Agitation: "now-and-then"}},
			IntoL:      17})
	}
	near(t, "jug, minutes at 80 C", jug("cut").Result.Passes[0].ReducedMinutes[0], 35.41060, 2e-3)
	near(t, "flame-out, minutes at 80 C", stand("cut").Result.Passes[0].ReducedMinutes[0], 15.15991, 5e-4)
	cases := []struct {
		form       string
		stand, jug float64
	}{{"crushed", 1.000, 1.000}, {"cut", 0.979, 0.998}, {"whole", 0.892, 0.974}, {"frozen", 0.858, 0.951}}
	for _, c := range cases {
		near(t, c.form+" at flame-out", stand(c.form).Result.Yield[0], c.stand, 6e-4)
		near(t, c.form+" in the jug", jug(c.form).Result.Passes[0].ShareOfEquilibrium[0], c.jug, 6e-4)
	}
}

// The method comparison that closes section 6: the point figures in g/L, 36 g
// cut in 17 L, to a hundredth, for the page leaves out own water and the volume of
// what dissolves. (D is the first five minutes of the jug, which by Newton's law
// ends at 20 + 74 exp(-0.0186295 x 5) = 87.42 C.)
func TestMethodComparison(t *testing.T) {
	jug := trials.Pass{VolumeL: 0.45, StartC: 94, EndC: ptr(52.0), Minutes: 45, Agitation: "still",
		Separation: trials.SeparationDrained}
	short := trials.Pass{VolumeL: 0.45, StartC: 94, EndC: ptr(87.42), Minutes: 5, Agitation: "now-and-then",
		Separation: trials.SeparationDrained}
	cold := trials.Pass{VolumeL: 0.45, StartC: 4, Minutes: 720, Agitation: "still", Separation: trials.SeparationDrained}
	direct := func(method string, minutes, tempC float64, end *float64, bag bool, agitation string) SteepRequest {
		return SteepRequest{Form: "cut", Method: method, MassG: 36, MoisturePct: ptr(10.0), IntoL: 17,
			Treatments: []Treatment{{StartC: &tempC, EndC: end, Minutes: minutes, InBag: bag, Agitation: agitation}}}
	}
	tea := func(method string, passes ...trials.Pass) SteepRequest {
		return SteepRequest{Form: "cut", Method: method, MassG: 36, MoisturePct: ptr(10.0), Passes: passes, IntoL: 17}
	}
	cases := []struct {
		what    string
		request SteepRequest
		want    float64
	}{
		{"F", direct(trials.MethodContact, 5*24*60, 20, nil, true, "still"), 1.80},
		{"A", direct(trials.MethodFlameOut, 10, 98, ptr(92.0), false, "now-and-then"), 1.76},
		{"C", tea(trials.MethodTea, jug, stage(0.35, 1, trials.SeparationDrained),
			stage(0.25, 1, trials.SeparationSqueezed)), 1.67},
		{"B", tea(trials.MethodTea, jug), 1.26},
		{"E", tea(trials.MethodColdTea, cold), 1.03},
		{"G", direct(trials.MethodContact, 4*60, 4, nil, true, "still"), 0.56},
		{"D", tea(trials.MethodTea, short), 1.05},
	}
	for _, c := range cases {
		near(t, c.what, steeped(t, c.request).Dose.EffectiveGPerL[0], c.want, 0.0125)
	}
}

// Section 3: cut, aroma class, 10 min of rolling boil: 0.988 released, 0.747 of
// it still in the wort.
func TestAromaLeavesTheBoil(t *testing.T) {
	a := steeped(t, SteepRequest{Form: "cut", Method: trials.MethodBoil, MassG: 36, MoisturePct: ptr(10.0),
		Treatments: []Treatment{{Minutes: 10}}, IntoL: 20})
	near(t, "released", a.Result.Yield[1], 0.988, 6e-4)
	near(t, "left", a.Result.Yield[1]*a.Result.Survival[1], 0.747, 6e-4)
	near(t, "acid left", a.Result.Survival[0], 1, 1e-12)
	if reasons := a.RankingReasons(1); len(reasons) == 0 {
		t.Error("an aroma dose from a boil is shown as a number (section 8, rule 1, says ranking only)")
	}
	one := steeped(t, dried36("cut", settled(0.45, trials.SeparationDrained)))
	if reasons := one.RankingReasons(2); len(reasons) == 0 {
		t.Error("a resin dose in water is shown as a number (section 8, rule 2)")
	}
}

// The intervals hold the point value, and 80 % lies within 95 %.
func TestSteepIntervalsAreInOrder(t *testing.T) {
	a := steeped(t, dried36("cut", at80(0.45, 5, trials.SeparationDrained)))
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
	pass := settled(0.45, trials.SeparationDrained)
	edit := func(f func(*SteepRequest)) SteepRequest {
		q := dried36("cut", pass)
		f(&q)
		return q
	}
	withPass := func(f func(*trials.Pass)) SteepRequest {
		p := pass
		f(&p)
		return dried36("cut", p)
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
		{"more than there is", edit(func(q *SteepRequest) { q.AddedL = ptr(1.2) }), "1200"},
		{"no volume", withPass(func(p *trials.Pass) { p.VolumeL = 0 }), "volume"},
		{"negative volume", withPass(func(p *trials.Pass) { p.VolumeL = -0.45 }), "-0.45"},
		{"no time", withPass(func(p *trials.Pass) { p.Minutes = 0 }), "time 0 min"},
		{"hotter than the model", withPass(func(p *trials.Pass) { p.StartC = 130 }), "130"},
		{"unknown separation", withPass(func(p *trials.Pass) { p.Separation = "wrung" }), "wrung"},
		{"unknown agitation", withPass(func(p *trials.Pass) { p.Agitation = "shaken" }), "shaken"},
		{"recovered and held", withPass(func(p *trials.Pass) { p.RecoveredL, p.HeldL = ptr(0.3), ptr(0.1) }), "both"},
		{"contact without time", SteepRequest{Form: "cut", Method: trials.MethodContact, MassG: 36, IntoL: 17}, "how long"},
	}
	for _, c := range cases {
		_, err := c.q.Steep(shipped(t))
		if code := trials.CodeOf(err); err == nil || code != trials.Invalid && code != trials.NotFound ||
			!strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.what, err)
		}
	}
}
