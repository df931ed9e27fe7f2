package evidence

// Liked reports whether the trial has a liking.
func (t Trial) Liked() bool {
	for _, sc := range t.Scores {
		if sc.Liking != nil {
			return true
		}
	}
	return false
}

// Votes counts the votes of a trial by kind.
func (t Trial) Votes() (little, right, much int) {
	for _, sc := range t.Scores {
		switch {
		case sc.Vote == nil:
		case *sc.Vote < 0:
			little++
		case *sc.Vote > 0:
			much++
		default:
			right++
		}
	}
	return little, right, much
}

// MeanVote returns the mean vote, -1 to 1, of a trial; ok is false without
// votes.
func (t Trial) MeanVote() (mean float64, ok bool) {
	n := 0
	for _, sc := range t.Scores {
		if sc.Vote != nil {
			mean += float64(*sc.Vote)
			n++
		}
	}
	if n == 0 {
		return 0, false
	}
	return mean / float64(n), true
}

// Informs reports whether the trial says anything of the right dose: a dose
// above 0 with a vote or an intensity. At dose 0 the model gives every vote a
// probability that is the same whatever the right dose.
func (t Trial) Informs() bool { return t.DoseGPerL > 0 && t.Scored() }

// Scored reports whether the trial has a vote or an intensity. A liking alone
// says nothing of the dose ([1] section 0).
func (t Trial) Scored() bool {
	for _, sc := range t.Scores {
		if sc.Vote != nil || sc.Intensity != nil {
			return true
		}
	}
	return false
}

// VotesCast counts the votes on dosed beers, and the beers that have some.
func (s Study) VotesCast() (votes, beers int) {
	for _, t := range s.Trials {
		little, right, much := t.Votes()
		if n := little + right + much; n > 0 && t.DoseGPerL > 0 {
			votes, beers = votes+n, beers+1
		}
	}
	return votes, beers
}
