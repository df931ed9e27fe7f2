package doseresponse

import (
	"fmt"
	"slices"
	"testing"

	"hedgerow/report/evidence"
)

// panelVotes returns a trial of named votes without intensities.
func panelVotes(id string, dose float64, votes ...int) evidence.Trial {
	return unmarked(trial(id, dose, votes...))
}

// Half the panel calls 1 g/L right and all above too much, the other half calls
// 4 g/L right and all below too little: the camps are at these doses by what was
// said, within a factor of 1.5 for what three votes can tell.
func TestTwoCamps(t *testing.T) {
	p := mustFit(t, evidence.Study{ID: "c", ClaimsGPerL: [][2]float64{{0.5, 8}}, Trials: []evidence.Trial{
		panelVotes("1", 1, 0, 0, 0, -1, -1, -1), panelVotes("2", 4, 1, 1, 1, 0, 0, 0),
		panelVotes("3", 2, 1, 1, 1, -1, -1, -1)}}, Options{})
	s := p.twoCamps()
	if !s.Likely || s.Gap < likelyGap || s.Two-s.One < likelyGain {
		t.Fatalf("two camps 4-fold apart are not likely: %+v", s)
	}
	for k, want := range []struct {
		tasters []string
		dose    float64
	}{{[]string{"A", "B", "C"}, 1}, {[]string{"D", "E", "F"}, 4}} {
		c := s.Camps[k]
		if !slices.Equal(c.Tasters, want.tasters) || c.Dose.Value < want.dose/1.5 || c.Dose.Value > want.dose*1.5 {
			t.Errorf("camp %d: %v at %.2f g/L, want %v at %g", k, c.Tasters, c.Dose.Value, want.tasters, want.dose)
		}
		if *c.Dose.Low > c.Dose.Value || *c.Dose.High < c.Dose.Value || c.PRight <= s.One {
			t.Errorf("camp %d: %+v, one dose for all %.2f", k, c, s.One)
		}
	}
}

// A panel of one mind, and a panel too small to have sides, are no camps.
func TestNoCamps(t *testing.T) {
	tests := []evidence.Study{eightfold(), eightfold(trial("1", 1, 0, -1), trial("2", 4, 1, 0)),
		eightfold(trial("1", 1, -1, -1, -1, -1), trial("2", 3, 0, 0, 0, 0), trial("3", 6, 1, 1, 1, 1))}
	for i, s := range tests {
		if c := mustFit(t, s, Options{}).twoCamps(); c.Likely || c.Found {
			t.Error(fmt.Sprint("study ", i), c)
		}
	}
}

// One of four who calls right what is too much for all others is named, at a dose of
// their own, but decides nothing: jars are to tell. An interval that holds for three of
// four stays where it is and reaches to the fourth.
func TestOneTasterApart(t *testing.T) {
	p := mustFit(t, evidence.Study{ID: "c", ClaimsGPerL: [][2]float64{{0.5, 8}}, Trials: []evidence.Trial{
		panelVotes("1", 1, 0, 0, 0, -1), panelVotes("2", 1.5, 0, 1, 0, -1), panelVotes("3", 2.2, 1, 1, 1, -1),
		panelVotes("4", 5, 1, 1, 1, 0), panelVotes("5", 0.8, 0, 0, -1, -1)}}, Options{})
	s := p.twoCamps()
	if !s.Likely || s.Found || !slices.Equal(s.Camps[1].Tasters, []string{"D"}) || p.verdict() == TwoOf {
		t.Fatalf("likely %v, found %v, upper camp %v, verdict %s", s.Likely, s.Found, s.Camps[1].Tasters, p.verdict())
	}
	if r, d := p.RightDose(), s.Camps[1].Dose.Value; *r.High < d {
		t.Errorf("interval to %.2f, the fourth taster likes %.2f", *r.High, d)
	}
	if jars := p.Spread(4); jars[0] > s.Camps[0].Dose.Value*1.01 || jars[3] < s.Camps[1].Dose.Value*0.99 {
		t.Errorf("jars %.2f do not reach both", jars)
	}
}
