package doseresponse

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Reasons returns what the answer rests on: one line for each dosed beer with
// votes or intensities in order of dose, with the counts of its votes and its
// mean intensity, and then what is mixed up with the dose.
func (p *Posterior) Reasons() []string {
	var out []string
	for _, i := range p.byDose() {
		out = append(out, p.reason(i))
	}
	return append(out, p.confounded()...)
}

// byDose returns the indices in the study of the scored dosed trials in order
// of dose; equal doses keep the order in which they were logged.
func (p *Posterior) byDose() []int {
	var at []int
	for _, t := range p.prob.trials {
		at = append(at, t.index)
	}
	slices.SortStableFunc(at, func(a, b int) int {
		return cmp.Compare(p.study.Trials[a].DoseGPerL, p.study.Trials[b].DoseGPerL)
	})
	return at
}

// reason describes the scores of trial i of the study. Counts, not per cent:
// a panel has a handful of votes ([1] section 6).
func (p *Posterior) reason(i int) string {
	t := p.study.Trials[i]
	var parts []string
	little, right, much := t.votes()
	for _, c := range []struct {
		n    int
		what string
	}{{little, "too little"}, {right, "just right"}, {much, "too much"}} {
		if c.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", c.n, c.what))
		}
	}
	var marks markSum
	for _, sc := range t.Scores {
		if sc.Intensity != nil {
			marks.n++
			marks.y += *sc.Intensity
		}
	}
	if marks.n > 0 {
		parts = append(parts, fmt.Sprintf("intensity %.1f", marks.y/marks.n))
	}
	kind := ""
	if t.Kind == Glass {
		kind = " in the glass"
	}
	return fmt.Sprintf("%s, %s%s: %s", trialName(t, i), grams(t.DoseGPerL), kind, strings.Join(parts, ", "))
}

// confounded names each method whose doses all lie on one side of those of
// the reference without a brew in common: a difference between them may then
// be one of dose or one of method.
func (p *Posterior) confounded() []string {
	var out []string
	ref := p.methodRange(p.prob.reference)
	for _, m := range p.Methods() {
		r := p.methodRange(m.Method)
		if m.Reference || m.SideBySide || (r.lowX <= ref.highX && ref.lowX <= r.highX) {
			continue
		}
		side := "stronger"
		if r.highX < ref.lowX {
			side = "weaker"
		}
		out = append(out, fmt.Sprintf("every beer by %s was dosed %s than those by %s: method and dose are mixed up",
			methodName(m.Method), side, methodName(p.prob.reference)))
	}
	return out
}

// methodRange returns the range of relative ln doses of a method.
func (p *Posterior) methodRange(m string) (r run) {
	for _, t := range p.prob.trials {
		if p.study.Trials[t.index].Method == m {
			r.add(t.x, 0)
		}
	}
	return r
}
