package extraction

import "testing"

// Of 400 mL on dry material 412 mL may be read as they come out, 3 % for two jugs
// (a judgement), and no more; the same of what is said to stay in.
func TestMoreOutThanIn(t *testing.T) {
	for ml, fits := range map[float64]bool{411.9: true, 412.1: false} {
		out, held := stirred(400, Drained), stirred(400, Drained)
		room := 20.0
		out.RecoveredML, out.RecoveredTempC, held.HeldML = &ml, &room, &ml
		for what, p := range map[string]Pass{"recovered": out, "held": held} {
			s := Steep{Method: Tea, Form: Crushed, MassG: 30, Moisture: new(0.0), Soluble: &SolubleFigure{}, Passes: []Pass{p}}
			if _, err := s.Run(); (err == nil) != fits {
				t.Errorf("%g mL %s of 400: %v", ml, what, err)
			}
		}
	}
}

// Two steeps that are the same are above each other in half of the draws, by
// definition, not in all or none.
func TestEqualSteepsAreATie(t *testing.T) {
	s := leaf36(stirred(450, Drained))
	one := Entry{Name: "one", Steep: s, Mix: Mix{IntoL: 12}}
	two := one
	two.Name = "two"
	c, err := Compare(Water, []Entry{one, two}, Draws{N: 500, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	// What the two do not share (how they were stirred) decides nothing once both
	// are at equilibrium, but for a hair either way.
	if p := c.Pairs[0].P; p < 0.4 || p > 0.6 {
		t.Errorf("a steep is above itself with probability %g", p)
	}
	if p := newPair(0, 1, []float64{1, 1}, [][]float64{{1, 2, 3}, {1, 2, 3}}); p.P != 0.5 {
		t.Errorf("equal draws make a probability of %g", p.P)
	}
}
