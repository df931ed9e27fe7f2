package doseresponse

import (
	"cmp"
	"math"
	"slices"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// A Verdict is what to do next.
type Verdict string

// The verdicts, in the order in which they are looked for.
const (
	Bench   Verdict = "bench"   // the advice is too far apart for a batch: glasses first
	Retaste Verdict = "retaste" // the votes do not follow the dose
	TwoOf   Verdict = "camps"   // the panel wants two beers
	Drop    Verdict = "drop"    // disliked near its right dose, by more than one way
	Change  Verdict = "change"  // the dose is not what is wrong
	Settled Verdict = "settled" // another trial is not worth its batch
	Repeat  Verdict = "repeat"  // brew again what was brewed
	Try     Verdict = "try"     // brew the next dose
)

// Limits of the verdicts; judgement tried in simulation.
const (
	benchRight    = 0.30 // share of "just right" below which no unscored dose is worth a batch
	ignoreSure    = 0.50 // chance that the votes ignore the dose from which on nothing else counts
	ignoreMaybe   = 0.15 // the same, when the best dose pleases few
	ignoreVotes   = 8    // fewest votes and ..
	ignoreBeers   = 3    // .. beers to say so of
	ignoreRight   = 0.40 // share of "just right" at the best dose below which few are pleased
	rightEnough   = 0.5  // share of "just right" from which on a beer was right
	rightMostly   = 0.75 // share from which on another method's votes must not move a beer
	unlikedProb   = 0.10 // chance to be liked as wished below which a plant is not liked
	dropTimes     = 2    // brews or methods near the right dose before a plant is dropped
	bothLeast     = 0.25 // chance of "just right" within the limits below which no dose serves
	settledRegret = 0.03 // expected regret, [1] section 2
	againFactor   = 1.12 // a brewed dose this near the best is brewed again ..
	againFarther  = 1.40 // .. and one this near if the reference was right and others were not
	againShare    = 0.85 // of the best share of "just right" that such a dose must have
)

// Grounds are what a verdict rests on, as plain numbers.
type grounds struct {
	falls        bool    // the taste gets weaker as the dose rises
	scored       bool    // some dosed beer has a vote or an intensity, or somebody dosed to taste
	unbrewed     bool    // glasses were dosed to taste and nothing else: there is no beer to leave as it is
	right        float64 // share of "just right" to expect at the first proposal
	ignored      float64 // chance that the votes ignore the dose
	votes, beers int     // votes on dosed beers, and the beers that have some
	oneSide      bool    // every vote lies on one side
	camps        bool    // two camps are found
	near         bool    // a beer with a liking is near the right dose
	rightShare   float64 // of such beers: the largest share of "just right"
	nearTimes    int     // brews or methods near the right dose, whichever are more
	here, other  float64 // chances to be liked as wished by a method at hand, by another
	limited      bool    // another taste must stay within a limit
	both         float64 // largest chance of "just right" within the limits
	regret       float64 // expected of the first proposal
	again        bool    // a brewed dose is to be brewed again
}

// verdict returns what to do next, the first that holds:
//
//	bench    nothing is scored, and the first dose would be right for few
//	retaste  the votes hardly follow the dose
//	camps    two camps are found: the mean of both pleases neither
//	drop     disliked near the right dose in two brews or methods, another method is
//	         not likely to mend it, and the votes speak for following the dose
//	change   disliked near the right dose, or no dose is right and within the limits;
//	         before all others where the taste falls as the dose rises
//	settled  the expected regret of the next dose is below 3 %, and the votes of a beer
//	         or a coded glass follow it
//	repeat   a dose that was brewed is as good as the best
//	try      else
//
// A plant is neither dropped nor its method changed before a beer was tasted near
// the right dose: far from it every plant is disliked.
func (g grounds) verdict() Verdict {
	switch {
	case !g.scored && g.right < benchRight:
		return Bench
	case g.falls:
		return Change
	case g.scored && g.ignoresDose():
		return Retaste
	case g.camps:
		return TwoOf
	// a plant is condemned only by votes that have spoken for following the dose rather than not
	case g.disliked() && g.other < unlikedProb && g.nearTimes >= dropTimes && g.ignored <= field.IgnoreShare:
		return Drop
	case g.disliked() || g.limited && g.both < bothLeast:
		return Change
	case !g.scored:
		return Try
	// the regret is that of votes that follow the dose: where they may not nothing is settled
	case g.regret < settledRegret && g.ignored <= ignoreMaybe && !g.unbrewed:
		return Settled
	case g.again:
		return Repeat
	}
	return Try
}

// ignoresDose reports whether the votes say too little of the dose to go on.
func (g grounds) ignoresDose() bool {
	return g.ignored > ignoreSure || g.ignored > ignoreMaybe && g.votes >= ignoreVotes && g.beers >= ignoreBeers &&
		g.right < ignoreRight && !g.camps
}

// disliked reports whether a beer near the right dose was right and yet no dose by
// a method at hand is likely to be liked.
func (g grounds) disliked() bool {
	return g.near && g.rightShare >= rightEnough && !g.oneSide && g.here < unlikedProb
}

// A ruling is the decision with what it rests on.
type ruling struct {
	grounds grounds
	verdict Verdict
	next    next
	again   brewedAgain // the dose to repeat, when one is
}

// rule works out the ruling: what the best dose by itself would be decides on the
// verdict, and that on the dose.
func (p *Posterior) rule() ruling {
	first := p.expect(p.proposed())
	r := ruling{next: first, grounds: p.weighGrounds(first)}
	r.again, r.grounds.again = p.brewAgain()
	r.verdict = r.grounds.verdict()
	switch q, pulled := p.pulled(); {
	case pulled:
		r.next = p.expect(p.relative(q.Dose))
	case r.verdict == Repeat:
		r.next = p.expect(p.relative(r.again.dose))
	}
	if r.verdict == Retaste {
		// no dose is near the best of what the votes do not tell
		r.next.PNearBest = 0
	}
	return r
}

// verdict returns what to do next.
func (p *Posterior) verdict() Verdict { return p.ruleOnce().verdict }

// weighGrounds fills in the grounds but for what is brewed again.
func (p *Posterior) weighGrounds(first next) grounds {
	g := grounds{scored: p.scored(), right: first.PRight, regret: first.ExpectedRegret, here: 1, other: 1}
	if both, ok := p.bestBoth(); ok {
		g.limited, g.both = true, both.PBoth
	}
	if !g.scored {
		return g
	}
	g.unbrewed = len(p.prob.OwnTrials()) == 0
	g.falls = p.study.TargetIntensity == nil && p.Falling() != nil
	g.ignored, g.oneSide = p.ignored(), p.side() != 0
	g.votes, g.beers = p.study.VotesCast()
	g.camps = p.study.TargetIntensity == nil && p.twoCamps().Found
	if l := p.likedNear(); l.Known {
		g.near, g.rightShare = l.NearEnough(), l.RightShare
		g.nearTimes = max(l.NearBrews, l.NearMethods)
		g.here, g.other = l.Here, l.Other
	}
	return g
}

// A brewedAgain is a dose that was brewed, with the votes on it.
type brewedAgain struct {
	dose         float64 // g/L
	right, votes int     // votes of "just right", and all
}

// brewAgain returns the brewed dose of the reference method, at least half right,
// that is as good as the best dose; ok is false without one. Of several the one
// nearest the best dose is taken.
func (p *Posterior) brewAgain() (again brewedAgain, ok bool) {
	if p.study.TargetIntensity != nil {
		return again, false
	}
	var list []brewedAgain
	for _, b := range p.brewedDosesOf() {
		if p.worthAgain(b) {
			list = append(list, b)
		}
	}
	if len(list) == 0 {
		return again, false
	}
	off := func(b brewedAgain) float64 { return math.Abs(p.relative(b.dose) - p.best) }
	return slices.MinFunc(list, func(a, b brewedAgain) int { return cmp.Compare(off(a), off(b)) }), true
}

// brewedDosesOf returns the doses brewed by the reference method and tasted about
// the age at which the beer will be drunk, with their votes; beers of one dose
// count together.
func (p *Posterior) brewedDosesOf() []brewedAgain {
	var list []brewedAgain
	for _, t := range p.study.Trials {
		little, right, much := t.Votes()
		if !p.tellsOfReference(t) || little+right+much == 0 {
			continue
		}
		k := slices.IndexFunc(list, func(b brewedAgain) bool { return b.dose == t.DoseGPerL })
		if k < 0 {
			k = len(list)
			list = append(list, brewedAgain{dose: t.DoseGPerL})
		}
		list[k].right += right
		list[k].votes += little + right + much
	}
	return list
}

// worthAgain reports whether a brewed dose may stand for the best one. Where other
// methods were tasted as well a beer that was right for most may lie farther away:
// what was said of another way must not move it. But where beers of the reference
// method stand on both sides of the best dose their own votes put it there.
func (p *Posterior) worthAgain(b brewedAgain) bool {
	share, off := float64(b.right)/float64(b.votes), math.Abs(p.relative(b.dose)-p.best)
	if limit, ok := p.avoidLimit(); ok && p.relative(b.dose) > limit {
		return false
	}
	if share >= rightEnough && off <= math.Log(againFactor) {
		return true
	}
	return len(p.prob.Methods) > 1 && !p.bracketed() && share >= rightMostly && off <= math.Log(againFarther) &&
		p.rightShare(p.relative(b.dose)) >= againShare*p.rightShare(p.best)
}

// bracketed reports whether brewed doses of the reference method, tasted at whatever
// age, lie on both sides of the best dose: their own votes put it there, and not those on
// another method.
func (p *Posterior) bracketed() bool {
	below, above := false, false
	for _, t := range p.prob.OwnTrials() {
		if s := p.study.Trials[t.Index]; s.Kind != evidence.Glass && s.Method == p.prob.Reference {
			below = below || t.X < p.best
			above = above || t.X > p.best
		}
	}
	return below && above
}
