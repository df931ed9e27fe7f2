package doseresponse

import (
	"fmt"
	"math"
	"strings"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
	"hedgerow/report/wishes"
)

// This file warns of the edges: where the best dose by itself would mislead.

// warnBenchFirst tells that the advice lies too far apart for a batch.
func (p *Posterior) warnBenchFirst() string {
	if p.verdict() != Bench || len(p.study.ClaimsGPerL) == 0 {
		return ""
	}
	lo, hi := claimRange(p.study.ClaimsGPerL)
	return fmt.Sprintf("the advice is %s-fold apart, %s to %s: bench first, no dose is worth a batch yet",
		number(hi/lo), number(lo), grams(hi))
}

// warnIgnoresDose tells that the votes may not follow the dose.
func (p *Posterior) warnIgnoresDose() string {
	switch ignored := p.ignored(); {
	case p.verdict() == Retaste && ignored > ignoreSure:
		return fmt.Sprintf("the votes do not follow the dose (%s sure): taste again, blind, each beer twice",
			percent(ignored))
	case ignored > ignoreMaybe:
		return "the votes hardly follow the dose: taste again, blind, each beer twice"
	}
	return ""
}

// warnFalls tells that more of the plant makes less of the taste.
func (p *Posterior) warnFalls() string {
	if !p.ruleOnce().grounds.falls {
		return ""
	}
	return "the taste falls as the dose rises: no dose is right for it"
}

// warnNobodyLikes tells why a plant is dropped.
func (p *Posterior) warnNobodyLikes() string {
	if p.verdict() != Drop {
		return ""
	}
	l := p.likedNear()
	return fmt.Sprintf("a liking of %g is out of reach: near the right dose it was liked %.1f on average, "+
		"and the chance that another method gets there is %s", wishes.WishedLiking(p.study), l.Mean, percent(l.Other))
}

// warnNotTheDose tells that another dose will not mend what is not liked.
func (p *Posterior) warnNotTheDose() string {
	if g := p.ruleOnce().grounds; p.verdict() != Change || !g.disliked() {
		return ""
	}
	l := p.likedNear()
	return fmt.Sprintf("%d of %d votes call the dose just right, and the mean liking is %.1f: "+
		"change the method or the beer, not the dose", l.Right, l.Votes, l.Mean)
}

// warnNotNearRight tells that what was not liked was far from the right dose.
func (p *Posterior) warnNotNearRight() string {
	l := p.likedNear()
	if p.verdict() == Retaste || !l.Known || l.Here >= unlikedProb || l.NearEnough() {
		return ""
	}
	return "what was not liked was far from the right dose: nothing is known of the plant at its right dose"
}

// warnCamps names the camps, if there are two.
func (p *Posterior) warnCamps() string {
	s := p.servedCamps()
	if !s.Likely {
		return ""
	}
	perhaps := ""
	if !s.Found {
		perhaps = "perhaps "
	}
	low, high := s.Camps[0], s.Camps[1]
	return fmt.Sprintf("%stwo camps: %s like %s, %s like %s; "+
		"one dose for all is just right for %s of the votes, two for %s",
		perhaps, strings.Join(low.Tasters, ", "), grams(low.Dose.Value), strings.Join(high.Tasters, ", "),
		grams(high.Dose.Value), percent(s.One), percent(s.Two))
}

// warnPull tells when to take the plant out of a beer that was tasted on the way.
func (p *Posterior) warnPull() string {
	q, ok := p.pulled()
	if !ok {
		return ""
	}
	if q.Days.Low == nil {
		return fmt.Sprintf("at %s none of the days tasted was right: when to pull it out cannot be told", grams(q.Dose))
	}
	return fmt.Sprintf("at %s pull it at about day %s (%s to %s)", grams(q.Dose), number(q.Days.Value),
		number(*q.Days.Low), number(*q.Days.High))
}

// pulled is pullAt where it counts: with a target intensity there is no right
// moment.
func (p *Posterior) pulled() (q pull, ok bool) {
	if p.study.TargetIntensity != nil {
		return pull{}, false
	}
	return p.pullAt()
}

// warnAge tells how the taste fades, and how to learn it where no brew was tasted
// twice.
func (p *Posterior) warnAge() string {
	f, ok := p.fade()
	if !ok || !p.ageMatters(f) {
		return ""
	}
	text := fmt.Sprintf("the taste fades by about %s a week (%s to %s): the doses are for a beer drunk at about %.0f days",
		lossAWeek(f.LnPerWeek.Value), lossAWeek(*f.LnPerWeek.Low), lossAWeek(*f.LnPerWeek.High), f.DrinkAtDays)
	if !tastedTwice(p.study) {
		text += "; keep two bottles and taste one again weeks later"
	}
	return text
}

// ageMatters reports whether the age at which a beer is drunk belongs beside its dose:
// it was asked for, or the taste fades for sure.
func (p *Posterior) ageMatters(f fading) bool {
	return p.study.DrinkAtDays != nil || *f.LnPerWeek.Low > 0
}

// lossAWeek returns a rate of fading, ln per week, as the share lost in a week.
func lossAWeek(ln float64) string { return fmt.Sprintf("%.0f %%", 100*(1-math.Exp(-ln))) }

// tastedTwice reports whether one brew was tasted at two ages that differ by more
// than evidence.SameAgeDays.
func tastedTwice(s evidence.Study) bool {
	youngest := map[string]float64{}
	for i, t := range s.Trials {
		if t.DaysOld == nil || !t.Informs() || t.Kind == evidence.Glass {
			continue
		}
		brew := field.BrewOf(i, t)
		if have, ok := youngest[brew]; ok && math.Abs(*t.DaysOld-have) > evidence.SameAgeDays {
			return true
		} else if !ok {
			youngest[brew] = *t.DaysOld
		}
	}
	return false
}

// tooStrong names the tastes to avoid that are more likely than not past their
// limits at the right dose.
func (p *Posterior) tooStrong() []string {
	var names []string
	for _, k := range p.avoidOnce() {
		if k.Within(p.best) < 1-conflictAbove {
			names = append(names, k.Attribute)
		}
	}
	return names
}

// warnConflict tells that at the right dose another taste is past its limit.
func (p *Posterior) warnConflict() string {
	names := p.tooStrong()
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("the tastes pull apart: right near %s, but %s is too strong there", grams(p.dose(p.best)),
		strings.Join(names, " and "))
}

// unkept says of each limit that no dose keeps why.
func (p *Posterior) unkept() []string {
	list := []string{}
	for _, k := range p.avoidOnce() {
		if k.Kept {
			continue
		}
		text := fmt.Sprintf("no dose keeps %s at or below %g", k.Attribute, k.AtMost)
		if k.PastUndosed() {
			text += fmt.Sprintf(": without any it is scored %.1f", *k.Undosed)
		}
		list = append(list, text)
	}
	return list
}

// warnLimited names the tastes to avoid that hold the dose below the best one, and
// those that no dose keeps within their limit.
func (p *Posterior) warnLimited() string {
	var held []string
	for _, k := range p.avoidOnce() {
		if k.Kept && k.Limit < p.best {
			held = append(held, fmt.Sprintf("%s above %g is likely beyond %s", k.Attribute, k.AtMost, grams(p.dose(k.Limit))))
		}
	}
	said := p.unkept()
	if len(held) > 0 {
		said = append(said, "the dose is held back: "+strings.Join(held, ", "))
	}
	return strings.Join(said, "; ")
}
