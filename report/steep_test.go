package report

import (
	"strings"
	"testing"

	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/quantity"
	"hedgerow/trials/steeps"
)

// caseA is the worked example of the page on extraction, into 17 L, of heather.
func caseA(t testing.TB) steeps.SteepAnswer {
	t.Helper()
	n := invented.Series()
	materials, err := n.Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	a, err := steeps.SteepRequest{Material: "heather", Form: "crushed", Method: trials.MethodTea, MassG: 36,
		MoisturePct: invented.Ptr(10.0), Passes: n.Extracts[0].Passes, IntoL: 17}.Steep(materials)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// 0.7183, 0.2056 and 0.0592 in the passes, 0.9831 in all, 1.6735 g/L in 17.97578 L.
func TestSteepView(t *testing.T) {
	v := Steep(caseA(t), SteepStyle{Class: 0, Explain: true})
	var p struct {
		Passes   []steepPass              `json:"passes"`
		Yield    figure.Stated            `json:"yield"`
		Dose     map[string]figure.Stated `json:"effective_dose_g_per_l"`
		Weighed  float64                  `json:"dose_g_per_l"`
		MixL     float64                  `json:"volume_after_mixing_l"`
		Figures  []steepFigure            `json:"inputs"`
		Warnings []string                 `json:"warnings"`
	}
	drawing.ReadJSON(t, v, &p)
	invented.Near(t, "first pass", p.Passes[0].Yield, 0.7183, 1e-4)
	invented.Near(t, "second pass", p.Passes[1].Yield, 0.2056, 1e-4)
	invented.Near(t, "out of the first", p.Passes[0].LiquidOutML, 330.42, 0.05)
	invented.Near(t, "of equilibrium", p.Passes[0].ShareOfEquilibrium, 1, 1e-3)
	invented.Near(t, "yield", p.Yield.Value, 0.9831, 1e-4)
	invented.Near(t, "dose", p.Dose["water"].Value, 1.6735, 1e-3)
	invented.Near(t, "weighed", p.Weighed, 36/17.97578, 1e-4)
	invented.Near(t, "volume", p.MixL, 17.97578, 1e-4)
	if len(p.Dose) != 1 || p.Warnings == nil || len(p.Figures) == 0 {
		t.Errorf("classes %v, warnings %v, %d inputs", p.Dose, p.Warnings, len(p.Figures))
	}
	for _, f := range p.Figures {
		if f.Origin == "" || f.Name == "" {
			t.Errorf("input without name or origin: %+v", f)
		}
	}
	text := drawing.AsText(t, v.Document, 100)
	for _, want := range []string{"71.8 %", "20.6 %", "98.3 % (", "1.7 (", "default", "How it was worked out",
		"Grades:"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	if strings.Contains(text, "resin") {
		t.Errorf("a class that was not asked for is shown:\n%s", text)
	}
	drawing.CheckView(t, "steep", v)
}

// All classes: those that are only good for a ranking say so (section 8).
func TestSteepViewOfAllClasses(t *testing.T) {
	v := Steep(caseA(t), SteepStyle{Class: -1, Units: quantity.USUnits})
	text := drawing.AsText(t, v.Document, 100)
	if !strings.Contains(text, "resin: good for ranking steeps, not as a number") ||
		strings.Contains(text, "water: good for ranking") || !strings.Contains(text, "oz into") {
		t.Errorf("\n%s", text)
	}
	drawing.CheckView(t, "steep of all", v)
}

// An extract shows its passes in words and what it carries: case A, 30.09 g.
func TestExtractView(t *testing.T) {
	n := invented.Series()
	materials, _ := n.Catalogue()
	story, err := steeps.StoryOf(n, materials, n.Extracts[0])
	if err != nil {
		t.Fatal(err)
	}
	v := Extract(story, ExtractStyle{Units: quantity.Metric, Explain: true})
	var p struct {
		LiquidL float64                  `json:"liquid_l"`
		Carried map[string]figure.Stated `json:"carried_g"`
	}
	drawing.ReadJSON(t, v, &p)
	invented.Near(t, "liquid", p.LiquidL, 0.981614, 1e-4)
	invented.Near(t, "carried", p.Carried["water"].Value, 30.09, 0.01)
	text := drawing.AsText(t, v.Document, 100)
	if !strings.Contains(text, "It gives 982 mL") || !strings.Contains(text, "94 C falling to 80 C") {
		t.Errorf("\n%s", text)
	}
}
