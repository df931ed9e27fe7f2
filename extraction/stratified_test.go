package extraction

import (
	"fmt"
	"math"
	"testing"
)

// Stratified draws give the intervals that two hundred thousand plain draws
// give, within a tenth of their width, where four thousand plain draws scatter as
// much, for a tea, a short steep and a
// plant put straight in.
func TestStratifiedDrawsAgreeWithPlainOnes(t *testing.T) {
	long, short := threePasses(), leaf36(stirred(450, Drained))
	short.Passes[0].Minutes = 2
	room := 20.0
	direct := Steep{Method: Contact, Form: Cut, MassG: 20,
		Passes: []Pass{{StartC: &room, Minutes: 3 * 24 * 60, Agitation: Still}}}
	for name, s := range map[string]Steep{"long": long, "short": short, "direct": direct} {
		want, err := s.Doubt(Mix{IntoL: 12}, Draws{N: 200_000, Seed: 5})
		if err != nil {
			t.Fatal(name, err)
		}
		for _, class := range []Class{Water, Aroma, Resin} {
			got, err := s.DoseBand(Mix{IntoL: 12}, class)
			if err != nil {
				t.Fatal(name, err)
			}
			w := want.Dose[class]
			what, width := fmt.Sprintf("%s, %v: ", name, class), w.At95.High-w.At95.Low
			near := func(figure string, got, want, tolerance float64) {
				if math.Abs(got-want) > tolerance {
					t.Errorf("%s%s is %.5f, want %.5f within %.5f", what, figure, got, want, tolerance)
				}
			}
			near("value", got.At95.Value, w.At95.Value, 1e-12)
			near("sd", got.SDLn, w.SDLn, 0.06*w.SDLn)
			near("low", got.At95.Low, w.At95.Low, 0.10*width)
			near("high", got.At95.High, w.At95.High, 0.10*width)
		}
	}
}

func BenchmarkDoseBand(b *testing.B) {
	s := threePasses()
	for b.Loop() {
		if _, err := s.DoseBand(Mix{IntoL: 12}, Water); err != nil {
			b.Fatal(err)
		}
	}
}
