package doseresponse

import (
	"testing"

	"hedgerow/report/evidence"
)

// What a panel gave 2 or 3 of 9 at doses of which one was right for most is hardly
// liked, what it gave 7 or 8 is; and a wish is measured by.
func TestAnyDoseLiked(t *testing.T) {
	prob := func(wish *evidence.Wish, likings ...float64) float64 {
		s := eightfold(
			liked(trial("T1", 2, 0, -1, 0), likings...),
			liked(trial("T2", 3, 0, 0, 1), likings...))
		s.Wish = wish
		got := mustFit(t, s, Options{}).Answer().PLikedThis
		if got == nil {
			t.Fatal("no answer although there are likings")
		}
		return *got
	}
	bad, good := prob(nil, 2, 3, 2), prob(nil, 8, 7, 8)
	if bad > 0.05 || good < 0.95 {
		t.Errorf("chance %.3f with likings of 2-3, %.3f with 7-8", bad, good)
	}
	if low, high := prob(&evidence.Wish{Liking: 3}, 5, 5, 5), prob(&evidence.Wish{Liking: 8}, 5, 5, 5); low < 0.9 ||
		high > 0.1 {
		t.Errorf("likings of 5: chance %.3f for a wish of 3, %.3f for 8", low, high)
	}
}
