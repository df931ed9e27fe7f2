package report

import (
	"strings"
	"testing"

	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials/quantity"
)

// 3/4 oz per 5 US gal by hand: 0.75 x 28.349523125 g / (5 x 3.785411784 L) =
// 1.12337 g/L.
func TestDoseView(t *testing.T) {
	d := quantity.Dose{LowGPerL: 0.75 * 28.349523125 / (5 * 3.785411784), AsWritten: "3/4 oz per 5 gal",
		Assumptions: []string{"gal is the US gallon"}}
	v := Dose(d, quantity.Metric)
	var p struct {
		GPerL       float64  `json:"g_per_l"`
		High        *float64 `json:"high_g_per_l"`
		Assumptions []string `json:"assumptions"`
		Warnings    []string `json:"warnings"`
	}
	drawing.ReadJSON(t, v, &p)
	invented.Near(t, "dose", p.GPerL, 1.12337, 1e-5)
	if p.High != nil || len(p.Assumptions) != 1 || p.Warnings == nil {
		t.Errorf("%+v", p)
	}
	if text := drawing.AsText(t, v.Document, 80); !strings.Contains(text, `"3/4 oz per 5 gal" is 1.12 g/L.`) ||
		!strings.Contains(text, "assumed: gal is the US gallon") {
		t.Errorf("\n%s", text)
	}
	d.IsRange, d.HighGPerL, d.PerTea, d.BasisWord = true, 2.25, true, "fresh"
	if text := drawing.AsText(t, Dose(d, quantity.USUnits).Document, 100); !strings.Contains(text,
		"1.12 to 2.25 g/L of the tea, not of the beer of fresh material.") ||
		!strings.Contains(text, "In US units 0.75 oz per 5 US gal to 1.5 oz per 5 US gal.") {
		t.Errorf("\n%s", text)
	}
}
