package extraction

import (
	"errors"
	"math"
	"strings"
	"testing"

	"hedgerow/trials/figure"
)

// near reports whether got is within tol of want.
func near(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

// stirred is a pass so long and hot that it stands at equilibrium.
func stirred(volumeML float64, s Separation) Pass {
	return Pass{VolumeML: volumeML, StartC: new(95.0), Minutes: 600, Agitation: Stirred, Separation: s}
}

// tea28 is 28 g of crushed dried material, 10 % water: 25.2 g dry matter.
func tea28(passes ...Pass) Steep {
	return Steep{Method: Tea, Form: Crushed, MassG: 28, Moisture: new(0.10), Passes: passes}
}

// run runs a steep that must be accepted.
func run(t *testing.T, s Steep) Result {
	t.Helper()
	r, err := s.Run()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Worked examples A to F of section 3 of the science page, through the same
// path that a logged steep takes.
func TestWorkedExamples(t *testing.T) {
	settled := func(v, e float64, s Separation) Pass {
		return Pass{VolumeML: v, Efficiency: new(e), Separation: s}
	}
	slow := func(v float64, s Separation) Pass {
		// K = 0.35 * tau = 1.2 for cut material stirred at 80 C.
		return Pass{VolumeML: v, StartC: new(80.0), Minutes: 1.2 / 0.35, Agitation: Stirred, Separation: s}
	}
	cut := tea28(slow(400, Drained), slow(400, Squeezed))
	cut.Form, cut.KappaMLPerG = Cut, 2
	ginger := Steep{Method: Tea, Form: FreshChopped, MassG: 100, Moisture: new(0.8127),
		Passes: []Pass{settled(300, 0.8, Drained)}}
	cases := []struct {
		name     string
		steep    Steep
		yields   []float64
		total    float64
		liquidML []float64
	}{
		{"A", tea28(stirred(400, Drained), stirred(400, Squeezed)), []float64{0.716500, 0.255669}, 0.972169,
			[]float64{286.6, 463.0}},
		{"A2", tea28(stirred(800, Drained)), nil, 0.858250, []float64{686.6}},
		{"A3 drained", tea28(stirred(400, Drained)), nil, 0.716500, []float64{286.6}},
		{"A3 pressed", tea28(stirred(400, Squeezed)), nil, 0.874000, []float64{349.6}},
		{"A4", tea28(stirred(200, Drained), stirred(200, Drained)), []float64{0.433, 0.3618}, 0.794838, []float64{86.6, 200}},
		{"B", tea28(settled(400, 0.7, Drained), settled(400, 0.7, Squeezed)), []float64{0.501550, 0.368353}, 0.869903, nil},
		{"C", cut, []float64{0.499389, 0.348753}, 0.848142, nil},
		{"D", tea28(settled(250, 0.8, Drained), settled(250, 0.8, Drained), settled(250, 0.8, Drained)),
			[]float64{0.437120, 0.359714, 0.134264}, 0.931098, []float64{136.6, 250, 250}},
		{"E", ginger, nil, 0.623149, []float64{297.0}},
		{"F", tea28(stirred(100, Drained)), nil, 0, []float64{0}},
	}
	for _, c := range cases {
		r := run(t, c.steep)
		if !near(r.Yield[Water], c.total, 1e-6) {
			t.Errorf("%s: yield %.6f, want %.6f", c.name, r.Yield[Water], c.total)
		}
		for i, want := range c.yields {
			if got := r.Passes[i].Yield[Water]; !near(got, want, 4e-5) {
				t.Errorf("%s pass %d: yield %.6f, want %.6f", c.name, i+1, got, want)
			}
		}
		for i, want := range c.liquidML {
			if got := r.Passes[i].LiquidOutML; !near(got, want, 0.05) {
				t.Errorf("%s pass %d: %.2f mL, want %.1f", c.name, i+1, got, want)
			}
		}
	}
}

// Doses under the table of worked examples: case A and case A3 into 19 L.
func TestWorkedDoses(t *testing.T) {
	cases := []struct {
		steep     Steep
		mixL, gpl float64
	}{
		{tea28(stirred(400, Drained), stirred(400, Squeezed)), 19.7496, 1.3094},
		{tea28(stirred(400, Drained)), 19.2866, 0.9882},
	}
	for _, c := range cases {
		r := run(t, c.steep)
		d, err := r.Dose(Mix{IntoL: 19})
		if err != nil {
			t.Fatal(err)
		}
		if !near(d.MixL, c.mixL, 5e-5) || !near(d.EffectiveGPerL[Water], c.gpl, 5e-5) {
			t.Errorf("%.4f L, %.4f g/L, want %.4f L, %.4f g/L", d.MixL, d.EffectiveGPerL[Water], c.mixL, c.gpl)
		}
	}
}

// The steep that a brewer types: two passes of 400 mL, 96 C falling to 80 C in
// 30 min, stirred; within a thousandth of case A, and it says how close.
func TestTwoStirredPassesReachCaseA(t *testing.T) {
	pass := func(s Separation) Pass {
		return Pass{VolumeML: 400, StartC: new(96.0), EndC: new(80.0), Minutes: 30, Agitation: Stirred, Separation: s}
	}
	r := run(t, tea28(pass(Drained), pass(Squeezed)))
	d, err := r.Dose(Mix{IntoL: 19})
	if err != nil {
		t.Fatal(err)
	}
	if !near(r.Yield[Water], 0.972, 0.001) || !near(d.EffectiveGPerL[Water], 1.31, 0.005) {
		t.Errorf("yield %.4f, dose %.4f g/L, want 0.972 and 1.31", r.Yield[Water], d.EffectiveGPerL[Water])
	}
	for i, p := range r.Passes {
		if s := p.ShareOfEquilibrium[Water]; !(s > 0.999 && s <= 1) {
			t.Errorf("pass %d at %.5f of equilibrium, want above 0.999", i+1, s)
		}
	}
	if len(r.Warnings) != 0 {
		t.Errorf("warnings %q, want none", r.Warnings)
	}
}

// The row of released shares by form under the cooling table in section 6:
// flame-out stirred now and then, and a still jug.
func TestReleaseByForm(t *testing.T) {
	cases := []struct {
		form           Form
		flameOut, jug  float64
		freshMoistures float64
	}{
		{Crushed, 1.000, 1.000, 0}, {Cut, 0.979, 1.000, 0}, {WholeThin, 0.892, 0.987, 0},
		{WholeHard, 0.429, 0.666, 0}, {Frozen, 0.858, 0.972, 0.85},
	}
	for _, c := range cases {
		moisture := new(0.1)
		if c.freshMoistures > 0 {
			moisture = new(c.freshMoistures)
		}
		hot := run(t, Steep{Method: FlameOut, Form: c.form, MassG: 28, Moisture: moisture, Passes: []Pass{
			{StartC: new(98.0), EndC: new(92.0), Minutes: 10, Agitation: NowAndThen}}})
		jug := run(t, Steep{Method: FlameOut, Form: c.form, MassG: 28, Moisture: moisture, Passes: []Pass{
			{StartC: new(96.0), EndC: new(45.0), Minutes: 60, Agitation: Still}}})
		if !near(hot.Yield[Water], c.flameOut, 6e-4) || !near(jug.Yield[Water], c.jug, 6e-4) {
			t.Errorf("%s: %.4f and %.4f, want %.3f and %.3f", c.form, hot.Yield[Water], jug.Yield[Water], c.flameOut, c.jug)
		}
	}
}

// The aroma example in section 3: cut material boiled for 10 min, then a hot
// stand of 20 min, k factor 0.7.
func TestBoilLosesAroma(t *testing.T) {
	boil := Pass{Minutes: 10}
	stand := Pass{StartC: new(95.0), Minutes: 20, Agitation: Stirred}
	s := Steep{Method: Boil, Form: Cut, MassG: 20, Passes: []Pass{boil}}
	r := run(t, s)
	if !near(r.Yield[Aroma], 0.988, 5e-4) || !near(r.Kept(Aroma), 0.747, 5e-4) {
		t.Errorf("after the boil %.4f released, %.4f kept, want 0.988 and 0.747", r.Yield[Aroma], r.Kept(Aroma))
	}
	s.Passes = []Pass{boil, {StartC: stand.StartC, Minutes: 20, Agitation: Stirred, Boiling: false}}
	// The page lets 0.747 fade and leaves out the 0.012 still in the solids.
	if r = run(t, s); !near(r.Kept(Aroma), 0.666, 0.012) || r.Kept(Aroma) < 0.666 {
		t.Errorf("after the stand %.4f kept, want 0.666", r.Kept(Aroma))
	}
	best, at := 0.0, 0.0
	for m := 5.0; m < 7; m += 0.01 {
		s.Passes = []Pass{{Minutes: m}}
		if r = run(t, s); r.Kept(Aroma) > best {
			best, at = r.Kept(Aroma), m
		}
	}
	if !near(best, 0.801, 5e-4) || !near(at, 6.05, 0.02) {
		t.Errorf("most aroma %.4f at %.2f min, want 0.801 at 6.05", best, at)
	}
}

// Colour after 60 and 15 min of boil keeps 0.80 and 0.94 (section 3), read as
// survival of what is dissolved from the start: juice. The page rounds from half-
// lives of 180 to 182 min and from solute released on the way, hence 0.01.
func TestBoilFadesColour(t *testing.T) {
	for _, c := range []struct{ minutes, keeps float64 }{{60, 0.80}, {15, 0.94}} {
		r := run(t, Steep{Method: Boil, Form: Juice, MassG: 100, Moisture: new(0.85), Passes: []Pass{{Minutes: c.minutes}}})
		if !near(r.Survival[Colour], c.keeps, 0.01) || r.Survival[Water] != 1 {
			t.Errorf("%.0f min keeps %.4f of the colour, want %.2f; water class %v", c.minutes, r.Survival[Colour],
				c.keeps, r.Survival[Water])
		}
	}
}

func TestSteepRefuses(t *testing.T) {
	hot := func(p Pass) Steep { return tea28(p) }
	ok := stirred(400, Drained)
	with := func(change func(*Pass)) Steep { p := ok; change(&p); return hot(p) }
	dried := func(change func(*Steep)) Steep { s := hot(ok); change(&s); return s }
	cases := []struct {
		steep   Steep
		mention string
	}{
		{dried(func(s *Steep) { s.MassG = 0 }), "mass 0"},
		{dried(func(s *Steep) { s.MassG = -3 }), "mass -3"},
		{dried(func(s *Steep) { s.MassG = math.NaN() }), "mass NaN"},
		{dried(func(s *Steep) { s.Moisture = new(1.0) }), "moisture 100"},
		{dried(func(s *Steep) { s.Form, s.Moisture = FreshWhole, nil }), "fresh whole"},
		{dried(func(s *Steep) { s.Form = 99 }), "form 99"},
		{dried(func(s *Steep) { s.Passes = nil }), "without a pass"},
		{dried(func(s *Steep) { s.KappaMLPerG = -1 }), "sorption"},
		{dried(func(s *Steep) { s.Remembered.Drained = new(-1.0) }), "remembered"},
		{with(func(p *Pass) { p.VolumeML = 0 }), "without a volume"},
		{with(func(p *Pass) { p.VolumeML = -5 }), "volume -5"},
		{with(func(p *Pass) { p.Minutes = 0 }), "time 0"},
		{with(func(p *Pass) { p.Minutes = -2 }), "time -2"},
		{with(func(p *Pass) { p.StartC = nil }), "without a temperature"},
		{with(func(p *Pass) { p.StartC = new(105.0) }), "hotter than boiling"},
		{with(func(p *Pass) { p.StartC = new(212.0) }), "212 C is outside"},
		{with(func(p *Pass) { p.EndC = new(10.0) }), "crosses the ambient"},
		{with(func(p *Pass) { p.EndC = new(20.0) }), "reaches the ambient"},
		{with(func(p *Pass) { p.Efficiency = new(1.5) }), "1.5"},
		{with(func(p *Pass) { p.ABVPct = new(140.0) }), "140"},
		{with(func(p *Pass) { p.RecoveredML = new(450.0) }), "came out of 400"},
		{with(func(p *Pass) { p.HeldML = new(-1.0) }), "held liquid -1"},
		{with(func(p *Pass) { p.HeldML = new(900.0) }), "900 mL held"},
		{with(func(p *Pass) { p.BoiledOffML = 400 }), "boiled off"},
		{with(func(p *Pass) { p.Curve = []figure.CurvePoint{{Minutes: 0, TempC: 90}} }), "too short"},
		{with(func(p *Pass) { p.Curve = []figure.CurvePoint{{Minutes: 0, TempC: 90}, {Minutes: 5, TempC: 104}} }),
			"hotter than boiling"},
		{tea28(stirred(400, LeftIn), ok), "pass 1: material left in"},
	}
	for _, c := range cases {
		_, err := c.steep.Run()
		var refused *InputError
		if !errors.As(err, &refused) || !strings.Contains(refused.Message, c.mention) || refused.Hint == "" {
			t.Errorf("error %v, want an InputError with %q and a hint", err, c.mention)
		}
	}
}
