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
