package panel

import "fmt"

// Vote is one answer to "is there too little, the right amount, or too much".
type Vote struct {
	Taster string // who voted
	Trial  string // what was tasted; never empty
	Value  int    // -1 too little, 0 just right, 1 too much
}

// VoteCount counts the votes of one trial.
type VoteCount struct {
	Trial     string // as given in the votes
	TooLittle int    // votes -1
	Right     int    // votes 0
	TooMuch   int    // votes 1
}

// Total is the number of votes.
func (c VoteCount) Total() int { return c.TooLittle + c.Right + c.TooMuch }

// Split tells whether the panel voted in both directions, so that no one dose
// can please all: neither side is alone.
func (c VoteCount) Split() bool { return c.TooLittle > 0 && c.TooMuch > 0 }

// CountVotes returns the counts per trial in order of first appearance.
// Repeated votes of one taster count each.
//
// Errors: an empty trial name, a value other than -1, 0 or 1.
func CountVotes(votes []Vote) ([]VoteCount, error) {
	at := make(map[string]int)
	var counts []VoteCount
	for i, v := range votes {
		if v.Trial == "" {
			return nil, fmt.Errorf("vote %d by taster %q has no trial: name what was tasted", i+1, v.Taster)
		}
		k, ok := at[v.Trial]
		if !ok {
			k = len(counts)
			at[v.Trial] = k
			counts = append(counts, VoteCount{Trial: v.Trial})
		}
		switch v.Value {
		case -1:
			counts[k].TooLittle++
		case 0:
			counts[k].Right++
		case 1:
			counts[k].TooMuch++
		default:
			return nil, fmt.Errorf("vote %d by taster %q for trial %q: give -1 for too little, 0 for just right or 1 for too much", v.Value, v.Taster, v.Trial)
		}
	}
	return counts, nil
}
