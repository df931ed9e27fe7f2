package extraction

import (
	"math"
	"testing"
)

// theta is the temperature law as section 1 has it, written once more.
func theta(eaKJ, tempC float64) float64 {
	return math.Exp(-eaKJ * 1000 / 8.314462618 * (1/(tempC+273.15) - 1/353.15))
}

// reducedMinutes is tau of pieces as a steep works it out.
func reducedMinutes(eaKJ float64, pieces []piece) float64 {
	var p plan
	for _, h := range pieces {
		p.pieces = append(p.pieces, planPiece{minutes: h.minutes, coldness: h.coldness})
	}
	return p.reduced(&passPlan{to: len(p.pieces)}, eaKJ)
}

// cooled is tau of minutes of Newton's law.
func cooled(eaKJ float64, c cooling, minutes float64) float64 {
	return reducedMinutes(eaKJ, appendPieces(nil, newtonLeg(c, minutes)))
}

// standing is tau of a minute at one temperature.
func standing(eaKJ, tempC float64) float64 { return cooled(eaKJ, cooling{StartC: tempC}, 1) }

// A table of theta, Arrhenius computed independently, four digits.
func TestThetaTable(t *testing.T) {
	temps := []float64{4, 10, 20, 25, 40, 60, 70, 80, 90, 95, 98, 100}
	rows := map[float64][]float64{
		20: {.1545, .1856, .2481, .2846, .4189, .6644, .8200, 1, 1.2063, 1.3199, 1.3914, 1.4406},
		30: {.0607, .0800, .1235, .1519, .2712, .5415, .7425, 1, 1.3249, 1.5163, 1.6413, 1.7291},
		40: {.0239, .0345, .0615, .0810, .1755, .4414, .6723, 1, 1.4552, 1.7420, 1.9361, 2.0754},
	}
	for ea, row := range rows {
		for i, want := range row {
			if got := standing(ea, temps[i]); !near(got, want, 5.1e-5) {
				t.Errorf("Ea %v at %v C: %.5f, want %.4f", ea, temps[i], got, want)
			}
		}
	}
}

// jug is the covered jug of section 6: 96 to 45 C in 60 min, 20 C around.
func jug(t *testing.T) cooling {
	t.Helper()
	c, err := coolingSpan{StartC: 96, EndC: 45, AmbientC: 20, Minutes: 60}.cooling()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Text under the cooling table in section 6: how early the jug does its work,
// and by how much the mean temperature overstates it.
func TestJugWorksEarly(t *testing.T) {
	c := jug(t)
	whole := cooled(EaKJ, c, 60)
	for _, w := range []struct{ minutes, share float64 }{{10, 0.31}, {20, 0.53}, {30, 0.69}, {45, 0.87}} {
		if part := cooled(EaKJ, c, w.minutes); !near(part/whole, w.share, 0.0051) {
			t.Errorf("%v min give %.3f of it, want %.2f", w.minutes, part/whole, w.share)
		}
	}
	if mean := standing(EaKJ, 70.5); !near(60*mean, 45.24, 0.005) {
		t.Errorf("at the mean temperature %.3f, want 45.24", 60*mean)
	}
}

// simpson is tau by the composite rule with 200 intervals, exact to
// many digits here.
func simpson(c cooling, minutes float64) float64 {
	const n = 200
	sum := 0.0
	for i := 0; i <= n; i++ {
		weight := 2.0
		switch {
		case i == 0 || i == n:
			weight = 1
		case i%2 == 1:
			weight = 4
		}
		sum += weight * theta(EaKJ, c.at(minutes*float64(i)/n))
	}
	return sum * minutes / n / 3
}

// Gauss pieces against Simpson's rule: cooling, warming, slow, fast, and cut at
// the temperatures where a rule changes.
func TestReducedMinutesAgainstSimpson(t *testing.T) {
	cases := []struct{ start, ambient, perMin, minutes, tol float64 }{
		{98, 20, 0.008, 10, 1e-8}, {96, 20, 0.0185, 60, 1e-8}, {4, 20, 0.01, 300, 1e-6}, {100, -20, 0.05, 60, 1e-6},
		{60, 20, 0.02, 45, 1e-8}, {20, 90, 0.03, 40, 1e-7}, {80, 20, 0, 30, 1e-10}, {50, 20, 1e-5, 30, 1e-9},
	}
	for _, c := range cases {
		law := cooling{c.start, c.ambient, c.perMin}
		got := cooled(EaKJ, law, c.minutes)
		if want := simpson(law, c.minutes); !near(got, want, c.tol) {
			t.Errorf("%+v: %.10f, want %.10f", c, got, want)
		}
	}
}

// A body left for ever is at ambient: the time beyond counts at that rate.
func TestReducedMinutesOfAVeryLongStand(t *testing.T) {
	law := cooling{StartC: 90, AmbientC: 20, PerMin: 0.05}
	short, long := cooled(EaKJ, law, 2000), cooled(EaKJ, law, 52000)
	if want := 50000 * theta(EaKJ, 20); !near(long-short, want, 1e-6) {
		t.Errorf("50 000 min more give %.6f, want %.6f", long-short, want)
	}
}

// Equivalent constant temperatures of the table in section 6: the temperature at
// which the same minutes release as much, within the 0.05 C of its last digit.
func TestEquivalentTemperature(t *testing.T) {
	flame, err := coolingSpan{StartC: 98, EndC: 92, AmbientC: 20, Minutes: 10}.cooling()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		law            cooling
		minutes, wantC float64
	}{{flame, 10, 95.0}, {jug(t), 60, 68.6}} {
		tau := cooled(EaKJ, c.law, c.minutes)
		inverse := 1/353.15 - 8.314462618/EaKJ/1000*math.Log(tau/c.minutes)
		if got := 1/inverse - 273.15; !near(got, c.wantC, 0.05) {
			t.Errorf("%.2f C, want %.1f C", got, c.wantC)
		}
	}
}

