package report

import (
	"encoding/json"
	"strings"
	"testing"

	"hedgerow/report/document"
	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/quantity"
	"hedgerow/trials/steeps"
)

// steepViews are the views of steeps that are not logged, for the tests of every
// view.
func steepViews(materials trials.Materials) map[string]document.View {
	all := map[string]document.View{}
	request := steeps.SteepRequest{Material: "hibiscus", Form: "cut", Method: trials.MethodTea, MassG: 36, IntoL: 12,
		Beer: steeps.Beer{OG: invented.Ptr(1.048), FG: invented.Ptr(1.010)},
		Passes: []trials.Pass{{VolumeL: 0.45, StartC: 95, EndC: invented.Ptr(70.0), Minutes: 20,
			Agitation: "now-and-then", Separation: trials.SeparationDrained}}}
	if a, err := request.Steep(materials); err == nil {
		more, _ := request.Gains(materials, 0)
		all["steep"] = Steep(a, SteepStyle{Class: -1, Explain: true, Units: quantity.Metric, More: more})
		all["steep us"] = Steep(a, SteepStyle{Class: 3, Units: quantity.USUnits, More: more})
	}
	for _, class := range []int{0, 1, 2, 3, 4, 5, 6} {
		list, _ := steeps.StandardMethods(materials, request)
		if c, err := steeps.CompareMethods(materials, class, list); err == nil {
			all["methods "+trials.ClassNames[class]] = Methods(c, quantity.Metric)
			all["methods us "+trials.ClassNames[class]] = Methods(c, quantity.USUnits)
		}
	}
	m, _ := materials.Find("hibiscus")
	all["every default"] = WithAllDefaults(Material(materials, m, quantity.Metric), m)
	return all
}

// Section 8 of the page on extraction: resins in water are only ranked, whatever
// their interval; no number of theirs is shown in any format.
func TestMethodsHideWhatIsOnlyRanked(t *testing.T) {
	materials, _ := (&trials.Notebook{}).Catalogue()
	v := steepViews(materials)["methods resin"]
	var p struct {
		Methods []struct {
			Name    string         `json:"method"`
			Dose    *figure.Stated `json:"effective_dose_g_per_l"`
			Ranking bool           `json:"ranking_only"`
			Reasons []string       `json:"reasons"`
		} `json:"methods"`
	}
	text, err := json.Marshal(v.Payload)
	if err != nil || json.Unmarshal(text, &p) != nil || len(p.Methods) != 7 {
		t.Fatalf("%d methods (%v)", len(p.Methods), err)
	}
	for _, m := range p.Methods {
		if m.Name != "tincture" && (m.Dose != nil || !m.Ranking || len(m.Reasons) == 0) {
			t.Errorf("%s shows %v (%v)", m.Name, m.Dose, m.Reasons)
		}
	}
	if drawn := drawing.AsText(t, v.Document, 80); strings.Count(drawn, "only a place") < 6 {
		t.Errorf("\n%s", drawn)
	}
}

// The sentence that tells measured from assumed names each figure once.
func TestMeasuredAndAssumed(t *testing.T) {
	lines := measuredWords([]steepFigure{
		{Name: "mass", Value: 36, Unit: "g", Origin: "typed"},
		{Name: "moisture", Value: 11, Unit: "%", Origin: "catalogue"},
		{Name: "pass 1 liquid recovered", Value: 300, Unit: "mL", Origin: "measured"},
		{Name: "pass 2 held liquid", Value: 2, Unit: "mL/g dry", Origin: "default"},
		{Name: "pass 3 held liquid", Value: 2, Unit: "mL/g dry", Origin: "default"},
		{Name: "pass 4 held liquid", Value: 3.9, Unit: "mL/g dry", Origin: "remembered"},
	})
	want := []string{
		"Measured: liquid recovered, held liquid (remembered from an earlier steep).",
		"Assumed: moisture 11 % (catalogue), held liquid 2.0 mL/g dry (default). Measuring replaces it and narrows " +
			"the interval.",
	}
	if strings.Join(lines, "\n") != strings.Join(want, "\n") {
		t.Errorf("%q, want %q", lines, want)
	}
}

func TestChangesThatDoNothingAreNamedOnce(t *testing.T) {
	gain := func(what string, v, low, high float64) steeps.Gain {
		g := steeps.Gain{What: what, P: 0.5}
		g.Ratio.Value, g.Ratio.Low, g.Ratio.High, g.Ratio.Level = v, low, high, 0.8
		return g
	}
	s := moreSection([]steeps.Gain{gain("squeeze every pass", 1.2, 1.1, 1.3), gain("stir throughout", 1, 1, 1.001),
		gain("twice as long", 1, 1, 1)}, quantity.Metric)
	if len(s.Table.Rows) != 1 || s.Paragraphs[0] != "Would change nothing to speak of: stir throughout; twice as long." {
		t.Errorf("%+v", s)
	}
	if s = moreSection([]steeps.Gain{}, quantity.Metric); s.Table != nil || len(s.Paragraphs) != 1 {
		t.Errorf("%+v", s)
	}
	if s = moreSection([]steeps.Gain{gain("stir throughout", 1, 1, 1.001)}, quantity.Metric); s.Table != nil {
		t.Errorf("an empty table: %+v", s)
	}
}
