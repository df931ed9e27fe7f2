package main

import (
	"io"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/plans"
	"hedgerow/trials"
	"hedgerow/trials/idiom"
	"hedgerow/trials/ledger"
	"hedgerow/trials/planning"

	"github.com/spf13/cobra"
)

// newPlan makes the plan commands.
func newPlan(e *env) *cobra.Command {
	c := group(&cobra.Command{Use: "plan", Short: "Plan a bench series, a split or a batch: amounts, steps, a sheet " +
		"to print"})
	c.AddCommand(newPlanBench(e), newPlanSplit(e), newPlanBatch(e), newPlanTaste(e), newPlanDone(e), newPlanList(e),
		newPlanShow(e), newPlanEdit(e), newPlanDelete(e))
	return c
}

// planOptions are the figures of a plan as typed.
type planOptions struct {
	kind                                                                 string
	from, beer, doses, attribute, as, like, syringe, scale, record, html string
	scaleUp, og, fg, at, class                                           string
	count                                                                int
	ownOnly                                                              bool
	evening                                                              tastingOptions
}

// flags adds what all plans have in common.
func (o *planOptions) flags(c *cobra.Command, pourStep string) {
	f := c.Flags()
	f.StringVar(&o.doses, "dose", "", "effective doses in g/L, such as 1,2,4; those that teach most if left out")
	f.BoolVar(&o.ownOnly, "own-only", false, ownOnlyHelp)
	f.StringVar(&o.class, "class", "", "solute class of the doses; the family of the attribute if left out")
	f.StringVar(&o.as, "as", "", "the method; the one used most if left out")
	f.StringVar(&o.like, "like", "", "follow the steep of this extract")
	f.StringVar(&o.syringe, "syringe", pourStep, "step of the syringe or jug that the extract is measured with")
	f.StringVar(&o.scale, "scale", "0.1g", "step of the scale")
	f.StringVar(&o.at, "at", "", "when it is to be done; now if left out")
	f.StringVar(&o.html, "html", "", "write a page to print into this file, or - for standard output")
}

// seriesFlags adds what a bench series and a split have in common.
func (o *planOptions) seriesFlags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&o.from, "from", "", "the beer it is made with")
	f.StringVar(&o.record, "record", "", "write the plan down under this name, with its trials and its tasting")
	o.evening.flags(c)
	f.Lookup("attribute").Usage = "what the doses should be right for and what is scored; repeat for each"
}

func newPlanBench(e *env) *cobra.Command {
	o := planOptions{kind: trials.PlanBench}
	c := &cobra.Command{
		Use:   "bench MATERIAL",
		Short: "Plan a series of glasses: what to pipette into each",
		Long: `Plan a bench series: a control and a few doses in glasses of one beer, in
geometric steps around the best guess so far, or over the range of the claims
when nothing was scored. Every glass, the control too, gets the same volume of
liquid. Shown are the extract to make first, millilitres for each glass, what the
steps of syringe and scale do to each dose, steps, a kit list, cautions, and what
each dose means in a batch. With --record the extract, a trial for each glass,
what goes into it and a blind tasting are written in one step.`,
		Example: `  hedgerow plan bench heather --glass 100mL
  hedgerow plan bench heather --dose 0.5,1,2 --syringe 0.2mL --volume 12L
  hedgerow plan bench heather --from heather-3 --record bench-1 --tasters 4 --attribute floral`,
		Args: exactly("MATERIAL"),
		RunE: func(_ *cobra.Command, args []string) error { return e.runPlan(o, args[0]) },
	}
	o.flags(c, "0.1mL")
	o.seriesFlags(c)
	f := c.Flags()
	f.StringVar(&o.beer, "glass", "", "beer in each glass, to be shared out; 100 mL, or 40 mL for each taster, if "+
		"left out")
	f.IntVar(&o.count, "glasses", 5, "how many glasses with a dose, 1 to 8")
	f.StringVar(&o.scaleUp, "volume", "10L", "the batch that the doses are for in the end")
	return c
}

func newPlanSplit(e *env) *cobra.Command {
	o := planOptions{kind: trials.PlanSplit}
	c := &cobra.Command{
		Use:   "split MATERIAL",
		Short: "Plan a split of one beer into jars or kegs with different doses",
		Long: `Plan a split: one beer parted into a control and a few jars or kegs around the
best dose so far, with the same volume of liquid added to each. One split
teaches more than three brews one after the other. With --record the extract, a
trial for each jar, what goes into it and a blind tasting are written in one
step.`,
		Example: `  hedgerow plan split heather --jar 2L --jars 3
  hedgerow plan split heather --from heather-3 --jar 2L --jars 3 --record split-1 --tasters 4 --attribute floral`,
		Args: exactly("MATERIAL"),
		RunE: func(_ *cobra.Command, args []string) error { return e.runPlan(o, args[0]) },
	}
	o.flags(c, "1mL")
	o.seriesFlags(c)
	f := c.Flags()
	f.StringVar(&o.beer, "jar", "", "beer in each jar; 2 L, or what the beer of --from fills, if left out")
	f.IntVar(&o.count, "jars", 4, "how many jars with a dose, 1 to 8")
	return c
}

