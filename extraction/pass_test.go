package extraction

import (
	"math"
	"testing"

	"hedgerow/trials/figure"
)

// tauOf returns the reduced time of a single stage.
func tauOf(t *testing.T, p Pass) float64 {
	t.Helper()
	r := run(t, Steep{Method: FlameOut, Form: Cut, MassG: 10, Passes: []Pass{p}})
	return r.Passes[0].ReducedMinutes[Water]
}

// One heat, logged in every way a pass allows. Expected values: the published
// rows of reduced time (15.1599 for 98 to 92 C by Newton, 15.1761 on a straight
// line, 43.6166 for the curve of four readings), and theta(95 C) = 1.51632.
func TestWaysToLogHeat(t *testing.T) {
	h := math.Log(78.0/72) / 10
	cases := []struct {
		name string
		pass Pass
		want float64
	}{
		{"two ends", Pass{StartC: new(98.0), EndC: new(92.0), Minutes: 10}, 15.1599091448},
		{"cooling constant", Pass{StartC: new(98.0), CoolingPerMin: &h, Minutes: 10}, 15.1599091448},
		{"curve of two", Pass{Curve: []figure.CurvePoint{{Minutes: 0, TempC: 98}, {Minutes: 10, TempC: 92}}}, 15.1760621028},
		{"curve of four", Pass{Curve: []figure.CurvePoint{{Minutes: 0, TempC: 96}, {Minutes: 5, TempC: 89},
			{Minutes: 20, TempC: 72}, {Minutes: 60, TempC: 45}}}, 43.6165854538},
		{"constant", Pass{StartC: new(95.0), Minutes: 10}, 15.1632311923},
		{"equal ends", Pass{StartC: new(95.0), EndC: new(95.0), Minutes: 10}, 15.1632311923},
		{"a curve that hardly moves", Pass{Curve: []figure.CurvePoint{{Minutes: 0, TempC: 95.1},
			{Minutes: 10, TempC: 94.9}}}, 15.1632311923},
		{"heated is a straight line", Pass{StartC: new(92.0), EndC: new(98.0), Minutes: 10}, 15.1760621028},
	}
	for _, c := range cases {
		tol := 1e-6
		if c.name == "a curve that hardly moves" {
			tol = 1e-3 // symmetric about 95 C, curvature only
		}
		if got := tauOf(t, c.pass); !near(got, c.want, tol) {
			t.Errorf("%s: tau %.7f, want %.7f", c.name, got, c.want)
		}
	}
}

// Cold liquid that warms up in a room is Newton's law too: the published row of
// 4 C in 20 C, h 0.01, 720 min.
func TestWarming(t *testing.T) {
	r := run(t, Steep{Method: ColdTea, Form: Cut, MassG: 10, Passes: []Pass{
		{VolumeML: 300, StartC: new(4.0), CoolingPerMin: new(0.01), Minutes: 720}}})
	if got := r.Passes[0].ReducedMinutes[Water]; !near(got, 81.7163874005, 1e-6) {
		t.Errorf("tau %.7f, want 81.7163874", got)
	}
}

// What boils off in a pass is missing from its liquid: by hand, on 32.4 g of dry
// matter that hold 129.6 mL, 450 - 50 - 129.6.
func TestBoiledOff(t *testing.T) {
	p := Pass{VolumeML: 450, StartC: new(100.0), Boiling: true, Minutes: 60, BoiledOffML: 50}
	r := run(t, leaf36(p))
	if !near(r.ExtractML, 270.4, 1e-9) || !near(r.Yield[Water], 270.4/400, 1e-6) {
		t.Errorf("%.2f mL with %.4f, want 270.4 mL with %.4f", r.ExtractML, r.Yield[Water], 270.4/400)
	}
}

// Material left in the last pass goes into the beer with all of its liquid.
func TestLeftIn(t *testing.T) {
	r := run(t, leaf36(stirred(450, LeftIn)))
	if !near(r.Yield[Water], 1, 1e-9) || !near(r.ExtractML, 450, 1e-9) || r.Left.HeldML != 0 {
		t.Errorf("%.2f mL with %.4f and %.1f mL held, want all of 450 mL", r.ExtractML, r.Yield[Water], r.Left.HeldML)
	}
}

// A stage of a boil below the boil is a stand, a hot one is a boil, and a boiling
// pass counts as stirred (sections 2 and 3).
func TestBoilStages(t *testing.T) {
	r := run(t, Steep{Method: Boil, Form: Cut, MassG: 10,
		Passes: []Pass{{Minutes: 10}, {StartC: new(90.0), Minutes: 10}, {StartC: new(99.0), Minutes: 10}}})
	for i, want := range []float64{1, 0.5, 1} {
		if got := r.Passes[i].RateFactor; got != want {
			t.Errorf("stage %d: rate factor %v, want %v", i+1, got, want)
		}
	}
	if got := (&Steep{Method: Contact}).IsBoiling(&Pass{StartC: new(99.0)}); got {
		t.Error("hot contact is taken for a boil")
	}
}

// Half-lives of section 3: 20 min at a boil, 120 min hot, nil below 60 C; colour
// 180 min at 100 C and 65 kJ/mol, whose rate at 80 C is by hand
// exp(-7817.7 (1/353.15 - 1/373.15)) = 0.3053 of that at 100 C.
func TestLossRates(t *testing.T) {
	cases := []struct {
		class   Class
		tempC   float64
		boiling bool
		half    float64
	}{{Aroma, 100, true, 20}, {Aroma, 100, false, 120}, {Aroma, 60, false, 120}, {Colour, 100, true, 180},
		{Colour, 80, false, 180 / 0.3053}}
	for _, c := range cases {
		if got := math.Ln2 / c.class.lossRate(c.tempC, c.boiling); !near(got, c.half, 1e-3*c.half) {
			t.Errorf("%s at %v C, boiling %v: half-life %.2f min, want %.2f", c.class, c.tempC, c.boiling, got, c.half)
		}
	}
	for _, c := range []Class{Water, Resin} {
		if c.lossRate(100, true) != 0 {
			t.Errorf("%s decays", c)
		}
	}
	if Aroma.lossRate(59.9, false) != 0 {
		t.Error("aroma leaves below 60 C")
	}
}
