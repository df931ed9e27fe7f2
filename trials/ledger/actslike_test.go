package ledger

import (
	"testing"

	"hedgerow/extraction/ways"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/steeps"
)

// By hand: twice as strong an effective dose acts like twice the potency.
func TestADoseActsLikeItsPotency(t *testing.T) {
	p := steeps.MethodPotency{Update: ways.PotencyUpdate{}}
	p.Update.Relative.Value, p.Update.Relative.Low, p.Update.Relative.High = 1.25, 1.1, 1.4
	acts := ActsLike(p, Dose{GPerL: [trials.ClassCount]figure.Estimate{{Value: 2, Low: 1.9, High: 2.1, HasBounds: true,
		OK: true}}})
	near(t, "acts like", acts.Value, 2*1.25, 1e-9)
	if !(acts.Low < 2*1.1 && acts.High > 2*1.4) {
		t.Errorf("the doubts of dose and potency do not add: %+v", acts)
	}
}
