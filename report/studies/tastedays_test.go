package studies

import (
	"testing"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// An invented beer is scored on days 31 and 122, the second evening logged first: two
// trials of one brew for an inference, each at its own age.
func TestTasteDays(t *testing.T) {
	brewed := time.Date(2026, 3, 1, 18, 0, 0, 0, time.UTC)
	day := func(d float64) time.Time { return brewed.Add(time.Duration(d * 24 * float64(time.Hour))) }
	trial := ledger.Trial{Batch: trials.Batch{}, BrewedAt: brewed, TastedAt: []time.Time{day(31), day(122)}}
	trial.Batch.Name = "heather-3"
	times := map[string]time.Time{"old": day(122.1), "young": day(31), "young too": day(31.05)}
	var scores []*ledger.Scored
	for _, serving := range []string{"old", "young too", "young", "old"} {
		sc := ledger.Scored{}
		sc.ServingID = serving
		scores = append(scores, &sc)
	}
	days := tasteDays(trial, scores, times)
	if len(days) != 2 {
		t.Fatalf("%d days, want 2: %+v", len(days), days)
	}
	for k, want := range []struct {
		name   string
		age    float64
		scores int
	}{{"heather-3", 31, 2}, {"heather-3@122d", 122.1, 2}} {
		d := days[k]
		age := ageInStudy(trial, d.at)
		if d.name != want.name || len(d.scores) != want.scores || age == nil || *age < want.age-0.01 || *age > want.age+0.01 {
			t.Errorf("day %d: %+v aged %v, want %+v", k, d, age, want)
		}
	}
	unscored := tasteDays(trial, nil, times)
	if len(unscored) != 1 || unscored[0].name != "heather-3" || !unscored[0].at.Equal(day(31)) {
		t.Errorf("without scores: %+v", unscored)
	}
	trial.TastedAt = nil
	if d := tasteDays(trial, nil, times)[0]; ageInStudy(trial, d.at) != nil || contactInStudy(trial, d.at) != nil {
		t.Errorf("never tasted: %+v", d)
	}
	if ageInStudy(trial, brewed.Add(-time.Hour)) != nil {
		t.Error("an evening before its beer tells an age")
	}
}
