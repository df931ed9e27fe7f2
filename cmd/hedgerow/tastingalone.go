package main

import (
	"slices"

	"hedgerow/report/evenings"
	"hedgerow/trials"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
)

// single settles what a tasting by one person, or of one beer, is.
func (o tastingOptions) single(n *trials.Notebook, r *evenings.EveningRequest) error {
	glasses := len(r.Batches) + len(r.Repeats)
	switch {
	case o.alone && o.open:
		return trials.Refuse("leave one of them out", "--alone is blind by shuffling, --open is not blind")
	case o.alone && len(r.Tasters) > 1:
		return trials.Refuse("leave --alone out: with two, one pours and the other is blind",
			"--alone is for one taster, not %d", len(r.Tasters))
	case o.memory && glasses != 1:
		return trials.Refuse("name one --serving, or leave --memory out", "--memory is for one beer, not %d", glasses)
	case glasses == 1 && !o.memory && !tastedBefore(n, r.Batches[0]):
		return trials.Refuse("add another --serving, such as the beer without the material; or --memory, for one beer "+
			"against the memory of another", "a tasting needs at least two servings, not 1: %s was in no tasting that is over",
			r.Batches[0].Name)
	}
	r.Tasting.Alone = o.alone && glasses > 1
	// codes hide nothing where there is one beer
	r.Tasting.Blind = r.Tasting.Blind && glasses > 1
	return nil
}

// tastedBefore reports whether a beer was in a tasting that is over, so that it can be
// tasted again over time.
func tastedBefore(n *trials.Notebook, b trials.Batch) bool {
	over := map[string]bool{}
	for _, t := range n.Tastings {
		over[t.ID] = !t.Sealed()
	}
	return slices.ContainsFunc(n.Servings, func(s trials.Serving) bool { return s.BatchID == b.ID && over[s.TastingID] })
}

func newTastingPlaces(e *env) *cobra.Command {
	var o closing
	c := &cobra.Command{
		Use:   "places TASTING PLACE=CODE...",
		Short: "Say which code stood at which place, after a tasting alone",
		Long: `Read the codes under the cups of a tasting done alone, once all is scored: which
code stood at which place, from the left. The scores, kept by place until then, go
to their beers, and the tasting is closed. hedgerow undo takes a slip back.`,
		Example:           "  hedgerow tasting places kitchen 1=481 2=403",
		Args:              atLeast("TASTING", "PLACE=CODE"),
		ValidArgsFunction: e.completing(tastingNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, t, err := e.writingTasting(args[0])
			if err != nil {
				return err
			}
			if dropped(n, t) {
				return e.readDroppers(n, t, args[1:], o)
			}
			if o.beer != "" {
				_, err := e.useOf(n, t, o) // which refuses it
				return err
			}
			r, err := n.ReadCups(t, args[1:], e.now().UTC())
			if err != nil {
				return err
			}
			mark := trials.NewMark(t, trials.MarkClosed, 1, *r.Tasting.ClosedAt)
			err = e.write("read the cups of tasting "+t.Name, func(tx *store.Tx) error { return tx.SaveCups(&r, mark) })
			if err != nil {
				return err
			}
			if n, err = e.readingScores(); err != nil {
				return err
			}
			t, _ = n.TastingByID(t.ID)
			return e.show(evenings.Tasting(n, t, false))
		},
	}
	o.beerFlag(c)
	return c
}
