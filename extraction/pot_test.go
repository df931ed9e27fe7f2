package extraction

import (
	"math"
	"testing"
)

// odePot integrates the two equations of pot.release by the classic
// Runge-Kutta rule, a route that shares nothing with the closed forms.
func odePot(p pot, k, loss, phi float64) pot {
	const steps = 20000
	slope := func(p pot) pot {
		release := k / phi * (p.solid - (1-phi)*(p.solid+p.dissolved))
		return pot{-release, release - loss*p.dissolved}
	}
	along := func(p, d pot, h float64) pot { return pot{p.solid + h*d.solid, p.dissolved + h*d.dissolved} }
	h := 1.0 / steps
	for range steps {
		a := slope(p)
		b := slope(along(p, a, h/2))
		c := slope(along(p, b, h/2))
		d := slope(along(p, c, h))
		p.solid += h / 6 * (a.solid + 2*b.solid + 2*c.solid + d.solid)
		p.dissolved += h / 6 * (a.dissolved + 2*b.dissolved + 2*c.dissolved + d.dissolved)
	}
	return p
}

// Expected values: the differential equations, integrated numerically here.
func TestReleaseAgainstODE(t *testing.T) {
	starts := []pot{{1, 0}, {0.85, 0.15}, {0.3, 0.7}, {0, 1}, {0.2, 0.1}}
	for _, start := range starts {
		for _, k := range []float64{0, 0.01, 0.3, 2, 8} {
			for _, loss := range []float64{0, 0.005, 0.3, 2} {
				for _, phi := range []float64{1, 0.9, 0.4} {
					got, want := start.release(k, loss, phi), odePot(start, k, loss, phi)
					if !near(got.solid, want.solid, 1e-9) || !near(got.dissolved, want.dissolved, 1e-9) {
						t.Errorf("%v k %v loss %v phi %v: %v, want %v", start, k, loss, phi, got, want)
					}
				}
			}
		}
	}
}

// Limits by reasoning: rates so close that the textbook form divides by nothing,
// rates so large that exponentials vanish, and no liquid at all.
func TestReleaseLimits(t *testing.T) {
	start := pot{0.85, 0.15}
	equal := start.release(0.3, 0.3, 1).dissolved
	for _, d := range []float64{0.04, 0.029, 1e-3, 1e-5, 1e-8, 1e-12} {
		if got := start.release(0.3, 0.3+d, 1).dissolved; !near(got, equal, 1.1*d) {
			t.Errorf("loss %g above the rate: %.12f, want close to %.12f", d, got, equal)
		}
	}
	if got := start.release(1e6, 0, 0.75); !near(got.dissolved, 0.75, 1e-12) {
		t.Errorf("at equilibrium %v, want 0.75 dissolved", got)
	}
	if got := start.release(1e6, 1e6, 0.5); !near(got.solid+got.dissolved, 0, 1e-12) {
		t.Errorf("after endless loss %v, want nothing", got)
	}
	if got := start.release(5, 0, 0); got != (pot{solid: 1}) {
		t.Errorf("without liquid %v, want all in the solids", got)
	}
	for _, phi := range []float64{0.5, 1} {
		if got := start.release(0, 0, phi); !near(got.solid, start.solid, 1e-15) ||
			!near(got.dissolved, start.dissolved, 1e-15) {
			t.Errorf("in no time %v, want %v", got, start)
		}
	}
}

// decay is exp(-v): compared with the library on both sides of the switch.
func TestDecay(t *testing.T) {
	for _, v := range []float64{0, 1e-6, 0.005, 0.0199, 0.02, 0.3, 40} {
		if got, want := decay(v), math.Exp(-v); !near(got, want, 2e-13) {
			t.Errorf("decay(%v) = %v, want %v", v, got, want)
		}
	}
}

func TestDrainWithoutLiquid(t *testing.T) {
	if left, out := (pot{0.4, 0.6}).drain(0, 10); left != (pot{0.4, 0.6}) || out != 0 {
		t.Errorf("drained %v from nothing, left %v", out, left)
	}
}
