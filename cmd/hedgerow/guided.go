package main

import (
	"bufio"
	"cmp"
	"fmt"
	"strings"

	"hedgerow/trials"

	"github.com/spf13/cobra"
)

// guided lets a command without its arguments through where a person can be asked for
// them; in a pipe it says what is missing.
func (e *env) guided(needs cobra.PositionalArgs) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) == 0 && isTerminal(e.stdin) && !e.flags.json {
			return nil
		}
		return needs(c, args)
	}
}

// guide asks one question after the other.
type guide struct {
	e     *env
	lines *bufio.Scanner
}

// guide begins to ask.
func (e *env) guide(about string) *guide {
	fmt.Fprintf(e.stderr, "%s Enter takes what is in brackets; Ctrl-C stores nothing.\n", about)
	return &guide{e, bufio.NewScanner(e.input())}
}

// ask puts a question until its answer can be read; an empty answer is the fallback,
// where there is one.
func (g *guide) ask(question, fallback string, check func(string) error) (string, error) {
	for {
		text := question
		if fallback != "" {
			text += " [" + fallback + "]"
		}
		// standard error: the answer of the command stays alone on standard output
		fmt.Fprint(g.e.stderr, text+": ")
		if !g.lines.Scan() {
			if g.e.ctx.Err() != nil {
				return "", g.e.ctx.Err()
			}
			return "", trials.Refuse("nothing was stored; begin again", "the answers ended at %q", question)
		}
		answer := cmp.Or(strings.TrimSpace(g.lines.Text()), fallback)
		err := check(answer)
		if err == nil {
			return answer, nil
		}
		// asked again and not ended: one slip must not cost the answers before it
		_, hint := describe(err)
		fmt.Fprintf(g.e.stderr, "  %v; %s\n", err, hint)
	}
}

// asking is one question of a guide and where its answer goes.
type asking struct {
	to                 *string
	question, fallback string
	check              func(string) error
}

// all puts questions in turn, but for those that a flag has answered.
func (g *guide) all(list ...asking) error {
	for _, q := range list {
		if *q.to != "" {
			continue
		}
		answer, err := g.ask(q.question, q.fallback, q.check)
		if err != nil {
			return err
		}
		// a dash says that it is not known
		if answer != "-" {
			*q.to = answer
		}
	}
	return nil
}

// readable checks an answer by reading it; unknown allows a dash.
func readable[T any](read func(string) (T, error), unknown bool) func(string) error {
	return func(text string) error {
		if unknown && text == "-" {
			return nil
		}
		_, err := read(text)
		return err
	}
}

// anything takes every answer.
func anything(string) error { return nil }

// guideBatch asks for the figures of a new batch.
func (e *env) guideBatch(o *batchOptions) (name string, err error) {
	n, err := e.beforeWriting()
	if err != nil {
		return "", err
	}
	a := e.amounts()
	fresh := func(text string) error {
		if _, err := n.Batch(text); err == nil {
			return trials.Refuse("choose another name", "there is already a batch %q", text)
		}
		return trials.CheckName("batch", text)
	}
	err = e.guide("A new batch.").all(
		asking{&name, "Name", "", fresh},
		asking{&o.volume, "Volume in the fermenter, such as 12L or 5gal", "", readable(a.volume, false)},
		asking{&o.og, "Original gravity, such as 1.048 or 12P", "-", readable(a.gravity, true)},
		asking{&o.fg, "Expected final gravity", "-", readable(a.gravity, true)},
		asking{&o.style, "What beer it is", "-", anything},
		asking{&o.at, "When it was begun", "now", readable(e.freely, false)},
	)
	return name, err
}

// freely reads a moment that counts from nothing.
func (e *env) freely(text string) (string, error) {
	_, err := e.parseWhen(text, e.now())
	return text, err
}

// guideAddition asks what goes into which batch, and returns the arguments.
func (e *env) guideAddition(o *additionOptions) ([]string, error) {
	n, err := e.reading()
	if err != nil {
		return nil, err
	}
	materials, err := n.Catalogue()
	if err != nil {
		return nil, err
	}
	g := e.guide("Something that goes into a batch.")
	var batch, what, amount string
	inBatch := func(text string) error { _, err := n.Batch(text); return err }
	err = g.all(asking{&batch, "Into which batch", newestOpen(n), inBatch},
		asking{&what, `What: a material, an extract, or a liquid such as "600mL water"`, "", something})
	if err != nil {
		return nil, err
	}
	if _, err := materials.Find(what); err != nil {
		return []string{batch, what}, g.all(asking{&o.at, "When", "now", anything})
	}
	a := e.amounts()
	err = g.all(asking{&amount, "How much, such as 40g", "", readable(a.mass, false)},
		asking{&o.form, "Form: " + strings.Join(trials.Forms, ", "), "cut", oneOf("form", trials.Forms)},
		asking{&o.as, "How: " + strings.Join(trials.Methods, ", "), trials.MethodTea, trials.CheckMethod})
	for needsPasses(o.as) && err == nil && len(o.passes) == 0 {
		var pass string
		err = g.all(asking{&pass, "The steep: water, temperature, time, how it was parted",
			"400mL 96C>60C 30min drained", readable(e.pass, false)})
		o.passes = append(o.passes, pass)
	}
	if err != nil {
		return nil, err
	}
	return []string{batch, what, amount}, g.all(asking{&o.at, "When", "now", anything})
}

// something refuses an empty answer.
func something(text string) error {
	if text == "" {
		return trials.Refuse(`such as heather, or "600mL water"`, "nothing was named")
	}
	return nil
}

// oneOf accepts the words of a list.
func oneOf(what string, words []string) func(string) error {
	return func(text string) error {
		_, err := trials.Find(what, text, words, func(w string) string { return w })
		return err
	}
}

// newestOpen names the batch that was begun last and is not packaged, empty for none.
func newestOpen(n *trials.Notebook) string {
	name := ""
	var newest trials.Batch
	for _, b := range n.Batches {
		if _, packaged := n.Packaged(b.ID); !packaged && !b.StartedAt.Before(newest.StartedAt) {
			newest, name = b, b.Name
		}
	}
	return name
}

// guideTasting asks which tasting is scored: the open one that is held last, if nothing
// else is said.
func (e *env) guideTasting() (string, error) {
	n, err := e.reading()
	if err != nil {
		return "", err
	}
	var newest trials.Tasting
	for _, t := range n.Tastings {
		if t.ClosedAt == nil && !t.At.Before(newest.At) {
			newest = t
		}
	}
	known := func(text string) error { _, err := n.Tasting(text); return err }
	return e.guide("Scores of a tasting.").ask("Which tasting", newest.Name, known)
}
