package main

import (
	"strconv"
	"strings"
	"time"

	"hedgerow/report/evenings"
	"hedgerow/report/plans"
	"hedgerow/trials"
	"hedgerow/trials/planning"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
)

// recordPlan writes a plan with its trials and its tasting in one step.
func (e *env) recordPlan(n *trials.Notebook, o planOptions, from trials.Batch, d trials.Design, why string) error {
	at, err := e.batchTime(n, from, o.at)
	if err != nil {
		return err
	}
	if err := n.CheckTime(from, "plan", at, true); err != nil {
		return err
	}
	made, err := planning.RecordsOf(n, o.record, o.kind, from, d, at)
	if err != nil {
		return err
	}
	var evening *trials.Evening
	if o.kind != trials.PlanBatch {
		if evening, err = e.planEvening(n, o, made); err != nil {
			return err
		}
		made.Plan.TastingID = &evening.Tasting.ID
	}
	cautions := n.EntryCautions(d.Handling())
	err = e.write("record plan "+o.record, func(tx *store.Tx) error {
		// the plan is written last, since it points to the tasting
		records := made.Records()
		if err := tx.Save(records[:len(records)-1]...); err != nil {
			return err
		}
		if evening != nil {
			if err := tx.SaveEvening(evening); err != nil {
				return err
			}
		}
		return tx.Save(records[len(records)-1])
	})
	if err != nil {
		return err
	}
	// read anew: the sheet names the trials and the tasting that were just made
	if n, err = e.reading(); err != nil {
		return err
	}
	e.caution(cautions)
	view, err := plans.PlanOf(n, made.Plan, why, e.style())
	if err != nil {
		return err
	}
	if err := e.showOrPage(view, o.html); err != nil {
		return err
	}
	if evening == nil {
		e.next("hedgerow plan done %s", o.record)
		return nil
	}
	e.next("hedgerow plan done %s, then hedgerow tasting sheet %s", o.record, o.record)
	return nil
}

// planEvening sets up the tasting of a plan, under its name.
func (e *env) planEvening(n *trials.Notebook, o planOptions, made planning.Made) (*trials.Evening, error) {
	materials, err := n.Catalogue()
	if err != nil {
		return nil, err
	}
	m, _ := materials.Get(made.Plan.MaterialKey)
	if len(o.evening.attributes) == 0 {
		o.evening.attributes = evenings.OfferedAttributes(m)
		e.remark("scored are %s; --attribute chooses others", strings.Join(o.evening.attributes, ", "))
	}
	r := evenings.EveningRequest{Batches: made.Batches}
	if r.Tasting, err = e.tastingOf(o.evening, o.record, nil); err != nil {
		return nil, err
	}
	r.Tasting.At = made.Plan.At
	if r.Tasters, err = o.evening.who(); err != nil {
		return nil, err
	}
	v, remarks, err := evenings.PlanEvening(n, r)
	for _, text := range remarks {
		e.remark("%s", text)
	}
	return &v, err
}

// doneOptions are corrections of a plan as typed.
type doneOptions struct {
	at, mass                                string
	recovered, beer, poured, water, weighed []string
}

