package extraction

import "testing"

// sectionSix are the methods of a comparison that was computed
// independently: 36 g of cut, dried leaf in 17 L, water class. The later
// passes of C stand at equilibrium; the short jug cools like the long one. The table
// knows neither own water nor the volume of solids.
func sectionSix() []Entry {
	jug := func(minutes float64, a Agitation) Pass {
		end := coolingSpan{StartC: 94, EndC: 52, AmbientC: 20, Minutes: 45}
		law, _ := end.cooling()
		return Pass{VolumeML: 450, StartC: new(94.0), CoolingPerMin: new(law.PerMin), Minutes: minutes, Agitation: a}
	}
	sock := func(tempC, minutes float64) Pass {
		return Pass{StartC: new(tempC), Minutes: minutes, InBag: true, Agitation: Still}
	}
	entry := func(name string, m Method, passes ...Pass) Entry {
		return Entry{Name: name, Mix: Mix{IntoL: 17}, Steep: Steep{Method: m, Form: Cut, Kind: LeafFlower,
			MassG: 32.4, Moisture: new(0.0), Soluble: &SolubleFigure{}, Passes: passes}}
	}
	return []Entry{
		entry("F", contact, sock(20, 5*1440)),
		entry("A", FlameOut, Pass{StartC: new(98.0), EndC: new(92.0), Minutes: 10, Agitation: NowAndThen}),
		entry("C", Tea, jug(45, Still), Pass{VolumeML: 350, Efficiency: new(1.0)},
			Pass{VolumeML: 250, Efficiency: new(1.0), Separation: Squeezed}),
		entry("B", Tea, jug(45, Still)),
		entry("D", Tea, jug(5, NowAndThen)),
		entry("E", coldTea, Pass{VolumeML: 450, StartC: new(4.0), Minutes: 720, Agitation: Still}),
		entry("G", contact, sock(4, 240)),
	}
}

// Points and 80 % limits of a separate program with 40 000 draws,
// which the page calls an orientation; five hundredths of a g/L cover its rounding and
// the scatter of 10 000. The limits of G, short and cold, stand there for water; for
// beer of 5 % vol, where its point is, two hundred thousand plain draws written down
// apart give 0.314 to 1.337.
func TestMethodComparison(t *testing.T) {
	c, err := Compare(Water, sectionSix(), Draws{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		name             string
		point, low, high float64
	}{
		{"F", 1.80, 1.38, 2.12}, {"A", 1.76, 1.11, 2.08}, {"C", 1.67, 1.32, 1.96}, {"B", 1.26, 0.82, 1.51},
		{"D", 1.05, 0.50, 1.38}, {"E", 1.03, 0.40, 1.38}, {"G", 0.56, 0.314, 1.337},
	}
	for i, w := range want {
		e := c.Rows[i].Dose.At80
		if c.Rows[i].Name != w.name || !near(e.Value, w.point, 0.006) || !near(e.Low, w.low, 0.05) ||
			!near(e.High, w.high, 0.05) {
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
		call call
	}{
		"C>B": {1.00, stronger}, "A>B": {0.94, stronger}, "B>D": {0.97, stronger},
		"A>C": {0.65, cannotTell}, "B>E": {0.90, stronger},
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
			if !near(p.Ratio.Low, 1.21, 0.03) || !near(p.Ratio.High, 1.82, 0.05) {
				t.Errorf("C/B %.2f to %.2f, want 1.21 to 1.82", p.Ratio.Low, p.Ratio.High)
			}
		}
	}
	if seen != len(want) {
		t.Errorf("%d of %d pairs seen", seen, len(want))
	}
}
