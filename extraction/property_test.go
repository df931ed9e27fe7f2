package extraction

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// drawPass draws a pass of an extract that must be accepted.
func drawPass(t *rapid.T, label string) Pass {
	start := rapid.Float64Range(21, 100).Draw(t, label+" start")
	return Pass{
		VolumeML:   rapid.Float64Range(1, 2000).Draw(t, label+" volume"),
		StartC:     &start,
		EndC:       new(rapid.Float64Range(20.5, start).Draw(t, label+" end")),
		Minutes:    rapid.Float64Range(0.1, 1000).Draw(t, label+" minutes"),
		Agitation:  Agitation(rapid.IntRange(0, int(Stirred)).Draw(t, label+" agitation")),
		InBag:      rapid.Bool().Draw(t, label+" bag"),
		Separation: Separation(rapid.IntRange(0, int(ScrewPressed)).Draw(t, label+" separation")),
	}
}

// drawTea draws a tea of one to three passes without sorption.
func drawTea(t *rapid.T) Steep {
	s := Steep{Method: Tea, Form: Form(rapid.IntRange(0, int(formCount)-1).Draw(t, "form")),
		Kind:  Kind(rapid.IntRange(0, int(kindCount)-1).Draw(t, "kind")),
		MassG: rapid.Float64Range(0.1, 500).Draw(t, "mass"), Moisture: new(rapid.Float64Range(0, 0.95).Draw(t, "moisture"))}
	for range rapid.IntRange(1, 3).Draw(t, "passes") {
		s.Passes = append(s.Passes, drawPass(t, "pass"))
	}
	return s
}

// mustRun runs a steep that the generators made.
func mustRun(t *rapid.T, s Steep) Result {
	r, err := s.Run()
	if err != nil {
		t.Fatalf("%+v: %v", s, err)
	}
	return r
}

// slack is what two floating-point ways to one figure may differ by.
const slack = 1e-9

// Everything that was extractable is somewhere: kept, in the solids, in the held
// liquid or lost; shares stay within 0 and 1, with sorption too; no figure is NaN.
func TestSharesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawTea(t)
		s.KappaMLPerG = rapid.Float64Range(0, 9).Draw(t, "kappa")
		r := mustRun(t, s)
		for _, c := range everyClass {
			sum := r.kept(c) + r.Left.Undissolved[c] + r.Left.InHeldLiquid[c] + r.Left.LostByHeat[c]
			if !near(sum, 1, 1e-7) || !(r.Yield[c] >= 0 && r.Yield[c] <= 1+slack) ||
				!(r.Survival[c] >= 0 && r.Survival[c] <= 1) {
				t.Fatalf("%s: sum %v, yield %v, survival %v", c, sum, r.Yield[c], r.Survival[c])
			}
			for _, p := range r.Passes {
				if e := p.ShareOfEquilibrium[c]; !(e >= 0 && e <= 1) {
					t.Fatalf("%s: share of equilibrium %v", c, e)
				}
			}
		}
	})
}

// No liquid is made or lost: own water, passes and what dissolves in, extract and
// held out.
func TestLiquidAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawTea(t)
		r := mustRun(t, s)
		in := s.wet().ownWaterML()
		for _, p := range s.Passes {
			in += p.VolumeML
		}
		in += apparentMLPerG * s.soluble().Share * r.DryG * (1 - r.Left.Undissolved[Water])
		if out := r.ExtractML + r.Left.HeldML; !near(out, in, 1e-9*in) {
			t.Fatalf("%v mL in, %v mL out", in, out)
		}
	})
}

// displaced is the largest share of the liquid that dissolved solids can take up: so
// much of a class that comes out fast can be lost to those that come out after it,
// since of a liquid that grows, while the plant holds as much of it, a thinner part
// runs off.
func displaced(s Steep, r Result) float64 {
	liquid := s.wet().ownWaterML()
	for _, p := range s.Passes {
		liquid += p.VolumeML
	}
	return apparentMLPerG * s.soluble().Share * r.DryG / liquid
}

