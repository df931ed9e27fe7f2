package doseresponse

import (
	"maps"
	"slices"
	"testing"

	"hedgerow/report/evidence"
)

// likedStudy is an invented study: one beer that four tasters liked, and three
// far off the right dose that they did not.
func likedStudy(likings map[float64]float64) evidence.Study {
	s := evidence.Study{ID: "liked", ClaimsGPerL: [][2]float64{{1, 8}}, Attribute: "floral"}
	for _, dose := range slices.Sorted(maps.Keys(likings)) {
		liking := likings[dose]
		vote := 0
		switch {
		case dose < 3:
			vote = -1
		case dose > 5:
			vote = 1
		}
		t := evidence.Trial{ID: number(dose), DoseGPerL: dose, Method: "tea"}
		for _, name := range []string{"A", "B", "C", "D"} {
			t.Scores = append(t.Scores, evidence.Score{Taster: name, Vote: &vote, Liking: &liking})
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
	if prob := p.Answer().PAnyDoseLiked; prob == nil || *prob < 0.99 {
		t.Errorf("probability that any dose is liked is %v", prob)
	}
	if v := p.verdict(); v == Drop || v == Change {
		t.Errorf("%s a material of which one beer was liked", v)
	}
}

// Nobody liked any of them, the right dose of one method among them: another
// method may still do.
func TestWhatNobodyLikesIsChanged(t *testing.T) {
	p, err := Fit(likedStudy(map[float64]float64{1: 3, 4: 3.5, 8: 2, 9: 1.5}), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if v := p.verdict(); v != Change {
		t.Errorf("verdict %s with %+v", v, p.likedNear())
	}
}
