package evidence

import "math"

// sameDose is the factor within which two doses are one dose to the tongue
// (judgement).
const sameDose = 1.10

// Alike reports whether two doses above 0 are one to the tongue.
func Alike(a, b float64) bool { return math.Abs(math.Log(a/b)) < math.Log(sameDose) }

// SameAgeDays is how far apart two tastings of one beer may lie and still tell of the
// same beer (judgement).
const SameAgeDays = 21.0

// contradictVotes is the difference of mean votes (-1 to 1) that counts as
// clear: half the panel changed sides by a full step (judgement).
const contradictVotes = 0.75

// A voted is a dosed trial with the mean of its votes.
type voted struct {
	Trial
	index int // in the study
	mean  float64
}

// Contradiction returns the indices of two trials by one method of which the one judged
// clearly weaker has the higher dose, or the same to the tongue: of several such pairs
// the one with the largest difference of mean votes. ok is false without any.
func (s Study) Contradiction() (stronger, weaker int, ok bool) {
	var list []voted
	for i, t := range s.Trials {
		if mean, ok := t.MeanVote(); ok && t.DoseGPerL > 0 {
			list = append(list, voted{t, i, mean})
		}
	}
	var most float64
	for i := range list {
		for j := range list {
			a, b := &list[i], &list[j]
			// strictly more: of equal ones the first in the order of the study stays, whatever the order of the records
			if gap := a.mean - b.mean; gap > most && a.against(b) {
				most = gap
				stronger, weaker, ok = a.index, b.index, true
			}
		}
	}
	return stronger, weaker, ok
}

// against reports whether the votes of a, higher than those of b, contradict
// their doses: b has the higher one and the difference is clear, or both have
// the same to the tongue and most votes lie on opposite sides.
func (a *voted) against(b *voted) bool {
	if !comparable(a.Trial, b.Trial) || b.DoseGPerL*sameDose <= a.DoseGPerL {
		return false
	}
	if Alike(a.DoseGPerL, b.DoseGPerL) {
		// at one dose the votes ought to agree, so a mere difference is noise; opposite sides are not
		return a.mean >= 0.5 && b.mean <= -0.5
	}
	return a.mean-b.mean >= contradictVotes
}

// comparable reports whether the votes on two trials ought to follow their doses.
// What two methods give, or a glass and a beer, may rightly differ at one calculated
// dose; so may a beer that was tasted weeks later, or after a longer contact.
func comparable(t Trial, o Trial) bool {
	if t.Method != o.Method || (t.Kind == Glass) != (o.Kind == Glass) {
		return false
	}
	if t.DaysOld != nil && o.DaysOld != nil && math.Abs(*t.DaysOld-*o.DaysOld) > SameAgeDays {
		return false
	}
	return t.ContactDays == nil || o.ContactDays == nil || Alike(*t.ContactDays, *o.ContactDays)
}
