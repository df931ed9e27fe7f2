package main

import (
	"cmp"
	"io"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/evenings"
	"hedgerow/report/plans"
	"hedgerow/report/studies"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
)

// tasteOptions are the figures of an evening of dosing to taste as typed.
type tasteOptions struct {
	from, volume, glass, drop, scale, step, doses, at string
	extract                                           []string
	record, html                                      string
	planned                                           bool // a plan is written down too
	evening                                           tastingOptions
}

// flags adds what both commands that set up such an evening have in common.
func (o *tasteOptions) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&o.from, "from", "", "the beer in the glasses, without the material")
	f.StringArrayVar(&o.extract, "extract", nil,
		"an extract at hand by its name; and used or other: whether it is the very one that goes into the beer")
	f.StringVar(&o.volume, "volume", "", "the beer that it is for; what the beer of --from holds if left out")
	f.StringVar(&o.doses, "dose", "", "lowest and highest advice, effective g/L, such as 0.5,8; what was heard if left "+
		"out")
	f.StringVar(&o.glass, "glass", "", "beer in each glass; 50 mL or what the steps need if left out")
	f.StringVar(&o.drop, "syringe", "0.05mL", "a drop, or the step of the syringe")
	f.StringVar(&o.step, "step", "1.25", "from the dose of one step to that of the next")
}

func newPlanTaste(e *env) *cobra.Command {
	o := tasteOptions{planned: true}
	c := &cobra.Command{
		Use:   "taste MATERIAL",
		Short: "Plan an evening of dosing to taste: drops into a glass until it is right",
		Long: `Plan an evening on which an extract is dropped into glasses of a beer. Each
taster has a glass that goes up from far too little and one that goes down from far
too much, and notes the step that is just right and the one past it. There are two
droppers of two strengths under codes, so that how much went in tells nobody the dose.

With --extract used (taken if left out) the extract is the very one that goes into the
beer at packaging: enough of it is made, and what is right in the glass is right in
the beer. With --extract other it is made for the evening alone. With the name of an
extract that one is dropped in. --html writes a sheet for each taster. With --record
the plan, the extract, the tasting, its droppers with their key and the glasses are
written.`,
		Example: `  hedgerow plan taste heather --from plain --tasters 4
  hedgerow plan taste heather --from plain --extract tea-7 --record drops --tasters 4 --attribute floral`,
		Args: exactly("MATERIAL"),
		RunE: func(_ *cobra.Command, args []string) error { return e.runTaste(o, args[0]) },
	}
	o.flags(c)
	o.evening.flags(c)
	f := c.Flags()
	f.Lookup("attribute").Usage = "what the dose is to be right for"
	// typed by whoever plans all evenings alike, but two glasses are no flight
	f.Lookup("flight").Hidden = true
	f.StringVar(&o.scale, "scale", "0.1g", "step of the scale")
	f.StringVar(&o.at, "at", "", "when it is to be done; now if left out")
	f.StringVar(&o.html, "html", "", "write a sheet for each taster, to print, into this file, or - for standard output")
	f.StringVar(&o.record, "record", "", "write the evening down under this name")
	f.BoolVar(&o.evening.alone, "alone", false, "one person fills, shuffles and tastes")
	return c
}

// runTaste works out an evening of dosing to taste, and writes it down if that is asked
// for.
func (e *env) runTaste(o tasteOptions, material string) error {
	n, s, err := e.planned(material, o.record)
	if err != nil {
		return err
	}
	if err := o.evening.checkFlight(); err != nil {
		return err
	}
	who, err := o.evening.who()
	if err != nil {
		return err
	}
	if o.evening.alone && len(who) > 1 {
		return trials.Refuse("leave --alone out: with two, one fills the droppers and the other is blind",
			"--alone is for one taster, not %d", len(who))
	}
	if len(who) == 0 {
		count := 4
		if o.evening.alone {
			count = 1
		}
		if who, err = evenings.TasterNames(count); err != nil {
			return err
		}
	}
	r, err := e.tasteRequest(o, n, s)
	if err != nil {
		return err
	}
	r.Tasters = len(who)
	if n.Now, err = e.batchTime(n, r.Base, o.at); err != nil {
		return err
	}
	p, err := plans.DesignTaste(n, s, r)
	if err != nil {
		return err
	}
	if o.record != "" {
		return e.recordTaste(n, o, r, p, who)
	}
	if o.html != "" {
		return e.dropperSheets(evenings.BlankDroppers(p.ToTaste, r.Attribute, len(who)), o.html)
	}
	if err := e.show(p.View()); err != nil {
		return err
	}
	e.next("the same with --record NAME writes it down; --html FILE prints a sheet for each taster")
	return nil
}

