package wishes

import (
	"math"
	"testing"

	"hedgerow/report/evidence"
)

// By hand: one score of 4 at the prior mean, limit 3, one taster. Level and
// taster N(2.5, 4 + 1), noise 1.96: mean 2.5 + 1.5*5/6.96 = 3.5776, variance
// 5 - 25/6.96 = 1.4080; the chance to be below 3 is Phi(-0.4868) = 0.3132
// (Phi from the normal table).
func TestAvoidByHand(t *testing.T) {
	middle := math.Sqrt(8) // of a claim of 1 to 8 g/L
	s := evidence.Study{Trials: []evidence.Trial{{ID: "T1", DoseGPerL: middle}}}
	a := evidence.Avoid{Attribute: "harsh", AtMost: 3,
		Scores: []evidence.AvoidScore{{Trial: "T1", Taster: "A", Intensity: 4}}}
	fit := fitAvoid(s, math.Log(middle), a)
	if got := fit.within(0, 3); math.Abs(got-0.3132) > 2e-3 {
		t.Errorf("chance %.4f, want 0.3132", got)
	}
}