func newPlanBatch(e *env) *cobra.Command {
	o := planOptions{kind: trials.PlanBatch, count: 1}
	c := &cobra.Command{
		Use:   "batch MATERIAL",
		Short: "Plan a full batch at the dose most likely to be right",
		Long: `Plan a full batch: what to weigh and how to steep it for the dose most likely to
be just right, and with --og and --fg of the beer as it would be brewed without
it, how strong to brew so that it lands on target after the liquid went in.
--record writes the extract and the addition into the batch named by --from.`,
		Example: `  hedgerow plan batch heather --volume 12L --og 1.048 --fg 1.010
  hedgerow plan batch heather --volume 12L --dose 2 --html plan.html
  hedgerow plan batch heather --from heather-3 --volume 11.5L --record heather-3-tea`,
		Args: exactly("MATERIAL"),
		RunE: func(_ *cobra.Command, args []string) error { return e.runPlan(o, args[0]) },
	}
	o.flags(c, "10mL")
	f := c.Flags()
	f.StringVar(&o.beer, "volume", "", "beer that it goes into; what the batch of --from holds, else 10 L, if left out")
	f.StringVar(&o.attribute, "attribute", "", "what the dose should be right for; the most voted on if left out")
	f.StringVar(&o.og, "og", "", "original gravity of the beer as it would be brewed without it")
	f.StringVar(&o.fg, "fg", "", "its final gravity")
	f.StringVar(&o.from, "from", "", "the batch that it goes into, for --record")
	f.StringVar(&o.record, "record", "", "write the plan down under this name, with the extract and the addition")
	return c
}

// planned gathers the trials that a plan is worked out from, to be written down under a
// name or not.
func (e *env) planned(material, record string) (*trials.Notebook, ledger.TrialSet, error) {
	if record != "" {
		// before the first look: what the plan is worked out from must still hold when it is written
		if err := e.begin(); err != nil {
			return nil, ledger.TrialSet{}, err
		}
	}
	return e.trialSet(material)
}

// runPlan works out a plan, and writes it down if that is asked for.
func (e *env) runPlan(o planOptions, material string) error {
	n, s, err := e.planned(material, o.record)
	if err != nil {
		return err
	}
	s.OwnOnly = o.ownOnly
	// a batch alone has no tasting
	if o.kind != trials.PlanBatch {
		if err := o.evening.checkFlight(); err != nil {
			return err
		}
	}
	var from *trials.Batch
	if o.from != "" {
		b, err := n.Batch(o.from)
		if err != nil {
			return err
		}
		from = &b
	}
	r, err := e.planRequest(o, n, from)
	if err != nil {
		return err
	}
	d, why, err := plans.DesignPlan(n, s, r)
	if err != nil {
		return err
	}
	if from != nil && o.kind != trials.PlanBatch {
		if err := planning.CheckRoom(n, *from, len(d.Vessels), r.BeerL); err != nil {
			return err
		}
	}
	if o.record != "" {
		if from == nil {
			return trials.Refuse("add --from BATCH, the beer it is made with", "--record %s: which beer is missing", o.record)
		}
		return e.recordPlan(n, o, *from, d, why)
	}
	view, err := plans.PlanView(n, o.kind, d, why, e.style())
	if err != nil {
		return err
	}
	if err := e.showOrPage(view, o.html); err != nil {
		return err
	}
	e.next("the same with --record NAME --from BATCH writes it down")
	return nil
}

