package doseresponse

import (
	"math"
	"slices"
)

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

// verdict returns what to do next:
//
//	drop     the chance that any dose is liked is below 10 %, after at least two
//	         doses or one that was found just right
//	settled  the expected regret of the next dose is below 3 %
//	repeat   the brews contradict each other, or the next dose is one that was brewed
//	try      else
func (p *Posterior) verdict() Verdict {
	if _, out := p.outOfReach(); out {
		return Drop
	}
	// with claims alone the regret may look small, but nothing was brewed that could be settled
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

// outOfReach returns the chance that any dose is liked as wished, and whether
// that is too little to go on. One bad dose does not condemn a material, unless
// it was the right one.
func (p *Posterior) outOfReach() (prob float64, out bool) {
	prob, ok := p.anyDoseLiked()
	return prob, ok && prob < dropBelowProb && (p.likedDoses() >= 2 || p.otherFault().n > 0)
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
	return slices.ContainsFunc(doses, func(have float64) bool { return alike(have, d) })
}

// alike reports whether two doses above 0 are one to the tongue.
func alike(a, b float64) bool { return math.Abs(math.Log(a/b)) < math.Log(sameDose) }

// brewed reports whether a scored brew by the reference method has dose d, g/L,
// to the tongue.
func (p *Posterior) brewed(d float64) bool {
	for _, t := range p.study.Trials {
		if t.informs() && t.Kind != glass && t.Method == p.prob.reference && alike(t.DoseGPerL, d) {
			return true
		}
	}
	return false
}

// A contradiction is two trials by one method of which the one judged clearly
// weaker has the higher dose, or the same to the tongue: indices in the study.
type contradiction struct{ stronger, weaker int }

// contradictVotes is the difference of mean votes (-1 to 1) that counts as
// clear: half the panel changed sides by a full step (judgement).
const contradictVotes = 0.75

// contradicted returns the contradiction between two trials with the largest
// difference of mean votes, or nil when there is none.
func (p *Posterior) contradicted() *contradiction { return p.clashOnce() }

// A voted is a dosed trial with the mean of its votes.
type voted struct {
	Trial
	index int // in the study
	mean  float64
}

// worstClash works out contradicted.
func (p *Posterior) worstClash() *contradiction {
	var list []voted
	for i, t := range p.study.Trials {
		if mean, ok := t.meanVote(); ok && t.DoseGPerL > 0 {
			list = append(list, voted{t, i, mean})
		}
	}
	var worst *contradiction
	var most float64
	for i := range list {
		for j := range list {
			a, b := &list[i], &list[j]
			// strictly more: of equal ones the first in the order of the study stays, whatever the order of the records
			if gap := a.mean - b.mean; gap > most && a.against(b) {
				most = gap
				worst = &contradiction{a.index, b.index}
			}
		}
	}
	return worst
}

// against reports whether the votes of a, higher than those of b, contradict
// their doses: b has the higher one and the difference is clear, or both have
// the same to the tongue and most votes lie on opposite sides.
func (a *voted) against(b *voted) bool {
	// what two methods give, or a glass and a beer, may rightly differ at one calculated dose
	if a.Method != b.Method || (a.Kind == glass) != (b.Kind == glass) || b.DoseGPerL*sameDose <= a.DoseGPerL {
		return false
	}
	if alike(a.DoseGPerL, b.DoseGPerL) {
		// at one dose the votes ought to agree, so a mere difference is noise; opposite sides are not
		return a.mean >= 0.5 && b.mean <= -0.5
	}
	return a.mean-b.mean >= contradictVotes
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
