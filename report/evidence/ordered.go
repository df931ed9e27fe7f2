package evidence

import (
	"cmp"
	"slices"
	"strings"
)

// Ordered returns the study with claims, trials, series and scores in an order that
// their contents alone decide. Sums of floats, ties and numbers drawn at random
// all go by position: with this order before everything else the order in which
// things were logged cannot change an answer, not even in the last digit.
func (s Study) Ordered() Study {
	s.ClaimsGPerL = slices.Clone(s.ClaimsGPerL)
	slices.SortFunc(s.ClaimsGPerL, func(a, b [2]float64) int { return slices.Compare(a[:], b[:]) })
	s.Trials = slices.Clone(s.Trials)
	for i := range s.Trials {
		t := &s.Trials[i]
		// a trial without a name is called by its number, which sorting would lose
		t.ID = TrialName(*t, i)
		if t.Own() {
			t.Brewer = ""
		}
		t.Scores = slices.Clone(t.Scores)
		slices.SortFunc(t.Scores, compareScores)
	}
	slices.SortStableFunc(s.Trials, compareTrials)
	// a series without a note is no series
	s.DosedToTaste = slices.DeleteFunc(slices.Clone(s.DosedToTaste), func(l ToTaste) bool { return !l.Noted() })
	slices.SortStableFunc(s.DosedToTaste, compareToTaste)
	s.Panel = slices.Sorted(slices.Values(s.Panel))
	s.Others = slices.Clone(s.Others)
	slices.SortFunc(s.Others, compareOthers)
	s.Avoid = slices.Clone(s.Avoid)
	for i := range s.Avoid {
		a := &s.Avoid[i]
		a.Scores = slices.Clone(a.Scores)
		slices.SortFunc(a.Scores, compareAvoidScores)
	}
	return s
}

// compareTrials orders trials by dose, then by what else bears on the answer.
// The name comes last: that of a nameless trial is its place in the record.
func compareTrials(a, b Trial) int {
	return cmp.Or(
		cmp.Compare(a.DoseGPerL, b.DoseGPerL),
		strings.Compare(a.Method, b.Method),
		strings.Compare(string(a.Kind), string(b.Kind)),
		strings.Compare(a.Group, b.Group),
		cmp.Compare(a.DoseSDLn, b.DoseSDLn),
		compareKnown(a.DaysOld, b.DaysOld),
		compareKnown(a.ContactDays, b.ContactDays),
		strings.Compare(a.Lot, b.Lot),
		slices.CompareFunc(a.Scores, b.Scores, compareScores),
		strings.Compare(a.Brewer, b.Brewer),
		strings.Compare(a.ID, b.ID),
	)
}

// compareScores orders scores by taster and then by what was said.
func compareScores(a, b Score) int {
	return cmp.Or(
		strings.Compare(a.Taster, b.Taster),
		compareKnown(a.Vote, b.Vote),
		compareKnown(a.Intensity, b.Intensity),
		compareKnown(a.Liking, b.Liking),
	)
}

// compareAvoidScores orders the scores of an unwanted taste.
func compareAvoidScores(a, b AvoidScore) int {
	return cmp.Or(
		strings.Compare(a.Trial, b.Trial),
		strings.Compare(a.Taster, b.Taster),
		cmp.Compare(a.Intensity, b.Intensity),
	)
}

// compareKnown orders values of which some are unknown; those come first.
func compareKnown[T cmp.Ordered](a, b *T) int {
	switch {
	case a == nil && b == nil:
		return 0
	case a == nil:
		return -1
	case b == nil:
		return 1
	}
	return cmp.Compare(*a, *b)
}
