package decisions

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// scoredSet makes a trial set of a file of testdata, its blocks tasters and its
// treatments trials, the named one a control.
func scoredSet(t *testing.T, name, response, treatment, block, control string) ledger.TrialSet {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "datasets", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatal(err, len(rows))
	}
	y, trial, taster := slices.Index(rows[0], response), slices.Index(rows[0], treatment), slices.Index(rows[0], block)
	var s ledger.TrialSet
	place := map[string]int{}
	for _, r := range rows[1:] {
		v, err := strconv.ParseFloat(r[y], 64)
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := place[r[trial]]; !ok {
			place[r[trial]] = len(s.Trials)
			s.Trials = append(s.Trials, ledger.Trial{Batch: trials.Batch{Record: trials.Record{Name: r[trial]}},
				Control: r[trial] == control})
		}
		s.Scores = append(s.Scores, ledger.Scored{
			Trial: place[r[trial]], Taster: r[taster], Score: trials.Score{Attribute: "bitterness", Intensity: &v}})
	}
	return s
}

// wine_gaps.csv is Randall's wine (1989) less 14 rows. R 4.2.2: lme4 1.1-31 with
// tightened optimizer, multcomp 1.4-22 glht with df = 46, error 1e-6.
func TestControlOfWine(t *testing.T) {
	s := scoredSet(t, "wine_gaps.csv", "rating", "treatment", "judge", "cold plain")
	rows, warnings := againstControl(s, attributeFits(s, []string{"bitterness"}))
	want := map[string]float64{"cold skins": 7.12586128574e-02, "warm plain": 1.24808201399e-03,
		"warm skins": 4.20959673564e-07}
	if len(rows) != len(want) || len(warnings) != 0 {
		t.Fatalf("%+v, %q", rows, warnings)
	}
	for _, r := range rows {
		invented.Near(t, r.Trial, r.P, want[r.Trial], 1e-5)
		if r.Control != "cold plain" || r.Shown != (r.Trial != "cold skins") || r.NControl != 9 {
			t.Errorf("%+v", r)
		}
	}
}

// By hand as TestPairsOfTrials: s = 1, so that a difference has the standard
// error root of 2/3 with 4 degrees of freedom. The limit for two trials beside a
// control lies between that of one, 2.776, and that of two not related, 3.495
// (any table of t).
func TestControlByHand(t *testing.T) {
	n := invented.Series()
	s := invented.SetOf(t, n)
	rows, _ := againstControl(s, attributeFits(s, []string{"tartness", trials.Overall}))
	if len(rows) != 4 {
		t.Fatalf("%+v", rows)
	}
	for i, want := range []struct {
		attribute, trial string
		difference       float64
		shown            bool
	}{{"tartness", "single", 2, false}, {"tartness", "double", 5, true}, {"liking", "single", 1, false}, {"liking",
		"double", 0, false}} {
		r := rows[i]
		if r.Attribute != want.attribute || r.Trial != want.trial || r.Control != "plain" || r.Shown != want.shown ||
			r.N != 3 || r.NControl != 3 {
			t.Errorf("%+v, want %+v", r, want)
		}
		invented.Near(t, want.trial, r.Difference.Value, want.difference, 1e-6)
	}
	half := (*rows[0].Difference.High - *rows[0].Difference.Low) / 2
	if half < 2.776*0.8165 || half > 3.495*0.8165 {
		t.Errorf("half-width %v", half)
	}
	p, text := compared(t, n)
	if len(p.Controls) != 4 || len(p.Agreed) != 2 || p.Controls[1].P != rows[1].P {
		t.Errorf("--json has %+v and %+v", p.Controls, p.Agreed)
	}
	for _, part := range []string{"Differences from the control", "higher than the control",
		"no difference shown; could"} {
		if !strings.Contains(text, part) {
			t.Errorf("no %q in\n%s", part, text)
		}
	}
}

// Without a control that was scored there is no table; of two the one with more
// scores is taken, whatever their order.
func TestControlIsChosenByItsScores(t *testing.T) {
	s := scoredSet(t, "wine_gaps.csv", "rating", "treatment", "judge", "")
	if rows, _ := againstControl(s, attributeFits(s, []string{"bitterness"})); len(rows) != 0 ||
		controlSection(rows) != nil {
		t.Errorf("%+v without a control", rows)
	}
	for i := range s.Trials {
		name := s.Trials[i].Batch.Name
		s.Trials[i].Control = name == "cold plain" || name == "warm skins" // 9 and 18 scores
	}
	for range 2 {
		if rows, _ := againstControl(s, attributeFits(s, []string{"bitterness"})); len(rows) != 3 ||
			rows[0].Control != "warm skins" {
			t.Errorf("%+v", rows)
		}
		slices.Reverse(s.Scores)
	}
}
