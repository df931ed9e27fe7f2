package main

import (
	"fmt"
	"slices"
	"strings"

	"hedgerow/trials"
	"hedgerow/trials/quantity"
	"hedgerow/trials/spelling"
	"hedgerow/trials/steeps"
)

// methodHelp explains the --method flag.
const methodHelp = `one way of steeping to compare, such as "three passes: tea 450mL 94C>52C 45min drained; ` +
	`350mL 94C 20min drained; 250mL 94C 20min squeezed" or "sock: contact 20C 5d bag"; repeat`

// methodExample is what hints show.
const methodExample = `--method "three passes: tea 450mL 94C>52C 45min drained; ` +
	`350mL 94C 20min drained; 250mL 94C 20min squeezed"`

// methodText is one method of a comparison as typed: an optional name with a
// colon, words and settings that say what differs from the other flags, then
// passes or stages with semicolons between them:
//
//	NAME: [METHOD] [FORM] [mass=30g] [pour=200mL] [strength=50%] PASS; PASS ...
type methodText struct {
	name, method, form string
	settings           map[string]string
	steps              []string
}

// methodSettings are the settings that a method may have.
var methodSettings = []string{"mass", "pour", "top-up", "strength", "moisture"}

// readMethodText takes a method apart.
func readMethodText(text string) (methodText, error) {
	m := methodText{settings: map[string]string{}}
	rest := text
	if name, after, ok := strings.Cut(text, ":"); ok {
		m.name, rest = strings.TrimSpace(name), after
	}
	parts := strings.Split(rest, ";")
	words := strings.Fields(parts[0])
	for len(words) > 0 {
		if ok, err := m.word(words[0], text); err != nil {
			return m, err
		} else if !ok {
			// the first word that is none of these begins the pass
			break
		}
		words = words[1:]
	}
	if len(words) > 0 {
		m.steps = append(m.steps, strings.Join(words, " "))
	}
	for _, p := range parts[1:] {
		if p = strings.TrimSpace(p); p != "" {
			m.steps = append(m.steps, p)
		}
	}
	return m, m.complete(text)
}

// word takes one leading word if it is a method, a form or a setting.
func (m *methodText) word(word, text string) (bool, error) {
	switch {
	case slices.Contains(trials.Methods, word):
		if m.method != "" {
			return false, trials.Refuse(`give each its own --method`, "method %q says both %s and %s", text, m.method, word)
		}
		m.method = word
	case slices.Contains(trials.Forms, word):
		if m.form != "" {
			return false, trials.Refuse("write one form", "method %q says both %s and %s", text, m.form, word)
		}
		m.form = word
	default:
		key, value, ok := strings.Cut(word, "=")
		if !ok || !slices.Contains(methodSettings, key) {
			return false, m.misspelt(word, text)
		}
		m.settings[key] = value
	}
	return true, nil
}

// misspelt refuses a leading word without a digit that is nearly a method or
// form; anything else begins the first pass.
func (m *methodText) misspelt(word, text string) error {
	// a figure begins a pass, and after the method nothing is expected that could be misspelt
	if m.method != "" || strings.ContainsAny(word, "0123456789=") {
		return nil
	}
	if asked := spelling.DidYouMean(word, append(slices.Clone(trials.Methods), trials.Forms...)); asked != "" {
		return trials.Refuse(asked, "method %q: %q is neither a method nor a form", text, word)
	}
	return nil
}

// complete names a method that has no name, and takes tea where only passes were
// written.
func (m *methodText) complete(text string) error {
	if m.method == "" {
		m.method = trials.MethodTea
	}
	if m.name == "" {
		m.name = m.method
	}
	if len(m.steps) == 0 && m.method != trials.MethodJuice && m.method != trials.MethodPuree {
		return trials.Refuse("write it as "+methodExample, "method %q does not say how it is steeped", text)
	}
	return nil
}

// request turns a method into a steep, on top of what the other flags say of all
// of them.
func (m methodText) request(base steeps.SteepRequest, outer *amounts) (steeps.NamedSteep, error) {
	q := base
	q.Method = m.method
	word(&q.Form, m.form)
	if q.Form == "" && (m.method == trials.MethodJuice || m.method == trials.MethodPuree) {
		q.Form = m.method
	}
	if q.Form == "" {
		return steeps.NamedSteep{}, m.about(trials.Refuse("add --form cut, or write the form into the method",
			"the form is missing"))
	}
	a := &amounts{options: outer.options, said: outer.said}
	a.must(&q.MassG, "mass", m.settings["mass"], a.mass)
	a.set(&q.AddedL, "pour", m.settings["pour"], a.volume)
	a.must(&q.TopUpL, "top-up", m.settings["top-up"], a.volume)
	a.set(&q.SpiritPct, "strength", m.settings["strength"], a.percent)
	a.set(&q.MoisturePct, "moisture", m.settings["moisture"], a.percent)
	if a.err != nil {
		return steeps.NamedSteep{}, m.about(a.err)
	}
	if err := readSteps(m.steps, a, &q); err != nil {
		return steeps.NamedSteep{}, m.about(err)
	}
	return steeps.NamedSteep{Name: m.name, Steep: q}, nil
}

// about says which method an error is in.
func (m methodText) about(err error) error {
	code, hint := describe(err)
	return &trials.Problem{Code: code, Message: fmt.Sprintf("method %q: %v", m.name, err), Hint: hint}
}

// readSteps reads the passes of an extract, or the stages of a material put in
// itself, into a request.
func readSteps(texts []string, a *amounts, q *steeps.SteepRequest) error {
	for _, text := range texts {
		if needsPasses(q.Method) {
			p, err := a.pass(text)
			if err != nil {
				return err
			}
			q.Passes = append(q.Passes, p)
			continue
		}
		s, err := a.stage(text)
		if err != nil {
			return err
		}
		q.Treatments = append(q.Treatments, s)
	}
	if needsPasses(q.Method) && len(q.Passes) == 0 {
		return trials.Refuse(`add --pass "400mL 96C>60C 30min drained"`, "a %s needs at least one pass", q.Method)
	}
	return nil
}

// stage reads how a material put in itself is treated.
func (a *amounts) stage(text string) (steeps.Treatment, error) {
	t, err := quantity.ParseStage(text, a.options)
	if err != nil {
		return steeps.Treatment{}, err
	}
	a.assume(t.Assumptions)
	s := steeps.Treatment{EndC: t.EndC, Minutes: t.Minutes, Agitation: t.Agitation, InBag: t.InBag,
		Efficiency: t.Efficiency, Curve: t.Curve}
	if t.HasTemp {
		s.StartC = &t.StartC
	}
	return s, nil
}
