package extraction

import (
	"math"
	"strings"
	"testing"

	"hedgerow/trials/figure"
)

// jugPass is a hot pass of 450 mL that cools a little, drained.
func jugPass() Pass {
	return Pass{VolumeML: 450, StartC: new(94.0), EndC: new(80.0), Minutes: 30, Agitation: Stirred, Separation: Drained}
}

// By hand, on 32.4 g of dry matter: 320 mL recovered of 450 leave 130 mL, so the
// pass gives 320/450 of what is dissolved.
func TestMeasuredLiquidReplacesTheDefault(t *testing.T) {
	at20 := func(change func(*Pass)) Pass { p := jugPass(); p.RecoveredTempC = new(20.0); change(&p); return p }
	cases := []struct {
		name   string
		pass   Pass
		heldML float64
		origin origin
	}{
		{"default", at20(func(p *Pass) {}), 129.6, assumed},
		{"recovered", at20(func(p *Pass) { p.RecoveredML = new(370.0) }), 80, Measured},
		{"held", at20(func(p *Pass) { p.HeldML = new(95.0) }), 95, Measured},
		// 100 g wet, less the 32.4 g of which nothing dissolves, at 0.99820123 g/mL.
		{"spent", at20(func(p *Pass) { p.SpentG = new(100.0) }), (100 - 32.4) / 0.99820123, Measured},
		{"more out than in, within the reading", at20(func(p *Pass) { p.RecoveredML = new(455.0) }), 0, Measured},
	}
	for _, c := range cases {
		r := run(t, leaf36(c.pass))
		p := r.Passes[0]
		if !near(p.LiquidHeldML, c.heldML, 1e-9) || p.HeldOrigin != c.origin ||
			!near(r.Yield[Water], (450-c.heldML)/450, 1e-6) {
			t.Errorf("%s: %.3f mL held (%s), yield %.4f, want %.3f mL (%s)", c.name, p.LiquidHeldML, p.HeldOrigin,
				r.Yield[Water], c.heldML, c.origin)
		}
		if !near(p.HeldMLPerG, c.heldML/32.4, 1e-9) {
			t.Errorf("%s: %.3f mL/g, want %.3f", c.name, p.HeldMLPerG, c.heldML/32.4)
		}
	}
}

// A volume read hot is smaller at 20 C: 300 mL at 80 C are 300 * 971.785/998.203.
func TestVolumesAreTakenTo20C(t *testing.T) {
	p := jugPass()
	p.RecoveredML = new(300.0)
	r := run(t, leaf36(p))
	if want := 300 * 971.785 / 998.203; !near(r.ExtractML, want, 0.01) {
		t.Errorf("%.3f mL, want %.3f", r.ExtractML, want)
	}
	p = jugPass()
	p.VolumeTempC = new(80.0)
	if r = run(t, leaf36(p)); !near(r.Passes[0].LiquidML, 450*971.785/998.203, 0.01) {
		t.Errorf("%.3f mL poured on, want %.3f", r.Passes[0].LiquidML, 450*971.785/998.203)
	}
}

// What was measured once for a material comes before the default and after what
// is measured now.
func TestRememberedHeldLiquid(t *testing.T) {
	s := leaf36(jugPass(), jugPass())
	s.Remembered = HeldFigures{Drained: new(3.5)}
	s.Passes[1].HeldML = new(60.0)
	r := run(t, s)
	if !near(r.Passes[0].LiquidHeldML, 3.5*32.4, 1e-9) || r.Passes[0].HeldOrigin != Remembered ||
		r.Passes[1].HeldOrigin != Measured {
		t.Errorf("%.2f mL held (%s), then %s; want %.2f mL remembered, then measured",
			r.Passes[0].LiquidHeldML, r.Passes[0].HeldOrigin, r.Passes[1].HeldOrigin, 3.5*32.4)
	}
}

