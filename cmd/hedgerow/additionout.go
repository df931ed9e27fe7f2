package main

import (
	"time"

	"hedgerow/report"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"

	"github.com/spf13/cobra"
)

// outOptions are how a plant came out, as typed.
type outOptions struct {
	at, spent         string
	squeezed, pressed bool
}

func newAdditionOut(e *env) *cobra.Command {
	var o outOptions
	c := &cobra.Command{
		Use:   "out ADDITION",
		Short: "Log that a plant was taken out of the beer",
		Long: `Log that a plant that was put straight into the fermenter came out: lifted out and
drained, squeezed, or pressed (in a screw or fruit press). It takes the beer along
that it holds: what it weighs wet with --spent, else what such a plant keeps.
Strength and dose of the beer stay what they are. What is left in counts as
drained when the batch is packaged. What is stored: the moment, the way and the
weight, with the addition.`,
		Example: `  hedgerow addition out heather-3.a3
  hedgerow addition out heather-3.a3 --at "day 12" --squeezed --spent 140g`,
		Args:              exactly("ADDITION"),
		ValidArgsFunction: e.completing(additionNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.writing()
			if err != nil {
				return err
			}
			a, err := n.Addition(args[0])
			if err != nil {
				return err
			}
			return e.runAdditionOut(n, o, a)
		},
	}
	c.Flags().StringVar(&o.at, "at", "", whenHelp)
	c.Flags().StringVar(&o.spent, "spent", "", "weight of the wet spent plant, such as 140g")
	c.Flags().BoolVar(&o.squeezed, "squeezed", false, "squeezed by hand")
	c.Flags().BoolVar(&o.pressed, "pressed", false, "pressed in a screw or fruit press")
	c.MarkFlagsMutuallyExclusive("squeezed", "pressed")
	return c
}

// runAdditionOut writes how a plant came out and shows what that did.
func (e *env) runAdditionOut(n *trials.Notebook, o outOptions, a trials.Addition) error {
	if !a.IsPlant() || a.InReadings() {
		return trials.Refuse("only a plant put straight into the fermenter, or into wort with --before-boil, is taken out "+
			"again", "%s is neither", a.Name)
	}
	// a planned day that lies ahead may be overtaken: it comes out when it comes out
	if out, is := a.TakenOut(); is && (a.OutAt != nil || !out.After(e.now())) {
		return trials.Refuse("correct it with: hedgerow undo, or hedgerow addition edit "+a.Name+" --time 5d",
			"%s came out on %s already", a.Name, wording.DateText(out))
	}
	out := e.now().UTC()
	if a.InWort() {
		// it comes out as it stops giving: with the end of its time in the hot wort
		out = a.At.Add(time.Duration(a.ContactMinutes(a.At) * float64(time.Minute)))
	}
	if err := e.moveEvent(n, a.BatchID, "taking out", o.at, &out); err != nil {
		return err
	}
	a.OutAt, a.OutBy = &out, trials.SeparationDrained
	switch {
	case o.squeezed:
		a.OutBy = trials.SeparationSqueezed
	case o.pressed:
		a.OutBy = trials.SeparationPressed
	}
	amounts := e.amounts()
	amounts.set(&a.SpentG, "spent", o.spent, amounts.mass)
	if amounts.err != nil {
		return amounts.err
	}
	if err := a.Validate(); err != nil {
		return err
	}
	b, _ := n.BatchByID(a.BatchID)
	n.ReplaceAddition(a)
	l, err := ledger.Of(n, b)
	if err != nil && trials.CodeOf(err) != trials.NotEnough {
		return err
	}
	if err := e.save("take out "+a.Name, &a); err != nil {
		return err
	}
	if err != nil {
		return e.saved(a, "%s is out; its effect is worked out once %s has its original gravity", a.Name, b.Name)
	}
	if !l.ShowsRemoval(a.Name) {
		return e.saved(a, "%s comes out on %s; until then it is in, and the ledger of %s shows it so", a.Name,
			wording.DateText(out), b.Name)
	}
	return e.show(report.TakenOut(n, l, a, e.style(), e.warned))
}