// raises fails when the changed steep yields less of a class before heat loss than
// what dissolved solids can displace.
func raises(t *rapid.T, what string, before, after Steep) {
	a, b := mustRun(t, before), mustRun(t, after)
	thinned := displaced(before, a)
	for _, c := range everyClass {
		if b.Yield[c] < a.Yield[c]*(1-thinned)-slack {
			t.Fatalf("%s lowers %s from %v to %v", what, c, a.Yield[c], b.Yield[c])
		}
	}
}

// More time, heat, stirring, passes or squeezing at the end never lowers the
// yield before heat loss. (Squeezing an early, short pass can: it takes away
// liquid that would have carried more in the next.)
func TestMoreNeverLowersTheYield(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawTea(t)
		last := len(s.Passes) - 1
		i := rapid.IntRange(0, last).Draw(t, "which")
		longer, hotter, stirred, pressed, more := s.Copied(), s.Copied(), s.Copied(), s.Copied(), s.Copied()
		longer.Passes[i].Minutes *= rapid.Float64Range(1, 10).Draw(t, "longer")
		start := *s.Passes[i].StartC
		hotter.Passes[i].StartC = new(rapid.Float64Range(start, 100).Draw(t, "hotter"))
		stirred.Passes[i].Agitation, stirred.Passes[i].InBag = Stirred, false
		pressed.Passes[last].Separation = ScrewPressed
		more.Passes = append(more.Passes, drawPass(t, "more"))
		raises(t, "longer", s, longer)
		raises(t, "hotter", s, hotter)
		raises(t, "stirring", s, stirred)
		raises(t, "squeezing", s, pressed)
		raises(t, "another pass", s, more)
	})
}

// Finer dried forms give more: each row washes and releases faster than the next.
func TestFinerNeverLowersTheYield(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawTea(t)
		s.Form = Form(rapid.IntRange(int(Crushed), int(WholeHard)).Draw(t, "dried form"))
		finer := s
		finer.Form--
		raises(t, "finer", s, finer)
	})
}

// Two stages of half the time at one temperature are one stage, with loss by
// heat and without.
func TestSplittingAStageChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stage := Pass{StartC: new(rapid.Float64Range(-5, 100).Draw(t, "temperature")),
			Minutes: rapid.Float64Range(0.1, 5000).Draw(t, "minutes"),
			Boiling: rapid.Bool().Draw(t, "boiling")}
		half := stage
		half.Minutes /= 2
		s := Steep{Method: Contact, Form: Form(rapid.IntRange(0, int(formCount)-1).Draw(t, "form")), MassG: 10,
			Moisture: new(0.5)}
		s.Passes = []Pass{stage}
		whole := mustRun(t, s)
		s.Passes = []Pass{half, half}
		halves := mustRun(t, s)
		for _, c := range everyClass {
			if !near(whole.Yield[c], halves.Yield[c], slack) || !near(whole.kept(c), halves.kept(c), slack) {
				t.Fatalf("%s: %v and %v whole, %v and %v in halves", c, whole.Yield[c], whole.kept(c), halves.Yield[c],
					halves.kept(c))
			}
		}
	})
}

