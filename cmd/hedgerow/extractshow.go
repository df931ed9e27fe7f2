package main

import (
	"slices"

	"hedgerow/report"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/steeps"

	"github.com/spf13/cobra"
)

func newExtractShow(e *env) *cobra.Command {
	var explain, more bool
	c := &cobra.Command{
		Use:   "show EXTRACT",
		Short: "Show an extract: what each pass gave, what it carries, where it went",
		Long: `Show what each pass of an extract gave, what it carries and what stayed behind,
which figures were measured and what the defaults would have been, and what was
poured where. --more shows what would have got more out.`,
		Example: `  hedgerow extract show tea-1 --explain
  hedgerow extract show tea-1 --more`,
		Args:              exactly("EXTRACT"),
		ValidArgsFunction: e.completing(extractNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.reading()
			if err != nil {
				return err
			}
			x, err := n.Extract(args[0])
			if err != nil {
				return err
			}
			materials, err := n.Catalogue()
			if err != nil {
				return err
			}
			story, err := steeps.StoryOf(n, materials, x)
			if err != nil {
				return err
			}
			style := report.ExtractStyle{Units: e.style(), Explain: explain}
			if more {
				if style.More, err = steeps.GainsOf(n, materials, x, story.Yield.Class); err != nil {
					return err
				}
			}
			return e.show(report.Extract(story, style))
		},
	}
	c.Flags().BoolVar(&explain, "explain", false, "show every input with where it comes from")
	c.Flags().BoolVar(&more, "more", false, "show what would have got more out")
	return c
}

func newExtractTopUp(e *env) *cobra.Command {
	var at string
	c := &cobra.Command{
		Use:   "top-up EXTRACT VOLUME",
		Short: "Log water added to an extract after it was made",
		Long: `Log water added to an extract. What is poured from then on is that much weaker;
what was poured before is not.`,
		Example:           "  hedgerow extract top-up tea-1 200mL",
		Args:              exactly("EXTRACT", "VOLUME"),
		ValidArgsFunction: e.completing(extractNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.writing()
			if err != nil {
				return err
			}
			x, err := n.Extract(args[0])
			if err != nil {
				return err
			}
			t := trials.TopUp{At: e.now().UTC()}
			a := e.amounts()
			a.must(&t.VolumeL, "volume", args[1], a.volume)
			if a.err != nil {
				return a.err
			}
			if t.At, err = e.parseWhen(at, x.MadeAt); err != nil {
				return err
			}
			return e.runTopUp(n, x, t)
		},
	}
	c.Flags().StringVar(&at, "at", "", whenHelp)
	return c
}

// runTopUp writes a top-up if every pour from the extract still stands with it.
func (e *env) runTopUp(n *trials.Notebook, x trials.Extract, t trials.TopUp) error {
	if t.At.Before(x.MadeAt) {
		return trials.Refuse("give a later --at", "the top-up is before %s was made", x.Name)
	}
	if len(x.Passes) == 0 {
		return trials.Refuse(`hedgerow extract pass `+x.Name+` "400mL 96C>60C 30min drained"`,
			"%s has no pass yet, so there is nothing to top up", x.Name)
	}
	// a clone: the notebook's own stays as it was, to say below what changes
	x.TopUps = append(slices.Clone(x.TopUps), t)
	if err := x.Validate(); err != nil {
		return err
	}
	materials, err := n.Catalogue()
	if err != nil {
		return err
	}
	changed, err := changedPours(n, x)
	if err != nil {
		return err
	}
	n.ReplaceExtract(x)
	jug, err := steeps.JugOf(n, materials, x)
	if err != nil {
		return err
	}
	if err := jug.Check(); err != nil {
		return err
	}
	if err := e.save("top up "+x.Name, &x); err != nil {
		return err
	}
	for _, text := range changed {
		e.remark("%s", text)
	}
	u := e.style()
	return e.saved(x, "topped %s up with %s of water: %s, %.0f %% as strong as it was made", x.Name,
		wording.VolumeText(t.VolumeL, u), report.JugWords(x.Name, jug, u), 100*jug.Strength())
}
