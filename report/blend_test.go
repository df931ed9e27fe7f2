package report

import (
	"math"
	"strings"
	"testing"

	"hedgerow/report/decisions"
	"hedgerow/trials"
)

// By hand: 17.4 L at 1.4 g/L from an extract of 80 g/L take 1.4 x 17.4/78.6 = 0.3099 L, so
// 310 mL; 5 mL at 0.0227 g/L are under 100 mL and go by 1 mL. An extract of 1 g/L reaches
// no dose of 1.4.
func TestPourByHand(t *testing.T) {
	b := Blend{VolumeL: 17.4, Carries: 80}
	for _, c := range []struct{ dose, want float64 }{{1.4, 0.310}, {0.0227, 0.005}} {
		if got := b.Pour(c.dose); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g g/L: %g L, want %g", c.dose, got, c.want)
		}
	}
	weak := Blend{VolumeL: 17.4, Carries: 1, LeftL: 5, Dose: decisions.ToBlend{DoseGPerL: 1.4}}
	weak.PourL = weak.Pour(1.4)
	if err := weak.Check(); err == nil || !strings.Contains(err.Error(), "not more than the dose of 1.4 g/L") {
		t.Errorf("an extract that is too weak: %v", err)
	}
	little := Blend{VolumeL: 17.4, Carries: 80, LeftL: 0.2, PourL: 0.31, Dose: decisions.ToBlend{DoseGPerL: 1.4},
		Batch:   trials.Batch{Record: trials.Record{Name: "moor"}},
		Extract: trials.Extract{Record: trials.Record{Name: "tea-7"}}}
	// 0.2 x 80/17.6 = 0.909 g/L
	p, ok := little.Check().(*trials.Problem)
	if !ok || p.Message != "17.4 L of moor takes 310 mL of tea-7, but 200 mL are left" ||
		!strings.Contains(p.Hint, "to 0.91 g/L") {
		t.Errorf("an extract that is too little: %+v", p)
	}
}