// planRequest reads the figures of a plan.
func (e *env) planRequest(o planOptions, n *trials.Notebook, from *trials.Batch) (plans.PlanRequest, error) {
	r := plans.PlanRequest{Kind: o.kind, Count: o.count, Method: o.as, Attribute: o.attribute, Units: e.style()}
	if words := splitWords(o.evening.attributes); len(words) > 0 {
		r.Attribute = scoredOf(n, words)
		if r.Attribute == "" {
			r.Class = trials.FamilyOf(words[0])
		}
	}
	if o.class != "" {
		if _, err := classNamed(o.class); err != nil {
			return r, inFlag("class", err)
		}
		r.Class = o.class
	}
	const most = 8
	if r.Count < 1 || r.Count > most {
		return r, trials.Refuse("give 1 to 8", "%d vessels with a dose are outside 1 to %d", r.Count, most)
	}
	if o.beer == "" {
		var err error
		if r.BeerL, err = o.beerL(n, from); err != nil {
			return r, err
		}
	}
	a := e.amounts()
	a.must(&r.BeerL, map[string]string{trials.PlanBench: "glass", trials.PlanSplit: "jar",
		trials.PlanBatch: "volume"}[o.kind], o.beer, a.volume)
	a.must(&r.PourStepL, "syringe", o.syringe, a.volume)
	a.must(&r.ScaleStepG, "scale", o.scale, a.mass)
	a.must(&r.ScaleUpL, "volume", o.scaleUp, a.volume)
	a.set(&r.OG, "og", o.og, a.gravity)
	a.set(&r.FG, "fg", o.fg, a.gravity)
	for _, text := range splitWords([]string{o.doses}) {
		if v, ok := a.read("dose", strings.TrimSuffix(text, "g/L"), plainNumber); ok {
			if v <= 0 {
				return r, trials.Refuse("give effective doses in g/L above zero; the control comes by itself",
					"--dose: %s is not above zero", text)
			}
			r.DosesGPerL = append(r.DosesGPerL, v)
		}
	}
	if a.err != nil {
		return r, a.err
	}
	// rising, as glasses are numbered and tables read
	slices.Sort(r.DosesGPerL)
	if o.kind == trials.PlanBatch && len(r.DosesGPerL) > 1 {
		return r, trials.Refuse("hedgerow plan split makes several", "a batch has one dose, not %d", len(r.DosesGPerL))
	}
	if (r.OG == nil) != (r.FG == nil) {
		return r, trials.Refuse("give both, or neither", "--og and --fg belong together")
	}
	return r, e.planWay(o, n, &r)
}

// beerL is the beer in each vessel where it was left out: never more than there is.
func (o planOptions) beerL(n *trials.Notebook, from *trials.Batch) (float64, error) {
	const jarL, batchL = 2, 10
	switch {
	case o.kind == trials.PlanBench:
		tasters, err := o.evening.who()
		// 40 mL is a mouthful or two; a glass below 100 mL asks too much of a syringe
		return max(0.1, 0.04*float64(len(tasters))), err
	case o.kind == trials.PlanSplit && from == nil:
		return jarL, nil
	case o.kind == trials.PlanSplit:
		doses := o.count
		if typed := splitWords([]string{o.doses}); len(typed) > 0 {
			doses = len(typed)
		}
		return planning.JarL(n, *from, doses+1, jarL)
	case from == nil:
		return batchL, nil
	}
	return planning.HoldsL(n, *from, batchL), nil
}

// planWay reads the method and the extract that a plan follows.
func (e *env) planWay(o planOptions, n *trials.Notebook, r *plans.PlanRequest) error {
	if w, err := idiom.WayOf(o.as); err != nil {
		return inFlag("as", err)
	} else if o.as != "" {
		o.as, r.Method = w.Method, w.Method
		if err := trials.CheckMethod(o.as); err != nil {
			return inFlag("as", err)
		}
	}
	if o.like == "" {
		return nil
	}
	x, err := n.Extract(o.like)
	r.Like = &x
	return err
}

// scoredOf is the first of the words that was ever scored, so that a new word
// does not stand in the way of a plan.
func scoredOf(n *trials.Notebook, words []string) string {
	for _, t := range n.Tastings {
		for _, a := range t.Attributes {
			if slices.Contains(words, a) {
				return a
			}
		}
	}
	return ""
}

// showOrPage prints a view or writes its page.
func (e *env) showOrPage(v document.View, html string) error {
	if html == "" {
		return e.show(v)
	}
	return e.page(html, v.Payload, func(w io.Writer) error { return document.WriteHTML(w, v.Document) })
}

func newPlanList(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "list",
		Short:   "List the plans that were written down",
		Example: "  hedgerow plan list",
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) error {
			n, err := e.reading()
			if err != nil {
				return err
			}
			return e.list(plans.PlanList(n), len(n.Plans),
				"hedgerow plan show NAME, or hedgerow plan done NAME")
		},
	}
}

func newPlanShow(e *env) *cobra.Command {
	var html string
	c := &cobra.Command{
		Use:   "show PLAN",
		Short: "Show a plan again, as it was planned",
		Example: `  hedgerow plan show bench-1
  hedgerow plan show bench-1 --html bench-1.html`,
		Args:              exactly("PLAN"),
		ValidArgsFunction: e.completing(planNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.reading()
			if err != nil {
				return err
			}
			p, err := planning.Plan(n, args[0])
			if err != nil {
				return err
			}
			view, err := plans.PlanOf(n, p, "", e.style())
			if err != nil {
				return err
			}
			return e.showOrPage(view, html)
		},
	}
	c.Flags().StringVar(&html, "html", "", "write a page to print into this file, or - for standard output")
	return c
}

func planNames(n *trials.Notebook) []string {
	return names(n.Plans, func(p trials.Plan) string { return p.Name })
}
