package doseresponse

import (
	"testing"

	"hedgerow/report/evidence"
)

// Beers that all called too much say nothing of the plant at its right dose, one
// that all called right does: what is disliked there may still be made better by
// another method, and only what was disliked by several ways is out of reach.
// The limits are those of the verdicts.
func TestLikedNear(t *testing.T) {
	over := eightfold(liked(trial("1", 6, 1, 1, 1, 1), 3, 2, 3, 3), liked(trial("2", 4, 1, 1, 1, 1), 4, 3, 3, 4))
	if n := mustFit(t, over, Options{}).likedNear(); !n.Known || n.NearEnough() || n.Here < 0.1 {
		t.Errorf("two overdosed beers tell of the right dose: %+v", n)
	}
	right := eightfold(liked(trial("1", 2.8, 0, 0, 0, 0), 3, 4, 3, 4))
	if n := mustFit(t, right, Options{}).likedNear(); !n.NearEnough() || n.RightShare != 1 || n.Here >= 0.1 ||
		n.Other < n.Here || n.NearBrews != 1 || n.Mean != 3.5 {
		t.Errorf("a beer that was right and not liked: %+v", n)
	}
	by := func(method string, t evidence.Trial) evidence.Trial { t.Method = method; return t }
	bad := eightfold(liked(trial("1", 3, 0, 0, 0, 0), 2, 3, 2, 3),
		liked(by("contact", trial("2", 3, 0, 0, 0, 0)), 2, 2, 3, 2),
		liked(by("tincture", trial("3", 2.8, 0, 0, 0, 0)), 2, 2, 2, 3))
	if n := mustFit(t, bad, Options{}).likedNear(); n.Other >= 0.1 || n.NearBrews != 3 || n.NearMethods != 3 {
		t.Errorf("disliked by three ways: %+v", n)
	}
	good := eightfold(liked(trial("1", 1, -1, -1, -1, -1), 3, 3, 3, 3), liked(trial("2", 3, 0, 0, 0, 0), 7, 7, 7, 7))
	if n := mustFit(t, good, Options{}).likedNear(); n.Here < 0.9 {
		t.Errorf("a beer that was liked: %+v", n)
	}
	if n := mustFit(t, eightfold(trial("1", 3, 0)), Options{}).likedNear(); n.Known {
		t.Error("no liking is known")
	}
}
