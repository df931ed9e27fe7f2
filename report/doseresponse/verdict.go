package doseresponse

import "math"

// A Verdict is what to do next.
type Verdict string

// The verdicts, from the strongest.
const (
	Drop    Verdict = "drop"    // no dose is likely to be liked as wished
	Settled Verdict = "settled" // another trial is not worth its batch
	Repeat  Verdict = "repeat"  // taste or brew again what was brewed
	Try     Verdict = "try"     // brew the next dose
)

// Limits of the verdicts.
const (
	dropBelowProb = 0.10 // chance that any dose is liked, judgement
	settledRegret = 0.03 // expected regret, [1] section 2
	sameDose      = 1.10 // doses closer than this factor are one dose to the tongue, judgement
)

// Verdict returns what to do next:
//
//	drop     the chance that any dose is liked is below 10 %, after at least two doses
//	settled  the expected regret of the next dose is below 3 %
//	repeat   the brews contradict each other, or the next dose is one that was brewed
//	try      else
func (p *Posterior) Verdict() Verdict {
	if prob, ok := p.AnyDoseLiked(); ok && prob < dropBelowProb && p.likedDoses() >= 2 {
		return Drop
	}
	if len(p.prob.trials) == 0 {
		return Try
	}
	if p.next.ExpectedRegret < settledRegret {
		return Settled
	}
	if p.contradicted() != nil || p.brewed(p.next.DoseGPerL) {
		return Repeat
	}
	return Try
}

// likedDoses counts the doses above 0 with a liking that are different to the
// tongue: one bad dose does not condemn a material.
func (p *Posterior) likedDoses() int {
	var doses []float64
	for _, t := range p.study.Trials {
		if t.DoseGPerL == 0 || !t.liked() || hasDose(doses, t.DoseGPerL) {
			continue
		}
		doses = append(doses, t.DoseGPerL)
	}
	return len(doses)
}

// liked reports whether the trial has a liking.
func (t Trial) liked() bool {
	for _, sc := range t.Scores {
		if sc.Liking != nil {
			return true
		}
	}
	return false
}

// hasDose reports whether a dose is among others, to the tongue.
func hasDose(doses []float64, d float64) bool {
	for _, have := range doses {
		if math.Abs(math.Log(d/have)) < math.Log(sameDose) {
			return true
		}
	}
	return false
}

// brewed reports whether a scored brew by the reference method has dose d, g/L,
// to the tongue.
func (p *Posterior) brewed(d float64) bool {
	for _, t := range p.study.Trials {
		if t.informs() && t.Kind != Glass && t.Method == p.prob.reference && hasDose([]float64{t.DoseGPerL}, d) {
			return true
		}
	}
	return false
}

// A contradiction is two trials by one method of which the stronger was
// judged clearly weaker: indices in the study.
type contradiction struct{ weak, strong int }

// contradictVotes is the difference of mean votes (-1 to 1) that counts as
// clear: half the panel changed sides by a full step (judgement).
const contradictVotes = 0.75

// contradicted returns the contradiction between two trials with the largest
// difference of mean votes, or nil when none reaches contradictVotes.
func (p *Posterior) contradicted() *contradiction {
	var worst *contradiction
	most := contradictVotes
	trials := p.study.Trials
	for i, a := range trials {
		for j, b := range trials {
			if a.Method != b.Method || (a.Kind == Glass) != (b.Kind == Glass) ||
				a.DoseGPerL == 0 || b.DoseGPerL < a.DoseGPerL*sameDose {
				continue
			}
			va, okA := a.meanVote()
			vb, okB := b.meanVote()
			if okA && okB && va-vb >= most {
				most = va - vb
				worst = &contradiction{i, j}
			}
		}
	}
	return worst
}

// meanVote returns the mean vote, -1 to 1, of a trial; ok is false without
// votes.
func (t Trial) meanVote() (mean float64, ok bool) {
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
