package extraction

import "testing"

// sectionSix are the methods of the comparison that closes section 6 of the
// science page: 28 g of cut, dried material in 20 L, water class. The second
// pass of C stands at equilibrium; the short jug cools like the long one.
func sectionSix() []Entry {
	jug := func(minutes float64, a Agitation) Pass {
		end := CoolingSpan{StartC: 96, EndC: 45, AmbientC: 20, Minutes: 60}
		law, _ := end.Cooling()
		return Pass{VolumeML: 400, StartC: new(96.0), CoolingPerMin: new(law.PerMin), Minutes: minutes, Agitation: a}
	}
	sock := func(tempC, minutes float64) Pass {
		return Pass{StartC: new(tempC), Minutes: minutes, InBag: true, Agitation: Still}
	}
	entry := func(name string, m Method, passes ...Pass) Entry {
		return Entry{Name: name, Mix: Mix{IntoL: 20},
			Steep: Steep{Method: m, Form: Cut, MassG: 28, Moisture: new(0.10), Passes: passes}}
	}
	return []Entry{
		entry("F", Contact, sock(20, 5*1440)),
		entry("A", FlameOut, Pass{StartC: new(98.0), EndC: new(92.0), Minutes: 10, Agitation: NowAndThen}),
		entry("C", Tea, jug(60, Still), Pass{VolumeML: 400, Efficiency: new(1.0), Separation: Squeezed}),
		entry("B", Tea, jug(60, Still)),
		entry("E", ColdTea, Pass{VolumeML: 400, StartC: new(4.0), Minutes: 720, Agitation: Still}),
		entry("G", Contact, sock(4, 240)),
		entry("D", Tea, jug(5, NowAndThen)),
	}
}

// Points and 80 % limits from the table that closes section 6. The page calls
// the limits an orientation from 40 000 draws; three hundredths of a g/L covers
// its rounding and the scatter of 10 000.
func TestMethodComparison(t *testing.T) {
	c, err := Compare(Water, sectionSix(), Draws{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		name             string
		point, low, high float64
	}{
		{"F", 1.33, 1.21, 1.40}, {"A", 1.30, 0.88, 1.39}, {"C", 1.25, 1.11, 1.31}, {"B", 0.94, 0.71, 1.04},
		{"E", 0.93, 0.55, 1.03}, {"G", 0.80, 0.34, 1.30}, {"D", 0.80, 0.40, 0.98},
	}
	for i, w := range want {
		e := c.Rows[i].Dose.At80
		if c.Rows[i].Name != w.name || !near(e.Value, w.point, 0.006) || !near(e.Low, w.low, 0.03) ||
			!near(e.High, w.high, 0.03) {
			t.Errorf("%s: %.3f (%.3f to %.3f), want %s %.2f (%.2f to %.2f)", c.Rows[i].Name, e.Value, e.Low, e.High,
				w.name, w.point, w.low, w.high)
		}
		if i > 0 && e.Value > c.Rows[i-1].Dose.At80.Value+0.005 {
			t.Errorf("%s stands above %s", c.Rows[i].Name, c.Rows[i-1].Name)
		}
	}
}

// Probabilities and calls printed under the same table: within about 0.1.
func TestMethodPairs(t *testing.T) {
	c, err := Compare(Water, sectionSix(), Draws{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]struct {
		p    float64
		call Call
	}{
		"C>B": {1.00, Stronger}, "A>B": {0.92, Stronger}, "B>D": {0.98, Stronger},
		"A>C": {0.55, CannotTell}, "B>E": {0.68, CannotTell},
	}
	seen := 0
	for _, p := range c.Pairs {
		w, ok := want[c.Rows[p.First].Name+">"+c.Rows[p.Second].Name]
		if !ok {
			continue
		}
		seen++
		if !near(p.P, w.p, 0.1) || p.Call != w.call {
			t.Errorf("P(%s > %s) = %.2f, %s, want %.2f, %s", c.Rows[p.First].Name, c.Rows[p.Second].Name, p.P, p.Call,
				w.p, w.call)
		}
		if c.Rows[p.First].Name == "C" && c.Rows[p.Second].Name == "B" {
			if !near(p.Ratio.Low, 1.25, 0.03) || !near(p.Ratio.High, 1.66, 0.05) {
				t.Errorf("C/B %.2f to %.2f, want 1.25 to 1.66", p.Ratio.Low, p.Ratio.High)
			}
		}
	}
	if seen != len(want) {
		t.Errorf("%d of %d pairs seen", seen, len(want))
	}
}
