package extraction

import (
	"math"
	"testing"

	"hedgerow/trials/figure"

	"pgregory.net/rapid"
)

// slowSteep is the model of doc.go written down once more, the plain
// way: small steps of time, the differential equations as they stand, one class.
// It shares only the tables of defaults with the package.
type slowSteep struct {
	steep Steep
	class Class
	steps int
}

// slowTemperature is the temperature t minutes into a pass, by section 6.
func slowTemperature(p Pass, t float64) float64 {
	if len(p.Curve) > 0 {
		for i := 1; i < len(p.Curve); i++ {
			a, b := p.Curve[i-1], p.Curve[i]
			if at := t + p.Curve[0].Minutes; at <= b.Minutes {
				return a.TempC + (b.TempC-a.TempC)*(at-a.Minutes)/(b.Minutes-a.Minutes)
			}
		}
		return p.Curve[len(p.Curve)-1].TempC
	}
	if p.EndC == nil || *p.EndC == *p.StartC {
		return *p.StartC
	}
	const ambient = 20
	h := math.Log((*p.StartC-ambient)/(*p.EndC-ambient)) / p.Minutes
	return ambient + (*p.StartC-ambient)*math.Exp(-h*t)
}

// slowLoss is kv by the rule of section 3.
func slowLoss(c Class, tempC float64, boiling bool) float64 {
	switch {
	case c == Colour:
		return math.Ln2 / 180 * math.Exp(-65000/8.314462618*(1/(tempC+273.15)-1/373.15))
	case c == Aroma && boiling:
		return math.Ln2 / 20
	case c == Aroma && tempC >= 60:
		return math.Ln2 / 120
	}
	return 0
}

// kept returns Y S of the class.
func (s slowSteep) kept() float64 {
	row := formRows[s.steep.Form]
	moisture := *s.steep.Moisture
	dry := s.steep.MassG * (1 - moisture)
	solid, dissolved := 1-row.Washed, row.Washed
	held, out := s.steep.MassG*moisture/0.99820123, 0.0
	rel := map[Class]float64{Water: 1, Colour: 1, Aroma: 0.7, Resin: 0.3, Acid: 1.5, small: 1, Tannin: 0.5}
	ea := map[Class]float64{Water: 30, Colour: 25, Aroma: 30, Resin: 40, Acid: 20, small: 40, Tannin: 45}
	// All that water dissolves, for its volume: solid, and in the liquid.
	soluble, _ := s.steep.Kind.SolubleShare()
	leaf, washed := 1.0, row.Washed
	given := 0.0
	alive := true
	for _, p := range s.steep.Passes {
		minutes := p.Minutes
		if n := len(p.Curve); n > 0 {
			minutes = p.Curve[n-1].Minutes - p.Curve[0].Minutes
		}
		hottest := 0.0
		// The readings of a curve stand at thirds; 1e-9 is for their rounding.
		for i := 0; i <= 300; i++ {
			hottest = max(hottest, slowTemperature(p, minutes*float64(i)/300)+1e-9)
		}
		g := map[Agitation]float64{Stirred: 1, rollingBoil: 1, NowAndThen: 0.7}[p.Agitation]
		switch {
		case p.Boiling && p.Agitation == unstated:
			g = 1
		case g == 0 && hottest >= 50:
			g = 0.5
		case g == 0:
			g = 0.1
		}
		if p.InBag {
			g *= 0.5
		}
		liquid := p.VolumeML + held
		phi := liquid / (liquid + s.steep.KappaMLPerG*dry)
		dt := minutes / float64(s.steps)
		before := leaf
		if washed > 0 {
			leaf, given, washed = 1-washed, washed, 0
		}
		for i := range s.steps {
			tempC := slowTemperature(p, dt*(float64(i)+0.5))
			base := row.K80 * g
			if alive = alive && tempC < 50; alive {
				base *= row.Live
			}
			rate := func(c Class) float64 {
				return base * rel[c] * math.Exp(-ea[c]*1000/8.314462618*(1/(tempC+273.15)-1/353.15))
			}
			k := rate(s.class)
			// The midpoint rule on both equations.
			slope := func(a, b float64) (float64, float64) {
				release := k / phi * (a - (1-phi)*(a+b))
				return -release, release - slowLoss(s.class, tempC, p.Boiling)*b
			}
			da, db := slope(solid, dissolved)
			da, db = slope(solid+da*dt/2, dissolved+db*dt/2)
			solid, dissolved = solid+da*dt, dissolved+db*dt
			k = rate(Water)
			dw := k / phi * (leaf - (1-phi)*(leaf+given))
			dw = k / phi * (leaf - dw*dt/2 - (1-phi)*(leaf+given))
			leaf, given = leaf-dw*dt, given+dw*dt
		}
		liquid += 0.60 * soluble * dry * (before - leaf)
		held = min(s.steep.Kind.HeldMLPerG(p.Separation)*dry, liquid)
		given *= held / liquid
		out += dissolved * (liquid - held) / liquid
		dissolved *= held / liquid
	}
	return out
}

// Random steeps against the plain way: forms, cooling, curves, boils, bags,
// sorption, fresh material, all classes. The plain way takes 4000 steps of the
// midpoint rule, good to about 1e-4 where a rate changes inside a step.
func TestSteepAgainstThePlainWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Steep{Method: Tea, Form: Form(rapid.IntRange(0, int(Puree)).Draw(t, "form")),
			Kind:        Kind(rapid.IntRange(0, int(kindCount)-1).Draw(t, "material")),
			MassG:       rapid.Float64Range(5, 100).Draw(t, "mass"),
			Moisture:    new(rapid.SampledFrom([]float64{0.1, 0.85}).Draw(t, "moisture")),
			KappaMLPerG: rapid.SampledFrom([]float64{0, 3}).Draw(t, "kappa")}
		for range rapid.IntRange(1, 3).Draw(t, "passes") {
			p := drawPass(t, "pass")
			p.Minutes = rapid.Float64Range(0.5, 90).Draw(t, "short")
			p.VolumeML = rapid.Float64Range(100, 1000).Draw(t, "enough")
			switch rapid.IntRange(0, 2).Draw(t, "kind") {
			case 1:
				p.Boiling = true
			case 2:
				p.Curve = []figure.CurvePoint{{Minutes: 3, TempC: *p.StartC},
					{Minutes: 3 + p.Minutes/3, TempC: rapid.Float64Range(5, 99).Draw(t, "middle")},
					{Minutes: 3 + p.Minutes, TempC: *p.EndC}}
			}
			s.Passes = append(s.Passes, p)
		}
		r := mustRun(t, s)
		for _, c := range everyClass {
			want := slowSteep{s, c, 4000}.kept()
			if got := r.kept(c); !near(got, want, 1e-3) {
				t.Fatalf("%s: kept %.6f, the plain way %.6f", c, got, want)
			}
		}
	})
}
