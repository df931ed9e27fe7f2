package wishes

import (
	"math"
	"testing"

	"hedgerow/report/evidence"
)

// By hand for four likings of 7: v = 1/(1/2.25 + 4/0.49) = 0.1162, mean = 0.1162
// (6/2.25 + 28/0.49) = 6.948, z = 0.948/0.3409 = 2.78, probability 0.997. Beers that
// were liked less do not hide it, and neither do one liking of 9 and an undosed beer.
func TestTastedLikedByHand(t *testing.T) {
	liked := func(dose float64, likings ...float64) evidence.Trial {
		tr := evidence.Trial{DoseGPerL: dose}
		for i := range likings {
			tr.Scores = append(tr.Scores, evidence.Score{Taster: string(rune('A' + i)), Liking: &likings[i]})
		}
		return tr
	}
	s := evidence.Study{Trials: []evidence.Trial{liked(1, 3, 3, 3, 3), liked(4, 7, 7, 7, 7), liked(8, 2, 2, 2, 2),
		liked(9, 9), liked(0, 9, 9, 9, 9)}}
	if got := tastedLiked(s, 6); math.Abs(got-0.9973) > 0.0005 {
		t.Errorf("probability %.4f, want 0.9973", got)
	}
}

// A chance is small, not nothing: every liking is far from a wish.
func TestSmallChanceIsNotNone(t *testing.T) {
	if got := normal(-50); !(got > 0) {
		t.Errorf("a chance at 50 SDs: %g", got)
	}
}
