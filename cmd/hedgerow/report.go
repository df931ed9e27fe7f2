package main

import (
	"strings"

	"hedgerow/report/decisions"
	"hedgerow/report/document"
	"hedgerow/trials"

	"github.com/spf13/cobra"
)

func newReport(e *env) *cobra.Command {
	var html string
	var o suggestOptions
	r := decisions.SuggestRequest{}
	c := &cobra.Command{
		Use:   "report MATERIAL",
		Short: "Tell all that is known of a material on one page, with pictures",
		Long: `Tell all that is known of a material, the decision first: the next dose and how
sure it is, the votes against the dose, every trial, tasters and methods, what else
differed, cautions, sources, and the numbers of every picture as a table.

--html writes it as one file without scripts or links, for a phone, a desk or paper.
It names tasters and what each of them likes: mind whom you send it to. Where no dose
can be named yet the page says so and tells the rest. A line of your own above every
page: hedgerow config set heading "Brewed by us". Nothing is stored.`,
		Example: `  hedgerow report heather --html heather.html
  hedgerow report heather --volume 12L
  hedgerow report heather --attribute floral --html floral.html`,
		Args: exactly("MATERIAL"),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := e.readSuggest(o, &r); err != nil {
				return err
			}
			// figures alone have no picture in them
			r.Pictures = html != "" || !e.flags.json && !e.flags.csv
			n, s, err := e.trialSet(args[0])
			if err != nil {
				return err
			}
			done := e.working("weighing " + document.Count(len(s.Trials), "trial"))
			view, err := decisions.Report(n, s, r)
			done()
			if err != nil {
				return err
			}
			return e.showOrPage(view, html)
		},
	}
	f := c.Flags()
	f.StringVar(&html, "html", "", "write a page with pictures into this file, or - for standard output")
	f.StringVar(&o.volume, "volume", "", "beer that the next dose goes into; 10 L if left out")
	f.StringVar(&r.Attribute, "attribute", "", "what the dose should be right for; the most voted on if left out")
	f.StringVar(&r.Class, "class", "", "solute class of the doses: "+strings.Join(trials.ClassNames[:], ", "))
	f.StringVar(&r.Method, "method", "", "the method the dose is for; the one used most if left out")
	return c
}
