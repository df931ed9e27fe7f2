package extraction

import (
	"math"
	"testing"
)

// The terms of worked example A, by hand: 25.2 g dry, 28 g as dried, 400 mL
// present and 113.4 mL held in the first pass.
func TestExplain(t *testing.T) {
	r := caseA(t)
	want := map[string]float64{"dry matter": 25.2, "as-dried equivalent": 28, "class ceiling": 0.95, "rate at 80 C": 0.70,
		"pass 1 liquid present": 400, "pass 1 liquid held": 113.4, "pass 1 yield": 0.7165, "pass 2 liquid held": 50.4,
		"pass 2 liquid present": 513.4, "yield": 0.972169, "extract": 749.6, "pass 1 share of equilibrium": 1}
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
