package doseresponse

import (
	"maps"
	"math"
	"slices"
	"testing"
)

// likedStudy is an invented study: one beer that four tasters liked, and three
// far off the right dose that they did not.
func likedStudy(likings map[float64]float64) Study {
	s := Study{ID: "liked", ClaimsGPerL: [][2]float64{{1, 8}}, Attribute: "floral"}
	for _, dose := range slices.Sorted(maps.Keys(likings)) {
		liking := likings[dose]
		vote := 0
		switch {
		case dose < 3:
			vote = -1
		case dose > 5:
			vote = 1
		}
		t := Trial{ID: number(dose), DoseGPerL: dose, Method: "tea"}
		for _, name := range []string{"A", "B", "C", "D"} {
			t.Scores = append(t.Scores, Score{Taster: name, Vote: &vote, Liking: &liking})
		}
		s.Trials = append(s.Trials, t)
	}
	return s
}

// A beer that the whole panel liked well above the wish is proof that a dose can
// be liked; beers far off must not hide it. By hand for four likings of 7: v =
// 1/(1/2.25 + 4/0.49) = 0.1162, mean = 0.1162 (6/2.25 + 28/0.49) = 6.948, z =
// 0.948/0.3409 = 2.78, probability 0.997.
func TestALikedBeerIsNotDropped(t *testing.T) {
	p, err := Fit(likedStudy(map[float64]float64{1: 3, 4: 7, 8: 2, 9: 1.5}), Options{})
	if err != nil {
		t.Fatal(err)
	}
	prob, ok := p.anyDoseLiked()
	if !ok || prob < 0.99 {
		t.Errorf("probability that any dose is liked is %.3f, %v", prob, ok)
	}
	if v := p.verdict(); v == Drop {
		t.Error("a material was dropped of which one beer was liked")
	}
	fit, _ := p.fitLiking()
	if got := fit.tastedLiked(6); math.Abs(got-0.9973) > 0.0005 {
		t.Errorf("probability for the beer itself is %.4f, want 0.9973", got)
	}
}

// Nobody liked any of them: the floor must not rescue the material.
func TestWhatNobodyLikesIsDropped(t *testing.T) {
	p, err := Fit(likedStudy(map[float64]float64{1: 3, 4: 3.5, 8: 2, 9: 1.5}), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if v := p.verdict(); v != Drop {
		prob, _ := p.anyDoseLiked()
		t.Errorf("verdict %s with probability %.3f that any dose is liked", v, prob)
	}
}

// One dose that was too much for all and not liked says nothing of the others;
// one that was just right and not liked does.
func TestOneBadDoseSaysNothing(t *testing.T) {
	for dose, want := range map[float64]bool{8: false, 4: true} {
		p := mustFit(t, likedStudy(map[float64]float64{dose: 2}), Options{})
		if prob, ok := p.anyDoseLiked(); ok != want {
			t.Errorf("%g g/L: chance %.3f, %v", dose, prob, ok)
		}
	}
}
