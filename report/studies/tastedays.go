package studies

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"hedgerow/trials/ledger"
)

// A tasteDay is what was said of one trial on one day. A beer that is tasted again
// weeks later is another beer of the same dose: its taste may have faded, or more
// come out of a plant that is still in it.
type tasteDay struct {
	name   string // of the trial on that day, in a study
	at     time.Time
	scores []*ledger.Scored
}

// tastingTimes are the times of the tastings of a set, by serving.
func tastingTimes(s ledger.TrialSet) map[string]time.Time {
	at := make(map[string]time.Time, len(s.Tastings))
	for _, t := range s.Tastings {
		at[t.ID] = t.At
	}
	times := make(map[string]time.Time, len(s.Servings))
	for _, v := range s.Servings {
		times[v.ID] = at[v.TastingID]
	}
	return times
}

// tasteDays parts the scores of a trial by the day in the life of the beer on which
// they were given, the first day first. It has the name of the trial, a later one
// the day behind that of the batch. A trial without scores has one day, the first on
// which it was tasted.
func tasteDays(t ledger.Trial, scores []*ledger.Scored, times map[string]time.Time) []tasteDay {
	by := map[float64]*tasteDay{}
	for _, sc := range scores {
		at := times[sc.ServingID]
		day := math.Round(at.Sub(t.BrewedAt).Hours() / 24)
		if by[day] == nil {
			by[day] = &tasteDay{name: fmt.Sprintf("%s@%.0fd", t.Batch.Name, day), at: at}
		}
		d := by[day]
		d.scores = append(d.scores, sc)
		if at.Before(d.at) {
			d.at = at
		}
	}
	if len(by) == 0 {
		d := tasteDay{name: t.Name()}
		if len(t.TastedAt) > 0 {
			d.at = t.TastedAt[0]
		}
		return []tasteDay{d}
	}
	var days []tasteDay
	for _, d := range by {
		days = append(days, *d)
	}
	slices.SortFunc(days, func(a, b tasteDay) int { return cmp.Or(a.at.Compare(b.at), cmp.Compare(a.name, b.name)) })
	days[0].name = t.Name()
	return days
}

// ageInStudy is the age of a beer in days at a moment, for an inference; nil where
// nobody tasted it, and where the evening is dated before its beer.
func ageInStudy(t ledger.Trial, at time.Time) *float64 {
	if at.IsZero() {
		return nil
	}
	if days := at.Sub(t.BrewedAt).Hours() / 24; days > 0 {
		return &days
	}
	return nil
}

// contactInStudy is contactDays for an inference, nil where nobody tasted the beer.
func contactInStudy(t ledger.Trial, at time.Time) *float64 {
	if at.IsZero() {
		return nil
	}
	return contactDays(t, at)
}
