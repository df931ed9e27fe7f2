package ledger

import (
	"slices"
	"testing"
	"time"

	"hedgerow/dilution"
	"hedgerow/trials"
)

// seedTrials gathers the trials of coriander seed.
func seedTrials(t *testing.T, n *trials.Notebook) TrialSet {
	t.Helper()
	m, ok := shipped(t).Get("coriander-seed")
	if !ok {
		t.Fatal("coriander-seed is not in the catalogue")
	}
	s, err := Gather(n, m)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The same beer tasted on days 3, 7 and 14 is three trials, each at the dose of its
// day (shares as in seedShares) with its own score; all are inferred from by the dose
// at the last.
func TestBeerTastedWhileAPlantLiesInItIsATrialADay(t *testing.T) {
	n, _ := seedBatch()
	s := seedTrials(t, n)
	var names []string
	for i, want := range []struct {
		share, days float64
	}{{0.79, 3}, {0.97, 7}, {1.00, 14}} {
		if len(s.Trials) != 3 {
			t.Fatalf("%d trials, want 3", len(s.Trials))
		}
		trial := s.Trials[i]
		names = append(names, trial.Name())
		near(t, trial.Name(), trial.Effective.Value, 1.5*want.share, 0.015)
		near(t, trial.Name()+": days in", *trial.InDays, want.days, 1e-9)
		near(t, trial.Name()+": axis", trial.Axis(), 1.5, 0.015)
		if len(trial.TastedAt) != 1 || trial.Control {
			t.Errorf("%s: tasted %v, control %v", trial.Name(), trial.TastedAt, trial.Control)
		}
	}
	if want := []string{"heather-1", "heather-1@18d", "heather-1@25d"}; !slices.Equal(names, want) {
		t.Errorf("trials %v, want %v", names, want)
	}
	for i, sc := range s.Scores {
		if sc.Trial != i {
			t.Errorf("score %d belongs to trial %d", i, sc.Trial)
		}
	}
}

// What the study sees of a plant that is still in does not move with the day on which
// one looks; once it is out, it is the dose of that moment: day 4 of whole seed, on
// which nine tenths are out on day 4.4 (the table of the course of a plant).
func TestAxisDoesNotMoveWithTheDayOneLooks(t *testing.T) {
	n, _ := seedBatch()
	n.Now = day(26)
	early := seedTrials(t, n).Trials[0].Axis()
	n.Now = day(60)
	near(t, "axis a month later", seedTrials(t, n).Trials[0].Axis(), early, 1e-6)
	n.Additions[0].OutAt = ptr(day(15).Add(9*time.Hour + 36*time.Minute))
	s := seedTrials(t, n)
	near(t, "trials", float64(len(s.Trials)), 2, 0)
	for _, trial := range s.Trials {
		near(t, trial.Name(), trial.Axis(), 1.5*0.90, 0.015)
	}
	near(t, "days in at the last tasting", *s.Trials[1].InDays, 4.4, 1e-9)
	n.Servings, n.Scores, n.Additions[0].OutAt = nil, nil, nil
	near(t, "never tasted: a week", seedTrials(t, n).Trials[0].Axis(), 1.5*0.97, 0.015)
}

// Tasted before and after more went in, a beer is two trials; after water only, at its
// thinner dose too: 12 L and 3 L of water leave 0.8 of it.
func TestBeerTastedBeforeAndAfterMoreWentIn(t *testing.T) {
	n := series()
	serve(n, trials.Tasting{Record: trials.Record{Name: "late"}, At: day(40), Blind: true, ClosedAt: ptr(day(40))},
		"single")
	if got := trialNames(setOf(t, n)); got != "plain single double" {
		t.Errorf("trials %s: nothing went in between", got)
	}
	n.Additions = append(n.Additions, trials.Addition{Record: trials.Record{ID: "w", Name: "single.a2"}, BatchID: "single",
		At: day(35), Stage: trials.StageSecondary, LiquidKind: "water", VolumeL: ptr(3.0)})
	s := setOf(t, n)
	if got := trialNames(s); got != "plain single single double" {
		t.Fatalf("trials %s", got)
	}
	near(t, "thinned", s.Trials[1].Effective.Value, 30.0895/15.981614, 1e-3)
	near(t, "before", s.Trials[2].Effective.Value, 30.0895/12.981614, 1e-3)
	abv := func(k int) float64 { return s.Trials[k].Last.Estimates[dilution.QABV].Value }
	near(t, "strength before", abv(2)/abv(1), 15.981614/12.981614, 0.01)
}

// An evening has one time: what was poured into a jar later that evening was in it.
func TestPouredOnTheEveningOfTheTasting(t *testing.T) {
	n := series()
	n.Tastings[0].At = day(11).Add(-2 * time.Hour)
	s := setOf(t, n)
	near(t, "single", s.Trials[1].Effective.Value, 30.0895/12.981614, 1e-3)
	if got := trialNames(s); got != "plain single double" {
		t.Errorf("trials %s", got)
	}
}
