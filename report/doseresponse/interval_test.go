package doseresponse

import (
	"math"
	"testing"

	"hedgerow/report/evidence"
)

// By hand: 1.645*0.12 = 0.1974; with h = 0.3, sqrt(0.09 + 0.03897) = 0.35912.
func TestWidened(t *testing.T) {
	for _, tt := range [][2]float64{{0, 0.1974}, {0.3, 0.35912}} {
		if got := widened(tt[0]); math.Abs(got-tt[1]) > 1e-5 {
			t.Errorf("widened(%g) = %g, want %g", tt[0], got, tt[1])
		}
	}
}

// Own simulation, not an outside check: with one taster the width is a factor of about 2.2 after one brew
// and 1.7 after four. Widths depend on the scores, hence the wide bands.
func TestWidthOfOneTaster(t *testing.T) {
	factor := func(trials ...evidence.Trial) float64 {
		e := mustFit(t, eightfold(trials...), Options{}).RightDose()
		return math.Sqrt(*e.High / *e.Low)
	}
	if f := factor(trial("1", 2.83, 0)); f < 1.9 || f > 2.6 {
		t.Errorf("one brew: a factor of %.2f, want about 2.2", f)
	}
	if f := factor(trial("1", 2.83, -1), trial("2", 5, 1), trial("3", 4, 0), trial("4", 4, 0)); f < 1.4 || f > 1.9 {
		t.Errorf("four brews: a factor of %.2f, want about 1.7", f)
	}
}

// An uncertain dose widens the interval.
func TestDoseErrorWidens(t *testing.T) {
	sure, vague := trial("1", 3, 0, 0, -1), trial("1", 3, 0, 0, -1)
	vague.DoseSDLn = 0.5
	a := mustFit(t, eightfold(sure), Options{}).psiSD
	b := mustFit(t, eightfold(vague), Options{}).psiSD
	if b < a*1.1 {
		t.Errorf("SD %.3f with a vague dose, %.3f with a sure one", b, a)
	}
}
