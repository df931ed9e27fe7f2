package panel

import "fmt"

// Liking is how much a taster liked a beer beside the vote on its dose.
type Liking struct {
	Vote  int     // -1 too little, 0 just right, 1 too much
	Value float64 // liking, any scale
}

// MeanDrop is the liking lost by one side of the votes.
type MeanDrop struct {
	N        int     // votes on this side
	Mean     float64 // their mean liking, valid if N > 0
	Drop     float64 // mean liking of "just right" less Mean, valid if OK
	Weighted float64 // Drop times the share of all votes on this side, valid if OK
	OK       bool    // both this side and "just right" have votes
	Mention  bool    // at least 20 % of the votes and three of them
}

// PenaltyTable is the result of Penalty.
type PenaltyTable struct {
	N         int      // votes in all
	Right     int      // votes "just right"
	MeanRight float64  // their mean liking, valid if Right > 0
	TooLittle MeanDrop // the side of votes -1
	TooMuch   MeanDrop // the side of votes 1
	Warnings  []string // what the means cannot say, in words
}

// Penalty returns how much liking is lost where a beer was called too little
// or too much: the mean liking of those who called it just right less the mean
// of each side, and that drop weighted by the side's share of the votes. A
// side is worth a sentence from 20 % of the votes and three votes on (common
// practice, no source). The drop is a description, not a test: people who say
// "too much" may like the whole beer less for another reason.
//
// Minimum: one vote "just right" and one on a side; 2 to 4 tasters give counts
// only, a warning says so.
//
// Errors: nothing given, a vote other than -1, 0, 1, a liking that is not finite.
func Penalty(answers []Liking) (*PenaltyTable, error) {
	if len(answers) == 0 {
		return nil, fmt.Errorf("no votes: give votes with their liking")
	}
	t := &PenaltyTable{N: len(answers)}
	for _, a := range answers {
		if !plain(a.Value) {
			return nil, fmt.Errorf("liking %v: give a plain number or leave the answer out", a.Value)
		}
		switch a.Vote {
		case -1:
			t.TooLittle.N++
			t.TooLittle.Mean += a.Value
		case 0:
			t.Right++
			t.MeanRight += a.Value
		case 1:
			t.TooMuch.N++
			t.TooMuch.Mean += a.Value
		default:
			return nil, fmt.Errorf("vote %d: give -1 for too little, 0 for just right or 1 for too much", a.Vote)
		}
	}
	if t.Right > 0 {
		t.MeanRight /= float64(t.Right)
	} else {
		t.Warnings = append(t.Warnings, "nobody called it just right: no drop can be given")
	}
	t.TooLittle.finish(t)
	t.TooMuch.finish(t)
	if t.N < 5 {
		t.Warnings = append(t.Warnings, fmt.Sprintf("%s: read the counts, the means say little", plural(t.N, "vote")))
	}
	return t, nil
}

// A side that nobody chose keeps its zeros and OK false.

// finish turns the sum into a mean and works out the drop.
func (d *MeanDrop) finish(t *PenaltyTable) {
	if d.N == 0 {
		return
	}
	d.Mean /= float64(d.N)
	share := float64(d.N) / float64(t.N)
	d.Mention = share >= 0.2 && d.N >= 3
	if t.Right > 0 {
		d.Drop = t.MeanRight - d.Mean
		d.Weighted = d.Drop * share
		d.OK = true
	}
}
