package doseresponse

import (
	"fmt"
	"math"
	"strings"

	"hedgerow/report/pooling"
	"hedgerow/trials/figure"
)

// An AnswerOthers is what came of other brewers' trials.
type AnswerOthers struct {
	Brewers int             `json:"brewers"`            // whose trials count
	Trials  int             `json:"trials"`             // of theirs
	Worth   float64         `json:"worth_own_trials"`   // single brews of one's own that would teach as much
	SD      *float64        `json:"sd_brewer"`          // between brewers, ln dose; null when nobody counts
	Right   *figure.Stated  `json:"right_dose_g_per_l"` // what they say of the own panel's; level 0.9
	Without *figure.Stated  `json:"without_g_per_l"`    // the answer without them; null where there is none
	Z       *float64        `json:"z"`                  // SDs between what they say and the own trials; null without such
	By      []AnsweredOther `json:"by"`                 // each of them, in order of name
}

// An AnsweredOther is what came of one brewer's trials.
type AnsweredOther struct {
	Brewer  string         `json:"brewer"`
	Trials  int            `json:"trials"`             // with scores of dosed beers
	Tasters int            `json:"tasters"`            // who scored them
	Right   *figure.Stated `json:"right_dose_g_per_l"` // their own, level 0.9; null where left out
	Shared  []string       `json:"shared_tasters"`     // of the own panel
	Used    bool           `json:"used"`
	Why     string         `json:"why"` // they are left out, or ""
}

// differZ is how many SDs apart what others say and what the own panel found must be
// before it is said: one in ten by chance.
const differZ = 1.645

// Others returns what came of other brewers' trials, nil where the study has
// none.
func (p *Posterior) Others() *AnswerOthers {
	h := p.heard
	if h == nil {
		return nil
	}
	a := &AnswerOthers{By: []AnsweredOther{}}
	for _, b := range h.by {
		one := AnsweredOther{Brewer: b.name, Trials: b.trials, Tasters: b.tasters, Shared: []string{},
			Used: b.why == "", Why: b.why}
		one.Shared = append(one.Shared, b.shared...)
		if one.Used {
			one.Right = statedWord(b.right)
			a.Brewers++
			a.Trials += b.trials
		}
		a.By = append(a.By, one)
	}
	if h.without != nil {
		e := h.without.RightDose()
		a.Without = &e
	}
	if h.said != nil {
		a.SD = &h.said.SD
	}
	if told, ok := h.told(); ok {
		a.Worth, a.Right = h.worth(), statedWord(told)
	}
	if z, ok := h.apart(); ok {
		a.Z = &z
	}
	return a
}

// OfOthers reports whether a warning is of other brewers' trials.
func (w Warning) OfOthers() bool {
	switch w.Code {
	case noOwnScoresCode, fromOthersCode, sharedCode, othersDifferCode, otherLeftOutCode:
		return true
	}
	return false
}

// statedWord returns a ln dose as a dose with its 90 % interval.
func statedWord(w pooling.Word) *figure.Stated {
	half := math.Exp(1.645 * math.Sqrt(w.Var))
	d := math.Exp(w.Mean)
	e := figure.StatedBetween(d, d/half, d*half, level)
	return &e
}

// apart returns how many SDs what the others say lies above what the own trials say;
// ok is false without own scores.
func (h *hearing) apart() (z float64, ok bool) {
	told, ok := h.told()
	if !ok || h.without == nil || !h.without.scored() {
		return 0, false
	}
	p := h.without
	mean, sd := p.draws.Moments(p.draws.Psi)
	return told.Apart(pooling.Word{Mean: mean + p.prob.Origin, Var: sd * sd}), true
}

// whose names the brewers who count, or says how many they are.
func (h *hearing) whose() (names []string) {
	for _, b := range h.by {
		if b.why == "" {
			names = append(names, b.name)
		}
	}
	return names
}

// counted returns a number of things in words.
func counted(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// worthWords says how many own trials something is worth.
func worthWords(worth float64) string {
	if worth < 0.05 {
		return "next to nothing beside one of your own"
	}
	return fmt.Sprintf("about %.1f of one of your own", worth)
}

// warnFromOthers tells what others' trials are in the answer, and what it would be
// without them: never silently.
func (p *Posterior) warnFromOthers() string {
	if !p.hears() {
		return ""
	}
	a := p.Others()
	text := fmt.Sprintf("from others: %s by %s, worth %s", counted(a.Trials, "trial"), counted(a.Brewers, "brewer"),
		worthWords(a.Worth))
	if a.Without != nil {
		text += "; without them: " + grams(a.Without.Value)
	}
	return text + fmt.Sprintf("; they alone: %s (%s to %s) for your panel", grams(a.Right.Value),
		number(*a.Right.Low), number(*a.Right.High))
}

// warnNoOwnScores tells that no own taster stands behind the answer.
func (p *Posterior) warnNoOwnScores() string {
	if !p.hears() || p.scored() || len(p.heard.guests) > 0 {
		return ""
	}
	return "none of your own people has scored yet: this is what others like"
}

// warnShared tells whose trials the own panel scored.
func (p *Posterior) warnShared() string {
	if p.heard == nil {
		return ""
	}
	var list []string
	for _, b := range p.heard.by {
		if b.why == "" && len(b.shared) > 0 {
			were := "were"
			if b.trials == 1 {
				were = "was"
			}
			list = append(list, fmt.Sprintf("%s's %s %s tasted by %s of your own people: their votes count as yours, "+
				"those of others there do not", b.name, counted(b.trials, "trial"), were, listed(b.shared)))
		}
	}
	return strings.Join(list, "; ")
}

// listed joins names by commas and a last "and".
func listed(names []string) string {
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// warnOthersDiffer tells that the own panel found another dose than the others did.
func (p *Posterior) warnOthersDiffer() string {
	if !p.hears() {
		return ""
	}
	z, ok := p.heard.apart()
	if !ok || math.Abs(z) <= differZ {
		return ""
	}
	theirs := "the others'"
	if names := p.heard.whose(); len(names) == 1 {
		theirs = names[0] + "'s"
	}
	told, _ := p.heard.told()
	return fmt.Sprintf("your panel and %s differ: %s against %s; those count for little", theirs,
		number(p.heard.without.RightDose().Value), grams(math.Exp(told.Mean)))
}

// warnLeftOut names the trials of others that are left out, and why.
func (p *Posterior) warnLeftOut() string {
	if p.heard == nil {
		return ""
	}
	var list []string
	for _, b := range p.heard.by {
		if b.why == "" {
			continue
		}
		trials := "trials"
		if b.trials > 0 {
			trials = counted(b.trials, "trial")
		}
		list = append(list, fmt.Sprintf("%s's %s (%s)", b.name, trials, b.why))
	}
	if len(list) == 0 {
		return ""
	}
	return "left out: " + strings.Join(list, ", ")
}
