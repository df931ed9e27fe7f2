package main

import (
	"time"

	"hedgerow/report"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/steeps"

	"github.com/spf13/cobra"
)

func newAdditionShow(e *env) *cobra.Command {
	var wanted, at string
	c := &cobra.Command{
		Use:   "show ADDITION",
		Short: "Show a plant in beer day by day: what came out, and whether to pull it",
		Long: `Show how much of its aroma, acid, colour, tannin and resin a plant that was put
straight into the fermenter has given so far and will give in the days to come, and
whether to wait, to taste, or to pull it out. What is wanted is what the material is
mostly used for, or what --wanted says; what is not wanted is tannin. --at shows it
as it is on another day, past or to come, by what is logged now.`,
		Example: `  hedgerow addition show heather-3.a3
  hedgerow addition show heather-3.a3 --at "day 13"
  hedgerow addition show heather-3.a3 --wanted tannin`,
		Args:              exactly("ADDITION"),
		ValidArgsFunction: e.completing(additionNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.reading()
			if err != nil {
				return err
			}
			a, err := n.Addition(args[0])
			if err != nil {
				return err
			}
			if at != "" {
				b, _ := n.BatchByID(a.BatchID)
				if n.Now, err = e.batchTime(n, b, at); err != nil {
					return err
				}
				if !n.Now.After(a.At) {
					return trials.Refuse("give a later moment with --at", "%s went in on %s", a.Name,
						a.At.In(e.now().Location()).Format(time.DateOnly))
				}
			}
			return e.showAddition(n, a, wanted)
		},
	}
	c.Flags().StringVar(&at, "at", "", `the moment to look at, such as "day 13" of the brew; now if left out`)
	c.Flags().StringVar(&wanted, "wanted", "", "what it is for: water, acid, colour, small, tannin, aroma or resin")
	return c
}

// strengthOfBeer is taken for a beer of which no strength is known, % vol.
const strengthOfBeer = 5

// showAddition shows a plant in beer day by day.
func (e *env) showAddition(n *trials.Notebook, a trials.Addition, wanted string) error {
	materials, err := n.Catalogue()
	if err != nil {
		return err
	}
	b, _ := n.BatchByID(a.BatchID)
	abvPct := float64(strengthOfBeer)
	l, err := ledger.Of(n, b)
	switch {
	case err == nil:
		if s := l.Last().State().ABVPct; s.OK {
			abvPct = s.Value
		}
	// without an original gravity the strength is not known, but when to pull is still asked for
	case trials.CodeOf(err) != trials.NotEnough:
		return err
	}
	c, err := steeps.CourseOf(n, materials, a, wanted, abvPct)
	if err != nil {
		return err
	}
	v, err := report.Course(c, b.Name, e.style())
	if err != nil {
		return err
	}
	return e.show(v)
}