// Measuring what came out takes the held liquid out of the doubt.
func TestMeasuringNarrows(t *testing.T) {
	measured := jugPass()
	measured.RecoveredML = new(290.0)
	var widths [2]float64
	for i, p := range []Pass{jugPass(), measured} {
		s := leaf36(p)
		d, err := s.Doubt(Mix{IntoL: 17}, Draws{N: 4000, Seed: 3})
		if err != nil {
			t.Fatal(err)
		}
		widths[i] = d.Kept[Water].At80.High - d.Kept[Water].At80.Low
		e := d.Dose[Water]
		if !(e.At95.Low <= e.At80.Low && e.At80.Low <= e.At80.Value && e.At80.Value <= e.At80.High &&
			e.At80.High <= e.At95.High) {
			t.Errorf("bands do not nest: %+v", e)
		}
	}
	if !(widths[1] < widths[0]/3) {
		t.Errorf("width %.3f measured, %.3f assumed; want a third at most", widths[1], widths[0])
	}
}

func TestProvenanceTellsMeasuredFromAssumed(t *testing.T) {
	s := leaf36(jugPass(), jugPass())
	s.Moisture, s.Remembered = nil, HeldFigures{Squeezed: new(1.8)}
	s.Passes[0].RecoveredML = new(290.0)
	s.Passes[1].Separation = Squeezed
	want := map[string]origin{"mass": typed, "moisture": assumed, "activation energy": assumed, "pass 1 volume": typed,
		"pass 1 liquid recovered": Measured, "pass 2 held liquid": Remembered, "pass 1 ambient temperature": assumed,
		"pass 1 time": typed, "pass 2 agitation, boiling or stirred": assumed}
	for _, p := range s.Provenance() {
		if o, ok := want[p.Name]; ok && o == p.Origin {
			delete(want, p.Name)
		}
		if p.Name == "" || p.Unit == "" || (p.Origin == assumed && p.Grade == "A") {
			t.Errorf("line %+v", p)
		}
	}
	if len(want) != 0 {
		t.Errorf("missing or of another origin: %v", want)
	}
}

// Inputs of every method are accounted for without a blank name.
func TestProvenanceOfEveryMethod(t *testing.T) {
	steeps := []Steep{
		{Method: Boil, Form: Crushed, MassG: 10, Passes: []Pass{{Minutes: 10}}},
		{Method: FlameOut, Form: Cut, MassG: 10, SolidsGPerL: new(4.0),
			Passes: []Pass{{Minutes: 10, Curve: []figure.CurvePoint{{Minutes: 0, TempC: 98},
				{Minutes: 10, TempC: 90}}}}},
		{Method: Contact, Form: Cut, MassG: 10, KappaMLPerG: 2,
			Passes: []Pass{{Minutes: 7200, InBag: true, ABVPct: new(5.0)}}},
		{Method: Tincture, Form: Cut, MassG: 10, Passes: []Pass{{VolumeML: 100, Minutes: 7200, SpentG: new(40.0)}}},
		{Method: PureeIn, Form: Puree, MassG: 100, Moisture: new(0.85), MoistureOrigin: Catalogue},
		{Method: JuiceIn, Form: Juice, MassG: 100, Moisture: new(0.85)},
		{Method: ColdTea, Form: Cut, MassG: 10, Passes: []Pass{{VolumeML: 200, StartC: new(4.0), Minutes: 700,
			Agitation: NowAndThen, HeldML: new(40.0)}}},
	}
	for _, s := range steeps {
		if _, err := s.Run(); err != nil {
			t.Errorf("%s: %v", s.Method, err)
		}
		for _, p := range s.Provenance() {
			if p.Name == "" || p.Unit == "" {
				t.Errorf("%s: line %+v", s.Method, p)
			}
		}
	}
}

