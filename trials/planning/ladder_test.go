package planning

import (
	"math"
	"strings"
	"testing"
)

// The steps by hand, of an extract that carries 28.284 g/L, 20 midway between the droppers,
// with advice of 0.4 to 3.2 g/L: from 0.1 to 6.4 g/L, but a fifth of the glass is 4 g/L.
//
//	steps     ln(6.4/0.1)/ln 1.25 = 18.64, so 20; 1.5 x 20 x 2 mL = 60 mL of beer
//	thinned   2 drops of 0.05 mL at 20 g/L in 60 mL are 0.033 g/L, less than 0.1: not at all
//	first     60 x 0.1/(20-0.1) = 0.3015, so 0.30 mL; 6.0/60.3 = 0.09950 g/L
//	second    0.12438 wanted: 58.3 x 0.02488/19.876 = 0.0730, so 0.05 mL; 6.8010/58.35 = 0.11656 g/L
//	third     0.14570 wanted: 56.35 x 0.02914/19.854 = 0.0827, so 0.10 mL
//	down      60 x 4/(20-4) = 15 mL; a fifth of 75 mL gives way: 15 mL; ln 40/ln 1.25 = 16.5, so 18 steps
func TestLadderByHand(t *testing.T) {
	s, remarks, err := Ladder(Drops{CarriesGPerL: 20 * math.Sqrt2, LowGPerL: 0.4, HighGPerL: 3.2, PourStepL: 5e-5,
		Factor: 1.25})
	if err != nil || len(remarks) != 1 {
		t.Fatal(err, remarks)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"glass", s.GlassL, 0.060}, {"share", s.Share, 1}, {"first", s.UpL[0], 0.0003}, {"second", s.UpL[1], 0.00005},
		{"third", s.UpL[2], 0.0001}, {"down", s.DownL, 0.015}, {"filled up", s.FillL, 0.015},
		{"steps down", float64(s.DownSteps), 18}} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s is %g, want %g", c.what, c.got, c.want)
		}
	}
}

// Whatever the extract and the advice, a drop can be measured, no step goes back, and what
// is dropped in stays a fifth of the glass.
func TestLadderStaysInTheGlass(t *testing.T) {
	for _, carries := range []float64{5, 30, 200} {
		for _, low := range []float64{0.01, 0.2, 0.8} {
			for _, fold := range []float64{1, 4, 50} {
				s, _, err := Ladder(Drops{CarriesGPerL: carries, LowGPerL: low, HighGPerL: fold * low, PourStepL: 5e-5,
					Factor: 1.25})
				if err != nil {
					t.Fatalf("%g, %g, %g: %v", carries, low, fold, err)
				}
				var sum float64
				for _, l := range s.UpL {
					if l < 5e-5 {
						t.Errorf("%g, %g, %g: a step of %g", carries, low, fold, l)
					}
					sum += l
				}
				if sum > 0.3*s.GlassL || s.DownL > 0.26*s.GlassL || s.FillL <= 0 {
					t.Errorf("%g, %g, %g: %+v", carries, low, fold, s)
				}
			}
		}
	}
}

// A glass that is drunk up, a syringe that passes the advice at once and a factor that
// nobody can follow are refused. By hand, with 20 g/L midway between the droppers: 5 mL hold
// two sips of 2 mL, and one drop of 0.05 mL brings them to 20 x 0.05/5.05 = 0.198 g/L; a step
// of 10 mL brings 60 mL to 20 x 10/70 = 2.86 g/L, past 0.4.
func TestLadderRefusesWhatTeachesNothing(t *testing.T) {
	good := Drops{CarriesGPerL: 20 * math.Sqrt2, LowGPerL: 0.4, HighGPerL: 3.2, PourStepL: 5e-5, Factor: 1.25}
	for want, change := range map[string]func(*Drops){
		"a glass of 5 mL is drunk up at step 2":                    func(q *Drops) { q.GlassL = 0.005 },
		"10 mL, brings a glass of 60 mL to 2.86 g/L at once, past": func(q *Drops) { q.PourStepL = 0.010 },
		"steps of 1.01 are outside 1.05 to 3":                      func(q *Drops) { q.HighGPerL, q.Factor = 320, 1.01 },
	} {
		q := good
		change(&q)
		if _, _, err := Ladder(q); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}
