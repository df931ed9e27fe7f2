package doseresponse

import (
	"math"

	"hedgerow/report/evidence"
)

// sameDose is the factor within which two doses are one dose to the tongue
// (judgement).
const sameDose = 1.10

// alike reports whether two doses above 0 are one to the tongue.
func alike(a, b float64) bool { return math.Abs(math.Log(a/b)) < math.Log(sameDose) }

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
	evidence.Trial
	index int // in the study
	mean  float64
}

// worstClash works out contradicted.
func (p *Posterior) worstClash() *contradiction {
	var list []voted
	for i, t := range p.study.Trials {
		if mean, ok := t.MeanVote(); ok && t.DoseGPerL > 0 {
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
	if !comparable(a.Trial, b.Trial) || b.DoseGPerL*sameDose <= a.DoseGPerL {
		return false
	}
	if alike(a.DoseGPerL, b.DoseGPerL) {
		// at one dose the votes ought to agree, so a mere difference is noise; opposite sides are not
		return a.mean >= 0.5 && b.mean <= -0.5
	}
	return a.mean-b.mean >= contradictVotes
}

// comparable reports whether the votes on two trials ought to follow their doses.
// What two methods give, or a glass and a beer, may rightly differ at one calculated
// dose; so may a beer that was tasted weeks later, or after a longer contact.
func comparable(t evidence.Trial, o evidence.Trial) bool {
	if t.Method != o.Method || (t.Kind == evidence.Glass) != (o.Kind == evidence.Glass) {
		return false
	}
	if t.DaysOld != nil && o.DaysOld != nil && math.Abs(*t.DaysOld-*o.DaysOld) > sameAgeDays {
		return false
	}
	return t.ContactDays == nil || o.ContactDays == nil || alike(*t.ContactDays, *o.ContactDays)
}
