package extraction

import (
	"math"
	"testing"
)

// The terms of worked example A, by hand: 32.4 g dry, 36 g as dried, 450 mL
// present and 129.6 mL held in the first pass, 479.6 mL present in the second.
func TestExplain(t *testing.T) {
	r := caseA(t)
	want := map[string]float64{"dry matter": 32.4, "as-dried equivalent": 36, "class ceiling": 0.85, "rate at 80 C": 0.70,
		"pass 1 liquid present": 450, "pass 1 liquid held": 129.6, "pass 1 yield": 0.712, "pass 2 liquid held": 129.6,
		"pass 2 liquid present": 479.6, "pass 3 liquid held": 84.24, "yield": 0.982729, "extract": 965.76,
		"pass 1 share of equilibrium": 1, "activation energy": 30}
	for _, term := range r.Explain(Water) {
		if w, ok := want[term.Name]; ok && near(term.Value, w, 1e-6) {
			delete(want, term.Name)
		}
		if term.Unit == "" || math.IsNaN(term.Value) || math.IsInf(term.Value, 0) {
			t.Errorf("term %+v", term)
		}
	}
	if len(want) != 0 {
		t.Errorf("missing or of another value: %v", want)
	}
	direct := run(t, Steep{Method: Contact, Form: Cut, MassG: 10, Passes: []Pass{{Minutes: 60}}})
	for _, term := range direct.Explain(Aroma) {
		if term.Name == "released" && near(term.Value, direct.Yield[Aroma], 1e-12) {
			return
		}
	}
	t.Error("a direct method does not say what it released")
}
