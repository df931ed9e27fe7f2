package evidence

import (
	"errors"
	"math"
	"slices"
	"testing"
)

// shared returns an invented study with trials of three brewers.
func shared() Study {
	vote := 0
	by := func(tasters ...string) []Score {
		var list []Score
		for _, name := range tasters {
			list = append(list, Score{Taster: name, Vote: &vote})
		}
		return list
	}
	return Study{
		ID: "s", ClaimsGPerL: [][2]float64{{1, 8}},
		Trials: []Trial{
			{ID: "T1", DoseGPerL: 2, Scores: by("B", "A")},
			{ID: "T2", DoseGPerL: 0, Scores: by("Z")},
			{ID: "c1", Brewer: "Brewer C", DoseGPerL: 4, Scores: by("R", "A")},
			{ID: "b1", Brewer: "Brewer B", DoseGPerL: 4, Scores: by("P")},
			{ID: "T3", Brewer: Me, DoseGPerL: 3},
		},
		Avoid: []Avoid{{Attribute: "bitter", AtMost: 3, Scores: []AvoidScore{{Trial: "T1"}, {Trial: "b1"}}}},
	}
}

func TestAloneLeavesOutOtherBrewers(t *testing.T) {
	s := shared()
	s.Others = []OtherDose{{Brewer: "Brewer D"}}
	alone := s.Alone()
	var ids []string
	for _, tr := range alone.Trials {
		ids = append(ids, tr.ID)
	}
	if want := []string{"T1", "T2", "T3"}; !slices.Equal(ids, want) {
		t.Errorf("own trials %v, want %v", ids, want)
	}
	if len(alone.Others) > 0 || alone.Shared() || !s.Shared() {
		t.Errorf("shared: %v before, %v after", s.Shared(), alone.Shared())
	}
	// a score of a trial that is gone would name none
	if len(alone.Avoid[0].Scores) != 1 || len(s.Avoid[0].Scores) != 2 {
		t.Errorf("to avoid: %v, before %v", alone.Avoid[0].Scores, s.Avoid[0].Scores)
	}
	if err := alone.Validate(); err != nil {
		t.Error(err)
	}
}

func TestBrewersAndPeople(t *testing.T) {
	s := shared()
	s.Others = []OtherDose{{Brewer: "Brewer A"}}
	if got := s.Brewers(); !slices.Equal(got, []string{"Brewer A", "Brewer B", "Brewer C"}) {
		t.Errorf("brewers %v", got)
	}
	// who scored an undosed beer alone has said nothing of the dose
	if got := s.People(); !slices.Equal(got, []string{"A", "B"}) {
		t.Errorf("people %v", got)
	}
	s.Panel = []string{"D", "C", "C"}
	if got := s.People(); !slices.Equal(got, []string{"C", "D"}) {
		t.Errorf("people named %v", got)
	}
	if got := Voters(s.Of("Brewer C")); !slices.Equal(got, []string{"A", "R"}) || !s.Of("Brewer C")[0].Own() {
		t.Errorf("voters %v", got)
	}
}

// The value is named, and what is allowed is said.
func TestWhatOtherBrewersSayIsChecked(t *testing.T) {
	good := OtherDose{Brewer: "Brewer B", RightGPerL: 4, LowGPerL: 2, HighGPerL: 8, Trials: 3, Tasters: 4}
	for name, change := range map[string]func(*Study){
		"no name":       func(s *Study) { s.Others[0].Brewer = " " },
		"me":            func(s *Study) { s.Others[0].Brewer = Me },
		"no dose":       func(s *Study) { s.Others[0].RightGPerL = 0 },
		"not a number":  func(s *Study) { s.Others[0].HighGPerL = math.NaN() },
		"outside":       func(s *Study) { s.Others[0].LowGPerL = 5 },
		"no width":      func(s *Study) { s.Others[0].LowGPerL, s.Others[0].HighGPerL = 4, 4 },
		"nobody":        func(s *Study) { s.Others[0].Tasters = 0 },
		"fewer than no": func(s *Study) { s.Others[0].Trials = -1 },
		"twice":         func(s *Study) { s.Others = append(s.Others, good) },
		"panel":         func(s *Study) { s.Panel = []string{"A", ""} },
		"brewer":        func(s *Study) { s.Trials[0].Brewer = "  " },
	} {
		s := shared()
		s.Avoid, s.Others = nil, []OtherDose{good}
		if err := s.Validate(); err != nil {
			t.Fatal(err)
		}
		change(&s)
		var bad *InputError
		if err := s.Validate(); !errors.As(err, &bad) || bad.Hint == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// An interval of 90 % is 2 x 1.645 SDs wide: [2, 8] about 4 has ln 4/3.29 = 0.42137.
func TestLnOfAPrintedDose(t *testing.T) {
	mean, sd := OtherDose{RightGPerL: 4, LowGPerL: 2, HighGPerL: 8}.LnRight()
	if math.Abs(mean-1.3862944) > 1e-6 || math.Abs(sd-0.4213661) > 1e-6 {
		t.Errorf("%g, %g", mean, sd)
	}
}
