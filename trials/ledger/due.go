package ledger

import (
	"math"
	"slices"
	"time"

	"hedgerow/trials"
)

// dueKind says what is due.
type dueKind string

// The kinds of what is due.
const (
	DuePull    dueKind = "pull"    // a plant lies in the beer: taste it, and take it out or wait
	DueGravity dueKind = "gravity" // the gravity was not read, or not often enough to tell an end
	DuePackage dueKind = "package" // the gravity stands still
	DueTaste   dueKind = "taste"   // packaged long enough, and in no tasting yet
)

// Due is something that a batch waits for.
type Due struct {
	Kind     dueKind          // what it is
	At       time.Time        // from when on
	Addition *trials.Addition // the plant, for DuePull
	Days     float64          // how long it has been in, or since the last reading; -1 where none was ever made
	SG       float64          // the gravity that stands still, for DuePackage
}

// When something is due, in days: a first reading a week into fermentation, another some
// days after the last, two that agree some days apart for an end, and a fortnight in the
// package before it is tasted (common practice, no source).
const (
	firstReadingDays = 7
	nextReadingDays  = 3
	steadyDays       = 2
	tasteDays        = 14
)

// steadySG is how near two gravities stand for fermentation to have ended: what a
// hydrometer can be read to, up and down (common practice, no source).
const steadySG = 0.002

// rounding lets two gravities of three decimals differ by just the limit.
const rounding = 1e-9

// DueFor lists what a batch waits for at the moment of the notebook.
func DueFor(n *trials.Notebook, s Standing) []Due {
	switch {
	case s.Spent() || s.Batch.Kind == trials.KindGlass:
		return nil
	case s.Packaged != nil:
		return dueTaste(n, s)
	}
	var list []Due
	for _, a := range s.StillIn {
		list = append(list, Due{Kind: DuePull, At: pullAt(a), Addition: &a, Days: daysBetween(a.At, n.Now)})
	}
	if due := dueGravity(n, s); due != nil {
		list = append(list, *due)
	}
	return list
}

// pullAt is when a plant is meant to come out; where no time was said, it is looked at
// from the first day on.
func pullAt(a trials.Addition) time.Time {
	if at, planned := a.TakenOut(); planned {
		return at
	}
	return a.At.AddDate(0, 0, 1)
}

// daysBetween counts days.
func daysBetween(from, to time.Time) float64 { return to.Sub(from).Hours() / 24 }

// dueGravity tells whether a beer in the fermenter is to be read, or is ready.
func dueGravity(n *trials.Notebook, s Standing) *Due {
	if len(s.Gravity) == 0 {
		at := s.Batch.StartedAt.AddDate(0, 0, firstReadingDays)
		return &Due{Kind: DueGravity, At: at, Days: -1}
	}
	last := s.Gravity[len(s.Gravity)-1]
	if sg, steady := s.steady(); steady {
		if len(s.StillIn) > 0 {
			return nil // what lies in it comes out first
		}
		// what went in since may have set it going again
		if at, added := addedSince(n, s.Batch, last.At); added {
			return &Due{Kind: DueGravity, At: at.AddDate(0, 0, nextReadingDays), Days: daysBetween(last.At, n.Now)}
		}
		return &Due{Kind: DuePackage, At: last.At, SG: sg, Days: daysBetween(last.At, n.Now)}
	}
	return &Due{Kind: DueGravity, At: last.At.AddDate(0, 0, nextReadingDays), Days: daysBetween(last.At, n.Now)}
}

// steady reports whether the last gravity is that of some days before it, and so of a
// beer that has ended.
func (s Standing) steady() (sg float64, is bool) {
	last := s.Gravity[len(s.Gravity)-1]
	for _, r := range slices.Backward(s.Gravity) {
		if daysBetween(r.At, last.At) >= steadyDays {
			return *last.SG, math.Abs(*r.SG-*last.SG) <= steadySG+rounding
		}
	}
	return *last.SG, false
}

// addedSince is when something that may ferment last went into a batch after a moment.
func addedSince(n *trials.Notebook, b trials.Batch, after time.Time) (last time.Time, any bool) {
	for _, a := range n.Additions {
		if a.BatchID == b.ID && a.At.After(after) && a.LiquidKind != "water" {
			last, any = later(last, a.At), true
		}
	}
	return last, any
}

// dueTaste tells whether a beer waits to be tasted.
func dueTaste(n *trials.Notebook, s Standing) []Due {
	at := s.Packaged.AddDate(0, 0, tasteDays)
	if s.Tasted > 0 || len(s.In) == 0 {
		return nil
	}
	return []Due{{Kind: DueTaste, At: at, Days: daysBetween(*s.Packaged, n.Now)}}
}
