package doseresponse

import (
	"fmt"
	"math"
	"strings"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// This file warns of what the scores themselves cannot say.

// warnNoVotes tells that without votes only alpha, the intensity assumed at
// the right dose, ties the scale to what is wanted.
func (p *Posterior) warnNoVotes() string {
	if len(p.prob.Votes) > 0 || len(p.prob.Notes) > 0 || len(p.prob.Beers) == 0 {
		return ""
	}
	return fmt.Sprintf("no votes: the right dose is taken to be where intensity is about %g of 10; "+
		"ask for too little, just right or too much", field.ScaleMean)
}

// warnFolded tells that the intensities were left out; see dropFolded.
func (p *Posterior) warnFolded() string {
	if !p.prob.Folded {
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
	for _, m := range p.prob.Marks {
		if _, _, ok := field.Censored(m.Y); ok {
			ends++
		}
	}
	n := len(p.prob.Marks)
	if n < 3 || float64(ends) < saturatedShare*float64(n) {
		return ""
	}
	return fmt.Sprintf("%d of %d intensities stand at an end of the scale: they only say beyond", ends, n)
}

// warnOddTasters names tasters who scored all doses the same: it carries little.
func (p *Posterior) warnOddTasters() string {
	var constant []string
	for i, name := range p.prob.Tasters {
		if p.constant(i) {
			constant = append(constant, name)
		}
	}
	if len(constant) == 0 {
		return ""
	}
	return "the same score for all doses from " + strings.Join(constant, " and ")
}

// warnRandomTasters names tasters whose votes hardly follow the dose.
func (p *Posterior) warnRandomTasters() string {
	var random []string
	for i, name := range p.prob.Tasters {
		// who says the same of everything is told so already
		if !p.constant(i) && p.random(i) {
			random = append(random, name)
		}
	}
	if len(random) == 0 {
		return ""
	}
	return "votes that hardly follow the dose from " + strings.Join(random, " and ")
}

// controlClose is how near the mean intensity of dosed beers may come to that
// of the undosed ones before the difference is in doubt, points (judgement:
// half the noise of one score).
const controlClose = 0.7

// warnControl uses the undosed beers as the yardstick: dosed beers should score
// higher, and most tasters should miss something in the undosed one.
func (p *Posterior) warnControl() string {
	var undosed, dosed field.MarkSum
	called, votes := 0, 0
	for _, t := range p.study.Trials {
		into := &dosed
		if t.DoseGPerL == 0 {
			into = &undosed
			little, right, much := t.Votes()
			called += right + much
			votes += little + right + much
		}
		for _, sc := range t.Scores {
			if sc.Intensity != nil {
				into.Count++
				into.Y += *sc.Intensity
			}
		}
	}
	if undosed.Count > 0 && dosed.Count > 0 && dosed.Y/dosed.Count < undosed.Y/undosed.Count+controlClose {
		return fmt.Sprintf("the undosed beer scores %.1f, the dosed beers %.1f on average: "+
			"the panel may not taste the dose at all",
			undosed.Y/undosed.Count, dosed.Y/dosed.Count)
	}
	if votes > 0 && 2*called >= votes {
		return fmt.Sprintf("%d of %d votes did not miss anything in the undosed beer: it may need no dose", called, votes)
	}
	return ""
}

// warnGlasses tells that nothing but dosed glasses was scored or dosed to taste, with
// the 90 % factor of the step from glass to beer, exp(1.645*0.40), or with the extract
// that is used exp(1.645*0.20).
func (p *Posterior) warnGlasses() string {
	if !p.scored() {
		return ""
	}
	for _, t := range p.prob.OwnTrials() {
		if p.study.Trials[t.Index].Kind != evidence.Glass {
			return ""
		}
	}
	sd := field.GlassSDLn
	if p.prob.Used >= 0 {
		sd = field.UsedSDLn
	}
	return fmt.Sprintf("dosed glasses only: the step to a brewed beer is open by a factor of %s either way",
		number(math.Exp(1.645*sd)))
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
		methodName(p.prob.Reference), strings.Join(apart, ", "))
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
	for _, t := range p.prob.OwnTrials() {
		if s := p.study.Trials[t.Index]; s.DoseSDLn >= vagueDoseSD {
			vague = append(vague, fmt.Sprintf("%s (a factor of %s either way)",
				evidence.TrialName(s, t.Index), number(math.Exp(1.645*s.DoseSDLn))))
		}
	}
	if len(vague) == 0 {
		return ""
	}
	return "the effective dose itself is vague: " + strings.Join(vague, ", ")
}