// Steeps that fall through 60 and 50 C from many starts: rounding must not put
// the cut beside the border and look for it again. Expected: Simpson's rule.
func TestEveryCrossingIsCutOnce(t *testing.T) {
	for start := 50.001; start < 100; start += 0.173 {
		law := cooling{StartC: start, AmbientC: 20, PerMin: 0.0371}
		got := cooled(EaKJ, law, 37)
		if want := simpson(law, 37); !near(got, want, 1e-6) {
			t.Fatalf("from %.3f C: %.9f, want %.9f", start, got, want)
		}
	}
}

func TestCoolingRefuses(t *testing.T) {
	for _, s := range []coolingSpan{
		{96, 15, 20, 10}, {96, 20, 20, 10}, {20, 30, 20, 10}, {96, 80, 20, 0}, {96, 80, 20, -1}, {120, 80, 20, 5},
		{90, 80, -30, 5},
	} {
		if _, err := s.cooling(); err == nil {
			t.Errorf("%+v is accepted", s)
		}
	}
	if c, err := (coolingSpan{20, 20, 20, 5}).cooling(); err != nil || c.PerMin != 0 {
		t.Errorf("constant at ambient: %+v, %v, want no cooling", c, err)
	}
}

// Kell's equation against the table of water densities that the shared checks
// give for it (kg/m3); 2e-3 covers the step between temperature scales.
func TestWaterDensity(t *testing.T) {
	for tempC, want := range map[float64]float64{0: 999.83952, 20: 998.20312, 40: 992.21186, 60: 983.1908,
		80: 971.78465, 100: 958.34493} {
		if got := waterDensity(tempC); !near(got, want, 2e-3) {
			t.Errorf("%v C: %.5f, want %.5f", tempC, got, want)
		}
	}
}

// Loss over a curve that falls through 60 C: aroma fades with 120 min half-life
// only until then. Time to 60 C by hand: ln(76/40)/h.
func TestAromaFadesOnlyAboveTheBorder(t *testing.T) {
	c := jug(t)
	hot := math.Log(76.0/40) / c.PerMin
	r := run(t, Steep{Method: FlameOut, Form: Juice, MassG: 10, Moisture: new(0.85), Passes: []Pass{
		{StartC: new(96.0), EndC: new(45.0), Minutes: 60}}})
	if want := math.Exp2(-hot / 120); !near(r.Survival[Aroma], want, 1e-9) {
		t.Errorf("%.9f survives, want %.9f", r.Survival[Aroma], want)
	}
}

// Loss and release together along a falling temperature, against small
// isothermal steps integrated in the test. Loss is summed over eight pieces per
// stretch in order of time, good to a ten-thousandth.
func TestFadingWhileCooling(t *testing.T) {
	c := jug(t)
	p := pot{0.85, 0.15}
	const n = 60000
	for i := range n {
		tempC := c.at(60 * (float64(i) + 0.5) / n)
		k := 0.35 * 0.5 * theta(25, tempC) * 60 / n
		p = p.release(k, Colour.lossRate(tempC, false)*60/n, 1)
	}
	r := run(t, Steep{Method: FlameOut, Form: Cut, MassG: 10,
		Passes: []Pass{{StartC: new(96.0), EndC: new(45.0), Minutes: 60}}})
	if !near(r.kept(Colour), p.dissolved, 1e-4) {
		t.Errorf("%.6f kept, want %.6f", r.kept(Colour), p.dissolved)
	}
}