// tasteRequest reads the figures of an evening.
func (e *env) tasteRequest(o tasteOptions, n *trials.Notebook, s ledger.TrialSet) (plans.TasteRequest, error) {
	r := plans.TasteRequest{Name: o.record, Planned: o.planned && o.record != "", Used: true, Units: e.style()}
	if o.from == "" {
		return r, trials.Refuse("add --from BATCH, the beer in the glasses", "which beer is dosed is missing")
	}
	var err error
	if r.Base, err = n.Batch(o.from); err != nil {
		return r, err
	}
	if r.Attribute, err = e.tasteAttribute(o, s); err != nil {
		return r, err
	}
	if r.Extract, r.Used, err = o.dropped(n); err != nil {
		return r, err
	}
	if o.volume == "" {
		if r.VolumeL, err = (planOptions{kind: trials.PlanBatch}).beerL(n, &r.Base); err != nil {
			return r, err
		}
	}
	a := e.amounts()
	a.must(&r.VolumeL, "volume", o.volume, a.volume)
	a.must(&r.GlassL, "glass", o.glass, a.volume)
	a.must(&r.PourStepL, "syringe", o.drop, a.volume)
	a.must(&r.ScaleStepG, "scale", o.scale, a.mass)
	a.must(&r.Factor, "step", o.step, plainNumber)
	for _, text := range splitWords([]string{o.doses}) {
		if v, ok := a.read("dose", strings.TrimSuffix(text, "g/L"), plainNumber); ok {
			r.DosesGPerL = append(r.DosesGPerL, v)
		}
	}
	return r, a.err
}

// tasteAttribute is the one taste that the dose is to be right for: the one asked for,
// else the one that suggest answers for, else the first that a sheet would have.
func (e *env) tasteAttribute(o tasteOptions, s ledger.TrialSet) (string, error) {
	words := splitWords(o.evening.attributes)
	switch len(words) {
	case 0:
		offered := evenings.OfferedAttributes(s.Material)
		if _, voted, err := studies.ForTaste(s, "", ""); err == nil && voted != "" {
			offered = []string{voted}
		}
		if len(offered) == 0 {
			return "", trials.Refuse("add --attribute floral", "what the dose is to be right for is missing")
		}
		e.remark("the dose is to be right for %s; --attribute chooses another", offered[0])
		return offered[0], nil
	case 1:
		return words[0], nil
	}
	return "", trials.Refuse("name the one that decides", "an evening of dosing to taste is for one taste, not %d",
		len(words))
}

// dropped reads which extract is dropped in, nil for one to be made, and whether it is the
// one that goes into the beer.
func (o tasteOptions) dropped(n *trials.Notebook) (*trials.Extract, bool, error) {
	var named *trials.Extract
	used := true
	for _, word := range splitWords(o.extract) {
		switch word {
		case "used", "other":
			used = word == "used"
			continue
		}
		x, err := n.Extract(word)
		if err != nil {
			return nil, used, err
		}
		if named != nil && named.ID != x.ID {
			return nil, used, trials.Refuse("name one", "two extracts are named: %s and %s", named.Name, x.Name)
		}
		named = &x
	}
	return named, used, nil
}

// recordTaste writes an evening in one step.
func (e *env) recordTaste(n *trials.Notebook, o tasteOptions, r plans.TasteRequest, p plans.TastePlan,
	who []string) error {
	o.evening.attributes, o.evening.at = []string{r.Attribute}, o.at
	t, err := e.tastingOf(o.evening, o.record, nil)
	if err != nil {
		return err
	}
	t.At, t.Alone = n.Now, o.evening.alone
	v, err := evenings.PlanDroppers(n, t, p.ToTaste, who)
	if err != nil {
		return err
	}
	var plan *trials.Plan
	if o.planned {
		x := p.Record(n, r, v.Tasting)
		plan = &x
		if err := cmp.Or(trials.CheckName("plan", plan.Name), plan.Validate()); err != nil {
			return err
		}
	}
	if p.Made() {
		v.Extract = &p.Extract
		if err := p.Extract.Validate(); err != nil {
			return err
		}
	}
	cautions := n.EntryCautions(p.Extract.Handling())
	err = e.write("set up tasting "+t.Name, func(tx *store.Tx) error {
		if err := tx.SaveDroppers(&v); err != nil || plan == nil {
			return err
		}
		return tx.Save(plan)
	})
	if err != nil {
		return err
	}
	// read anew: the sheets name the droppers that were just made
	if n, err = e.reading(); err != nil {
		return err
	}
	if p.Made() {
		e.caution(cautions)
	}
	if err := e.showTaste(n, v, p, o.html); err != nil {
		return err
	}
	if t.Alone {
		e.next("hedgerow tasting sheet %s   (how to fill, shuffle and taste)", t.Name)
		return nil
	}
	e.next("hedgerow tasting sheet %s --pour   (the key, for whoever fills the droppers), then hedgerow tasting score %s",
		t.Name, t.Name)
	return nil
}

// showTaste shows the plan of an evening that was written, or writes the page with its sheets.
func (e *env) showTaste(n *trials.Notebook, v trials.DropperEvening, p plans.TastePlan, html string) error {
	if html == "" {
		return e.show(p.View())
	}
	sheets, err := evenings.DropperSheetsOf(n, v.Tasting, v.ToTaste, "")
	if err != nil {
		return err
	}
	return e.dropperSheets(sheets, html)
}

// dropperSheets prints the sheets of the tasters or writes their page.
func (e *env) dropperSheets(s evenings.DropperSheets, html string) error {
	if html == "" {
		return e.show(s.View())
	}
	return e.page(html, s, func(w io.Writer) error { return document.WriteHTML(w, s.View().Document) })
}
