package doseresponse

import (
	"fmt"
	"math"
	"strings"
)

// This file warns of what the scores themselves cannot say.

// warnNoVotes tells that without votes only alpha, the intensity assumed at
// the right dose, ties the scale to what is wanted.
func (p *Posterior) warnNoVotes() string {
	if len(p.prob.votes) > 0 || len(p.prob.trials) == 0 {
		return ""
	}
	return fmt.Sprintf("no votes: the right dose is taken to be where intensity is about %g of 10; "+
		"ask for too little, just right or too much", scaleMean)
}

// warnFolded tells that the intensities were left out; see dropFolded.
func (p *Posterior) warnFolded() string {
	if !p.prob.folded {
		return ""
	}
	return "the intensities do not rise with the dose (harsh at the top, or another taste was scored): " +
		"only the votes are used"
}

// saturatedShare is the share of intensities at the ends of the scale from
// which on they say little (judgement).
const saturatedShare = 1.0 / 3

// warnSaturated counts the intensities at the ends of the scale, which the
// model takes as beyond it.
func (p *Posterior) warnSaturated() string {
	ends := 0
	for _, m := range p.prob.marks {
		if _, _, ok := censored(m.y); ok {
			ends++
		}
	}
	n := len(p.prob.marks)
	if n < 3 || float64(ends) < saturatedShare*float64(n) {
		return ""
	}
	return fmt.Sprintf("%d of %d intensities stand at an end of the scale: they only say beyond", ends, n)
}

// warnOddTasters names tasters whose scores carry little: the same for all
// doses, or votes that hardly follow the dose.
func (p *Posterior) warnOddTasters() string {
	var constant, random []string
	for i, name := range p.prob.tasters {
		// said once: who gives one score to all doses also has votes that do not follow the dose
		if p.constant(i) {
			constant = append(constant, name)
			continue
		}
		if p.random(i) {
			random = append(random, name)
		}
	}
	var parts []string
	if len(constant) > 0 {
		parts = append(parts, "the same score for all doses from "+strings.Join(constant, " and "))
	}
	if len(random) > 0 {
		parts = append(parts, "votes that hardly follow the dose from "+strings.Join(random, " and "))
	}
	return strings.Join(parts, "; ")
}

// controlClose is how near the mean intensity of dosed beers may come to that
// of the undosed ones before the difference is in doubt, points (judgement:
// half the noise of one score).
const controlClose = 0.7

// warnControl uses the undosed beers as the yardstick: dosed beers should score
// higher, and most tasters should miss something in the undosed one.
func (p *Posterior) warnControl() string {
	var undosed, dosed markSum
	called, votes := 0, 0
	for _, t := range p.study.Trials {
		into := &dosed
		if t.DoseGPerL == 0 {
			into = &undosed
			little, right, much := t.votes()
			called += right + much
			votes += little + right + much
		}
		for _, sc := range t.Scores {
			if sc.Intensity != nil {
				into.n++
				into.y += *sc.Intensity
			}
		}
	}
	if undosed.n > 0 && dosed.n > 0 && dosed.y/dosed.n < undosed.y/undosed.n+controlClose {
		return fmt.Sprintf("the undosed beer scores %.1f, the dosed beers %.1f on average: "+
			"the panel may not taste the dose at all",
			undosed.y/undosed.n, dosed.y/dosed.n)
	}
	if votes > 0 && 2*called >= votes {
		return fmt.Sprintf("%d of %d votes did not miss anything in the undosed beer: it may need no dose", called, votes)
	}
	return ""
}

// warnGlasses tells that nothing but dosed glasses was scored, with the 90 %
// factor of the step from glass to beer, exp(1.645*0.40).
func (p *Posterior) warnGlasses() string {
	if len(p.prob.trials) == 0 {
		return ""
	}
	for _, t := range p.prob.trials {
		if p.study.Trials[t.index].Kind != glass {
			return ""
		}
	}
	return fmt.Sprintf("dosed glasses only: the step to a brewed beer is open by a factor of %s either way",
		number(math.Exp(1.645*glassSDLn)))
}

