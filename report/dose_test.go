package report

import (
	"strings"
	"testing"

	"hedgerow/trials"
	"hedgerow/trials/quantity"
)

// 3/4 oz per 5 US gal by hand: 0.75 x 28.349523125 g / (5 x 3.785411784 L) =
// 1.12337 g/L.
func TestDoseView(t *testing.T) {
	d := quantity.Dose{LowGPerL: 0.75 * 28.349523125 / (5 * 3.785411784), AsWritten: "3/4 oz per 5 gal", Assumptions: []string{"gal is the US gallon"}}
	v := Dose(d, quantity.Metric)
	var p struct {
		GPerL       float64  `json:"g_per_l"`
		High        *float64 `json:"high_g_per_l"`
		Assumptions []string `json:"assumptions"`
		Warnings    []string `json:"warnings"`
	}
	readJSON(t, v, &p)
	near(t, "dose", p.GPerL, 1.12337, 1e-5)
	if p.High != nil || len(p.Assumptions) != 1 || p.Warnings == nil {
		t.Errorf("%+v", p)
	}
	if text := asText(t, v.Document, 80); !strings.Contains(text, `"3/4 oz per 5 gal" is 1.12 g/L.`) || !strings.Contains(text, "taken: gal is the US gallon") {
		t.Errorf("\n%s", text)
	}
	d.IsRange, d.HighGPerL, d.PerTea, d.BasisWord = true, 2.25, true, "fresh"
	if text := asText(t, Dose(d, quantity.USUnits).Document, 100); !strings.Contains(text, "1.12 to 2.25 g/L of the tea, not of the beer of fresh material.") || !strings.Contains(text, "In US units 0.75 oz per 5 US gal to 1.5 oz per 5 US gal.") {
		t.Errorf("\n%s", text)
	}
}

func TestClaimsAsText(t *testing.T) {
	for _, c := range []struct {
		claim     trials.Claim
		dose, how string
	}{
		{trials.Claim{LowGPerL: ptr(2.0), HighGPerL: ptr(4.0), Basis: trials.BasisDry}, "2.00 to 4.00", "dry"},
		{trials.Claim{LowGPerL: ptr(2.0), HighGPerL: ptr(2.0)}, "2.00", "not said"},
		{trials.Claim{HighGPerL: ptr(5.0), PerTea: true, Basis: trials.BasisFresh}, "up to 5.00", "fresh, per litre of tea"},
		{trials.Claim{AsWritten: "a handful"}, "-", "not said"},
	} {
		if got := claimRange(c.claim); got != c.dose {
			t.Errorf("%q, want %q", got, c.dose)
		}
		if got := claimOf(c.claim); got != c.how {
			t.Errorf("%q, want %q", got, c.how)
		}
	}
}