// Twice the material in twice the liquid and beer is the same dose; twice the
// material put straight into the wort is twice the dose.
func TestDoseScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, f := drawTea(t), rapid.Float64Range(0.1, 10).Draw(t, "factor")
		large := s.Copied()
		large.MassG *= f
		for i := range large.Passes {
			large.Passes[i].VolumeML *= f
		}
		a, b := mustRun(t, s), mustRun(t, large)
		da, err1 := a.Dose(Mix{IntoL: 20})
		db, err2 := b.Dose(Mix{IntoL: 20 * f})
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		// In wort nothing is added to the volume.
		s.Method, s.Form, s.Moisture = FlameOut, Cut, new(0.1)
		dry := mustRun(t, s)
		heavy := s
		heavy.MassG *= f
		r := mustRun(t, heavy)
		dc, err1 := dry.Dose(Mix{IntoL: 20})
		dd, err2 := r.Dose(Mix{IntoL: 20})
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		for c := range da.EffectiveGPerL {
			if !near(da.EffectiveGPerL[c], db.EffectiveGPerL[c], slack*(1+da.EffectiveGPerL[c])) {
				t.Fatalf("same strengths, %v and %v g/L", da.EffectiveGPerL[c], db.EffectiveGPerL[c])
			}
			if !near(dc.EffectiveGPerL[c]*f, dd.EffectiveGPerL[c], slack*(1+dd.EffectiveGPerL[c])) {
				t.Fatalf("%v times %v g/L gives %v", f, dc.EffectiveGPerL[c], dd.EffectiveGPerL[c])
			}
		}
	})
}

// More beer or more water in the tea never raises a dose, and what is poured off
// afterwards changes nothing: a part of the mix has the dose of the whole.
func TestMoreLiquidNeverRaisesADose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := mustRun(t, drawTea(t))
		litres := rapid.Float64Range(0.5, 100).Draw(t, "litres")
		base, err1 := r.Dose(Mix{IntoL: litres})
		beer, err2 := r.Dose(Mix{IntoL: litres * rapid.Float64Range(1, 5).Draw(t, "more beer")})
		water, err3 := r.Dose(Mix{IntoL: litres, TopUpML: rapid.Float64Range(0, 5000).Draw(t, "water")})
		if err1 != nil || err2 != nil || err3 != nil {
			t.Fatal(err1, err2, err3)
		}
		for c, d := range base.EffectiveGPerL {
			if beer.EffectiveGPerL[c] > d*(1+slack) || water.EffectiveGPerL[c] > d*(1+slack) || math.IsNaN(d) {
				t.Fatalf("%v g/L, %v in more beer, %v with water", d, beer.EffectiveGPerL[c], water.EffectiveGPerL[c])
			}
		}
	})
}

// The closed form of equal passes against the recursion, which shares no code
// with it; a wet first pass makes the ratio constant: L = V + H, rho = H/L.
func TestClosedFormAgainstRecursion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e, rho := rapid.Float64Range(0, 1).Draw(t, "e"), rapid.Float64Range(0, 0.95).Draw(t, "rho")
		n := rapid.IntRange(0, 6).Draw(t, "n")
		held := rho / (1 - rho) // of 1 mL poured on
		p, sum := pot{solid: 1}, 0.0
		for range n {
			var out float64
			p, out = p.settle(e, 1).drain(1+held, held)
			sum += out
		}
		if closed := equalPasses(e, rho, n); !near(sum, closed, 1e-6) {
			t.Fatalf("recursion %v, closed %v", sum, closed)
		}
	})
}

// Crank's shares lie between 0 and 1 and rise with time; FourierFor undoes them.
func TestDiffusionIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Shape(rapid.IntRange(0, 2).Draw(t, "shape"))
		fo := math.Pow(10, rapid.Float64Range(-6, 0.3).Draw(t, "log Fo"))
		a, err1 := s.Diffused(fo)
		b, err2 := s.Diffused(fo * 1.01)
		limited, err3 := s.DiffusedLimited(LimitedBath{Fo: max(fo, 1e-4),
			Alpha: math.Pow(10, rapid.Float64Range(-1, 2).Draw(t, "log alpha"))})
		if err1 != nil || err2 != nil || err3 != nil || !(a > 0 && a <= b+1e-12 && b <= 1) || !(limited > 0 && limited <= 1) {
			t.Fatalf("%v then %v, limited %v (%v %v %v)", a, b, limited, err1, err2, err3)
		}
		if a < 0.999 {
			if back, err := s.FourierFor(a); err != nil || !near(back, fo, 1e-6*fo+1e-9) {
				t.Fatalf("Fo %v, back %v, %v", fo, back, err)
			}
		}
	})
}