func TestWarnings(t *testing.T) {
	short := jugPass()
	short.Minutes, short.Agitation = 0.5, Still
	thick := stirred(150, Squeezed)
	spirit := Pass{VolumeML: 300, StartC: new(60.0), Minutes: 60, ABVPct: new(40.0)}
	warm := Pass{VolumeML: 450, StartC: new(20.0), Minutes: 900}
	cases := []struct {
		steep   Steep
		mention string
	}{
		{leaf36(stirred(120, Drained)), "nothing runs off: 32.4 g hold about 130 mL; pour on at least 1.5 times that " +
			"(194 mL), or squeeze (about 36 mL), or press (about 84 mL)"},
		{leaf36(stirred(200, Drained)), "keeps about 130 mL, more than half"},
		{Steep{Method: Tea, Form: Cut, MassG: 36, Passes: []Pass{stirred(450, Drained)}}, "kind of material not known"},
		{leaf36(short), "of equilibrium"},
		{leaf36(thick), "very thick: 4.2 mL per gram"},
		{leaf36(warm), "microbes"},
		{Steep{Method: Tincture, Form: Cut, MassG: 36, Passes: []Pass{spirit}}, "flame"},
		{Steep{Method: Contact, Form: Cut, MassG: 36, Passes: []Pass{{Minutes: 9 * 1440}}}, "9 days"},
		{Steep{Method: FlameOut, Form: Cut, MassG: 36, Passes: []Pass{{Minutes: 10}}}, "taken as 95 C"},
		{Steep{Method: PureeIn, Form: Puree, MassG: 36, Moisture: new(0.85)}, "a week"},
		{Steep{Method: Tea, Form: Cut, MassG: 36, Kind: Swelling, Passes: []Pass{stirred(600, Drained)}}, "drains badly"},
	}
	for _, c := range cases {
		if got := strings.Join(run(t, c.steep).Warnings, "; "); !strings.Contains(got, c.mention) {
			t.Errorf("warnings %q, want one with %q", got, c.mention)
		}
	}
	s := leaf36(stirred(120, Drained))
	s.Remembered.Drained = new(5.0)
	if got := run(t, s).Warnings[0]; !strings.Contains(got, "hold about 162 mL") {
		t.Errorf("%q, want the remembered 162 mL", got)
	}
}

// By hand: where only the moisture differs in doubt, the doubt of the dry matter is
// 0.015/(1-M) of it: 0.1 for fruit of 85 % water, 0.0167 for dried goods; it adds
// in squares to that of the ceiling.
func TestMeasuredMoistureNarrows(t *testing.T) {
	for _, c := range []struct{ moisture, sdLn float64 }{{0.85, 0.1}, {0.10, 0.0167}} {
		sd := func(o origin) float64 {
			s := Steep{Method: JuiceIn, Form: Juice, MassG: 100, Moisture: &c.moisture, MoistureOrigin: o}
			d, err := s.Doubt(Mix{IntoL: 10}, Draws{N: 20000, Seed: 5})
			if err != nil {
				t.Fatal(err)
			}
			return d.Dose[Water].SDLn
		}
		measured, table := sd(Measured), sd(Catalogue)
		if got := math.Sqrt(table*table - measured*measured); !near(got, c.sdLn, 0.1*c.sdLn) {
			t.Errorf("moisture %.2f: a table adds %.4f to the doubt, want %.4f", c.moisture, got, c.sdLn)
		}
	}
}

// Own trials shift the method they belong to, and nothing else: a potency of
// one half halves the dose.
func TestOwnTrialsShiftTheDose(t *testing.T) {
	s := leaf36(stirred(450, Drained))
	before := run(t, s)
	s.OwnTrials[Water] = &LnNormal{Ln: math.Log(0.5), SDLn: 0.1}
	after := run(t, s)
	if !near(after.Ceiling[Water], before.Ceiling[Water]/2, 1e-12) || after.Ceiling[Aroma] != before.Ceiling[Aroma] ||
		after.Yield != before.Yield {
		t.Errorf("u %v to %v", before.Ceiling, after.Ceiling)
	}
	d, err := s.Doubt(Mix{IntoL: 17}, Draws{N: 4000, Seed: 2})
	if err != nil || !near(d.Dose[Water].At80.Value, 1.2579/2, 5e-5) || d.Dose[Water].At80.High < 1.2579/2 {
		t.Errorf("%+v, %v, want about %.4f", d.Dose[Water], err, 1.2579/2)
	}
	if low := d.Dose[Water].At95.Low; low > 1.2579/2*0.9 {
		t.Errorf("the sd of the trials is not in the interval: low %v", low)
	}
}