// warnMethods names the methods that share no brew with the reference, and how
// much of their ratio is prior.
func (p *Posterior) warnMethods() string {
	var apart []string
	for _, m := range p.methodPotencies() {
		if !m.Reference && !m.SideBySide {
			apart = append(apart, fmt.Sprintf("%s (%s prior)", methodName(m.Method), percent(m.PriorShare)))
		}
	}
	if len(apart) == 0 {
		return ""
	}
	return fmt.Sprintf("never brewed side by side with %s: %s; a split brew would tell their ratio",
		methodName(p.prob.reference), strings.Join(apart, ", "))
}

// methodName returns how a method is called in a sentence.
func methodName(m string) string {
	if m == "" {
		return "the unnamed method"
	}
	return m
}

// vagueDoseSD is the SD of a ln dose from which on a dose is called vague:
// a factor of 1.6 either way with 90 %.
const vagueDoseSD = 0.3

// warnDoses names the trials whose effective dose is vague, with the 90 %
// factor exp(1.645 SD).
func (p *Posterior) warnDoses() string {
	var vague []string
	for _, t := range p.prob.trials {
		if s := p.study.Trials[t.index]; s.DoseSDLn >= vagueDoseSD {
			vague = append(vague, fmt.Sprintf("%s (a factor of %s either way)",
				trialName(s, t.index), number(math.Exp(1.645*s.DoseSDLn))))
		}
	}
	if len(vague) == 0 {
		return ""
	}
	return "the effective dose itself is vague: " + strings.Join(vague, ", ")
}

// Ages differ when the oldest beer was ageFactor times and ageDays days older
// when tasted (judgement: an aroma that fades makes an old beer vote "too
// little").
const (
	ageFactor = 3
	ageDays   = 14
)

// warnAges tells when beers of very different age were compared. The model
// does not know of age.
func (p *Posterior) warnAges() string {
	lo, hi := math.Inf(1), 0.0
	for _, t := range p.prob.trials {
		if age := p.study.Trials[t.index].DaysOld; age != nil {
			lo, hi = min(lo, *age), max(hi, *age)
		}
	}
	if hi < ageFactor*lo || hi-lo < ageDays {
		return ""
	}
	return fmt.Sprintf("beers were tasted at %.0f to %.0f days: age is mixed up with dose", lo, hi)
}

// warnAvoid names the tastes to avoid that hold the dose below the best one.
func (p *Posterior) warnAvoid() string {
	var held []string
	for _, a := range p.study.Avoid {
		if x := p.limitOf(a); x < p.best {
			held = append(held, fmt.Sprintf("%s above %g is likely beyond %s", a.Attribute, a.AtMost, grams(p.dose(x))))
		}
	}
	if len(held) == 0 {
		return ""
	}
	return "the dose is held back: " + strings.Join(held, ", ")
}

// warnNobodyLikes tells when a wish is out of reach at every dose; see
// anyDoseLiked.
func (p *Posterior) warnNobodyLikes() string {
	prob, out := p.outOfReach()
	if !out {
		return ""
	}
	return fmt.Sprintf("a liking of %g is out of reach: the chance that any dose gets there is %s",
		p.wish(), percent(prob))
}

// A beer is not liked although its dose is right when at least faultVotes votes
// of just right come with a mean liking faultGap points below the wish
// (judgement): another dose will not mend that ([1] section 2.1).
const (
	faultVotes = 2
	faultGap   = 1.5
)

// otherFault returns number and sum of the likings of those who found the dose
// just right, or nothing when they clear the beer of another fault.
func (p *Posterior) otherFault() markSum {
	var right markSum
	for _, t := range p.study.Trials {
		for _, sc := range t.Scores {
			if t.DoseGPerL > 0 && sc.Vote != nil && *sc.Vote == 0 && sc.Liking != nil {
				right.n++
				right.y += *sc.Liking
			}
		}
	}
	if right.n < faultVotes || right.y/right.n > p.wish()-faultGap {
		return markSum{}
	}
	return right
}

// warnOtherFault tells when the dose is not to blame; see otherFault.
func (p *Posterior) warnOtherFault() string {
	right := p.otherFault()
	if right.n == 0 {
		return ""
	}
	return fmt.Sprintf("%.0f votes of just right come with a mean liking of %.1f: "+
		"the fault is in the method or the beer, not in the dose",
		right.n, right.y/right.n)
}
