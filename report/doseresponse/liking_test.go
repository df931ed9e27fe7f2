package doseresponse

import (
	"math"
	"testing"
)

// By hand, one score of 4 by one taster with a vote of just right: all
// parts but the cost meet in one sum of variance
// 1.5^2 + 0.8^2 + 0.7^2 + 0.5^2 + 0.6^2 = 3.99, noise 0.49. The posterior
// mean of the sum is 6 - 2*3.99/4.48 = 4.2188; without the brew's part (0.36)
// it is 6 - 2*3.63/4.48 = 4.3795, variance 3.63 - 3.63^2/4.48 = 0.6887.
func TestLikingByHand(t *testing.T) {
	p := mustFit(t, eightfold(liked(trial("T1", 3, 0), 4)), Options{Approximate: true})
	fit, ok := p.fitLiking()
	if !ok {
		t.Fatal("no liking fit")
	}
	mean, sd := fit.combine(fit.panel(0, 0))
	if math.Abs(mean-4.3795) > 1e-3 || math.Abs(sd-math.Sqrt(0.6887)) > 1e-3 {
		t.Errorf("panel liking %.4f +- %.4f, want 4.3795 +- %.4f", mean, sd, math.Sqrt(0.6887))
	}
}

func TestAnyDoseLiked(t *testing.T) {
	prob := func(wish *wish, likings ...float64) float64 {
		s := eightfold(
			liked(trial("T1", 2, 0, -1, 0), likings...),
			liked(trial("T2", 4, 1, 0, 1), likings...))
		s.Wish = wish
		got, ok := mustFit(t, s, Options{}).anyDoseLiked()
		if !ok {
			t.Fatal("no answer although there are likings")
		}
		return got
	}
	bad, good := prob(nil, 2, 3, 2), prob(nil, 8, 7, 8)
	if bad > 0.05 || good < 0.95 {
		t.Errorf("chance %.3f with likings of 2-3, %.3f with 7-8", bad, good)
	}
	if low, high := prob(&wish{3}, 5, 5, 5), prob(&wish{8}, 5, 5, 5); low < 0.9 || high > 0.1 {
		t.Errorf("likings of 5: chance %.3f for a wish of 3, %.3f for 8", low, high)
	}
	if _, ok := mustFit(t, eightfold(trial("T1", 2, 0)), Options{}).anyDoseLiked(); ok {
		t.Error("an answer although nobody scored a liking")
	}
}

// Scores of the undosed beer are not of this material, and a liking alone
// (without a vote) does count.
func TestLikingRows(t *testing.T) {
	seven := 7.0
	s := eightfold(liked(trial("T0", 0, -1), 2), trial("T1", 3, 0))
	s.Trials[1].Scores = append(s.Trials[1].Scores, Score{Taster: "B", Liking: &seven})
	p := mustFit(t, s, Options{Approximate: true})
	var fit likingFit
	rows := p.likingRows(&fit)
	if len(rows) != 1 || rows[0].liking != 7 || !(rows[0].off > 0 && rows[0].off < 1) {
		t.Errorf("rows %+v, want the 7 with an expected share of misses", rows)
	}
}