func newPlanDone(e *env) *cobra.Command {
	var o doneOptions
	c := &cobra.Command{
		Use:   "done PLAN",
		Short: "Log what was really done with a plan, corrections only",
		Long: `Log that a plan was carried out. Without flags it was done as planned; flags say
what was different. Vessels and passes go by their numbers on the sheet. The
records made with the plan are corrected, and every dose with them; the plan
itself stays as it was. It can be given again.`,
		Example: `  hedgerow plan done bench-1
  hedgerow plan done bench-1 --mass 4.2g --recovered 1=25mL --poured 3=2.5mL --water 3=1mL --at "2h ago"`,
		Args:              exactly("PLAN"),
		ValidArgsFunction: e.completing(planNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.writingScores()
			if err != nil {
				return err
			}
			p, err := planning.Plan(n, args[0])
			if err != nil {
				return err
			}
			return e.runPlanDone(n, p, o)
		},
	}
	f := c.Flags()
	f.StringVar(&o.at, "at", "", "when it was really done, such as \"2h ago\"; as planned if left out")
	f.StringVar(&o.mass, "mass", "", "material weighed for the extract")
	f.StringArrayVar(&o.recovered, "recovered", nil, "liquid that came out of a pass, such as 1=80mL")
	f.StringArrayVar(&o.beer, "beer", nil, "beer taken for a vessel, such as 2=95mL")
	f.StringArrayVar(&o.poured, "poured", nil, "extract poured into a vessel, such as 2=3.5mL; 0mL for none")
	f.StringArrayVar(&o.water, "water", nil, "water added to a vessel, such as 2=1mL; 0mL for none")
	f.StringArrayVar(&o.weighed, "weighed", nil, "material put into a vessel itself, such as 2=4.5g")
	return c
}

// runPlanDone writes the corrections of a plan.
func (e *env) runPlanDone(n *trials.Notebook, p trials.Plan, o doneOptions) error {
	d, err := e.doneOf(p, o)
	if err != nil {
		return err
	}
	made, err := planning.Complete(n, p, d)
	if err != nil {
		return err
	}
	err = e.write("carry out plan "+p.Name, func(tx *store.Tx) error {
		for _, a := range made.Dropped {
			if err := tx.Delete(a); err != nil {
				return err
			}
		}
		return tx.Save(made.Records()...)
	})
	if err != nil {
		return err
	}
	if n, err = e.reading(); err != nil {
		return err
	}
	view, err := plans.PlanResult(n, made.Plan, e.style())
	if err != nil {
		return err
	}
	if err := e.show(view); err != nil {
		return err
	}
	if p.TastingID != nil {
		e.next("hedgerow tasting sheet %s", p.Name)
	}
	return nil
}

// doneOf reads the corrections.
func (e *env) doneOf(p trials.Plan, o doneOptions) (planning.Done, error) {
	d := planning.Done{At: p.At}
	if p.DoneAt != nil {
		d.At = *p.DoneAt
	}
	if o.at != "" {
		at, err := e.parseWhen(o.at, time.Time{})
		if err != nil {
			return d, err
		}
		d.At = at
	}
	a := e.amounts()
	a.set(&d.MassG, "mass", o.mass, a.mass)
	d.RecoveredL = a.numbered("recovered", o.recovered, a.volume)
	d.BeerL = a.numbered("beer", o.beer, a.volume)
	d.PourL = a.numbered("poured", o.poured, noneOr(a.volume))
	d.WaterL = a.numbered("water", o.water, noneOr(a.volume))
	d.VesselG = a.numbered("weighed", o.weighed, noneOr(a.mass))
	return d, a.err
}

// noneOr reads an amount that may be nothing: "0mL", "0g" or "none".
func noneOr(read func(string) (float64, error)) func(string) (float64, error) {
	return func(text string) (float64, error) {
		// amounts are above zero elsewhere; of what was planned none may really have gone in
		if text == clear || strings.Trim(strings.TrimRight(text, " mLgl"), "0.,") == "" && strings.HasPrefix(text, "0") {
			return 0, nil
		}
		return read(text)
	}
}

// numbered reads amounts that go by a number, such as 2=3.5mL.
func (a *amounts) numbered(flag string, list []string, read func(string) (float64, error)) map[int]float64 {
	out := map[int]float64{}
	for _, text := range list {
		number, amount, ok := strings.Cut(text, "=")
		k, err := strconv.Atoi(strings.TrimSpace(number))
		if (!ok || err != nil) && a.err == nil {
			a.err = trials.Refuse("write the number on the sheet and the amount, such as 2=3.5mL",
				"--%s: %q cannot be read", flag, text)
			return out
		}
		if v, ok := a.read(flag, strings.TrimSpace(amount), read); ok {
			out[k] = v
		}
	}
	return out
}
