package trials

import (
	"strings"
	"testing"
)

// A plan has the steps of a dropper if and only if it is of dosing to taste, and a dose for
// each step with either dropper.
func TestPlanOfDosingToTaste(t *testing.T) {
	taste := func(doses int) *TasteDesign {
		return &TasteDesign{Steps: ToTaste{StepFactor: 1.25, Share: 1, GlassL: 0.05, SipL: 0.002, UpL: []float64{1e-4, 1e-4},
			DownL: 0.004, FillL: 0.01, DownSteps: 3}, Up: make([]StepDoses, doses), Down: make([]StepDoses, 3)}
	}
	for _, c := range []struct {
		name, kind string
		taste      *TasteDesign
		want       string
	}{
		{"an evening", PlanTaste, taste(2), ""},
		{"a bench series", PlanBench, nil, ""},
		{"an evening without steps", PlanTaste, nil, "of kind taste has the wrong steps"},
		{"a bench series with steps", PlanBench, taste(2), "of kind bench has the wrong steps"},
		{"a dose too few", PlanTaste, taste(1), "an evening of 2 and 3 steps has doses for 1 and 3"},
	} {
		err := Plan{Kind: c.kind, Design: Design{Vessels: []Vessel{{Number: 1, BeerL: 0.05}}, Taste: c.taste}}.Validate()
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s is refused: %v", c.name, err)
		case c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)):
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}
