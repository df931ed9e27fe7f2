package evidence

import (
	"math"
	"testing"
)

// By hand: the points (0,0), (1,0), (2,-1), (3,-1) have Sxx 5, Sxy -2, Syy 1, so a
// slope of -0.4, s^2 = (1 - 0.8)/2 = 0.1 and t = -0.4/sqrt(0.1/5) = -2.8284.
func TestSlopeByHand(t *testing.T) {
	var l fallingLine
	for x, y := range []float64{0, 0, -1, -1} {
		l.add(float64(x), y)
	}
	if got := l.slopeSEs(); math.Abs(got+2.8284) > 1e-4 {
		t.Errorf("slope of %.4f standard errors, want -2.8284", got)
	}
}

// marked gives every score of a trial one intensity.
func marked(t Trial, intensity float64) Trial {
	for i := range t.Scores {
		t.Scores[i].Intensity = &intensity
	}
	return t
}

// Body under a tea falls: nobody misses it in the undosed beer, all do at the highest
// dose. A taste that rises, one that two beers put the wrong way round, and votes
// without an order do not fall.
func TestFalling(t *testing.T) {
	body := studyOf(spoken("0", 0, 0, 0, 0, 0, 0), spoken("1", 2, 0, 0, 0, -1, 0), spoken("2", 3, -1, -1, 0, 0, 0),
		spoken("3", 5, -1, -1, -1, -1, -1))
	f := body.Falling()
	if f == nil || *f != (Falling{0, 5, 0, 5, 5, 5}) {
		t.Errorf("body: %+v", f)
	}
	for name, s := range map[string]Study{
		"rises":         studyOf(spoken("0", 0, -1, -1, -1), spoken("1", 2, -1, 0, 0), spoken("2", 6, 1, 1, 0)),
		"contradiction": studyOf(spoken("1", 2, 1, 1, 1), spoken("2", 5, -1, -1, -1)),
		"no order":      studyOf(spoken("0", 0, -1, 0, 1), spoken("1", 2, 0, 1, -1), spoken("2", 5, -1, 0, 0)),
		"intensities rise": studyOf(marked(spoken("0", 0, 0, 0, 0), 1), marked(spoken("1", 2, 0, -1, -1), 4),
			marked(spoken("2", 5, -1, -1, -1), 7)),
	} {
		if f := s.Falling(); f != nil {
			t.Errorf("%s: %+v", name, *f)
		}
	}
}
