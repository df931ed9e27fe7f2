package field

import (
	"hedgerow/report/evidence"
	"hedgerow/report/pooling"
)

// Trials of other brewers at whose tables the own panel scored stand behind the own
// trials, and have two more numbers in their effective dose, each N(0, 0.45^2): what
// all other brewers' beers share beside one's own, and what one brewer's do.

// allOthers is what the beers of all other brewers share.
func allOthers() wanted { return wanted{"others", LnPrior{0, pooling.SharedSD}} }

// oneOther is what the beers of one of them share.
func oneOther(t evidence.Trial) wanted {
	return wanted{"other brewer " + t.Brewer, LnPrior{0, pooling.SharedSD}}
}

// numberGuests gives these numbers their indices where such trials are.
func (l *layout) numberGuests() {
	for _, t := range l.study.Trials {
		if t.Informs() && !t.Own() {
			l.number(allOthers())
			l.number(oneOther(t))
		}
	}
}

// shiftByBrewer adds them to the dose of a trial of another brewer.
func (l *layout) shiftByBrewer(term *TrialTerm, t evidence.Trial) {
	if !t.Own() {
		term.shift(l.known[allOthers().key], 1)
		term.shift(l.known[oneOther(t).key], 1)
	}
}

// OwnTrials returns the trials of one's own, which stand first.
func (p *Problem) OwnTrials() []TrialTerm { return p.Beers[:p.ownCount] }

// OwnVotes returns the votes on own trials.
func (p *Problem) OwnVotes() []VoteTerm {
	for i, v := range p.Votes {
		if v.Trial >= p.ownCount {
			return p.Votes[:i]
		}
	}
	return p.Votes
}
