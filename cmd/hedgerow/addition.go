package main

import (
	"slices"
	"strings"

	"hedgerow/report"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
	"hedgerow/trials/spelling"

	"github.com/spf13/cobra"
)

// newAddition makes the addition commands.
func newAddition(e *env) *cobra.Command {
	c := group(&cobra.Command{Use: "addition", Short: "Log what goes into a batch"})
	c.AddCommand(newAdditionAdd(e), newAdditionShow(e), newAdditionOut(e), newAdditionList(e), newAdditionEdit(e),
		newAdditionDelete(e))
	return c
}

// additionOptions are the figures of an addition as typed.
type additionOptions struct {
	extractOptions
	stage, minutes, temp, retain, boilOff, beforeBoil, pour, agitation, ferments, extracted string
	bag, force                                                                              bool
}

// flags adds the figures of an addition to a command.
func (o *additionOptions) flags(c *cobra.Command) {
	o.extractOptions.flags(c)
	f := c.Flags()
	// an extract is made in three ways, an addition can go in by more
	f.Lookup("as").Usage = "boil, flame-out, tea, cold-tea, contact (in the fermenter), tincture, juice or puree"
	f.StringVar(&o.stage, "stage", "", "boil, flame-out, primary, secondary, packaging or glass")
	f.StringVar(&o.minutes, "time", "", "how long it was in, such as 15min or 5d; left out while it is still in")
	f.StringVar(&o.temp, "temp", "", "temperature, such as 18C, 98C>92C or readings 98C@0min,92C@10min")
	f.StringVar(&o.retain, "retain", "", "beer kept back by the solids when they came out, kg per kg")
	f.StringVar(&o.boilOff, "boil-off", "", "water boiled off while it was in")
	f.StringVar(&o.beforeBoil, "before-boil", "", "wort it went into, if the batch was read before that, such as 21L; "+
		"else the volume of the batch is that after the boil")
	f.StringVar(&o.pour, "pour", "", "how much of the extract was poured in; all if left out")
	f.StringVar(&o.agitation, "agitation", "", "boiling, stirred, now-and-then or still")
	f.StringVar(&o.extracted, "extracted", "",
		"share of juice and solubles that fruit gives up, such as 80%; all if left out")
	f.StringVar(&o.ferments, "ferments", "", "share of the sugar that ferments, such as 90%")
	f.BoolVar(&o.bag, "bag", false, "in a bag or sock")
	f.BoolVar(&o.force, "force", false, "log it though the batch is packaged, or though it cannot be right")
}

func newAdditionAdd(e *env) *cobra.Command {
	var o additionOptions
	c := &cobra.Command{
		Use:   "add BATCH WHAT [AMOUNT]",
		Short: "Log an addition: a material, an extract, or water, sugar, juice, spirit",
		Long: `Log something put into a batch. WHAT is a material with its AMOUNT, or the name
of an extract, or a liquid or sugar with its amount in one text. A material
made into tea in one go takes its passes here; the extract is kept under the
name of the addition. Sugar with --stage packaging ferments in the package: the
beer after that is shown too. At a terminal, without arguments, each question is
put in turn. What is stored: the addition, and the extract with it.`,
		Example: `  hedgerow addition add heather-3 heather 36g --form cut --as tea --pass "450mL 94C>52C 45min drained" ` +
			`--pass "350mL 94C 20min drained" --pass "250mL 94C 20min squeezed"
  hedgerow addition add heather-3 raspberry 1.2kg --form frozen --as contact --time 7d
  hedgerow addition add heather-3 tea-1 --pour 200mL
  hedgerow addition add heather-3 "600mL water"
  hedgerow addition add heather-3 "82g sugar" --stage packaging`,
		Args:              e.guided(atLeast("BATCH", "WHAT")),
		ValidArgsFunction: e.completing(batchNames),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				var err error
				if args, err = e.guideAddition(&o); err != nil {
					return err
				}
			}
			if len(args) > 3 {
				return trials.Refuse(`put an amount with spaces in quotes, such as "600mL water"`, "unexpected %q", args[3])
			}
			return e.runAdditionAdd(o, args)
		},
	}
	o.flags(c)
	return c
}

// runAdditionAdd logs an addition and shows what it did.
func (e *env) runAdditionAdd(o additionOptions, args []string) error {
	n, err := e.writing()
	if err != nil {
		return err
	}
	b, when, err := e.eventOf(n, args[0], "addition", o.at, o.force)
	if err != nil {
		return err
	}
	if err := o.speak(e); err != nil {
		return err
	}
	a := trials.Addition{Record: trials.Record{ID: trials.NewID()}, BatchID: b.ID, At: when, Lot: o.lot, Note: o.note}
	a.Name = eventName(b.Name, "a", additionNames(n))
	x, err := e.whatIsAdded(n, o, &a, args[1:])
	if err != nil {
		return err
	}
	if a.Stage = o.stage; a.Stage == "" {
		a.Stage = stageOf(a, b)
	}
	if err := a.Validate(); err != nil {
		return err
	}
	if err := e.oddAddition(n, b, a, x, o.force); err != nil {
		return err
	}
	cautions := n.EntryCautionsIn(b.ID, handlingOf(a, x)) // before the entry itself is in
	// worked out before it is written: what the account cannot hold must never be in the notebook
	ledger, err := e.tryAddition(n, b, a, x)
	if err != nil {
		return err
	}
	var records []any
	if x != nil {
		records = append(records, x)
	}
	if err := e.save("log addition "+a.Name, append(records, &a)...); err != nil {
		return err
	}
	// its time of writing is now that of the passes written with it: before, a pour of all of a tea
	// stood before the end of that tea, and left it whole
	n.ReplaceAddition(a)
	// after the write: a caution is no refusal, and must not be told of what was not logged
	e.caution(cautions)
	e.cautionPressure(n, b, ledger)
	if ledger == nil {
		return e.saved(a, "logged %s; its effect is worked out once the batch has its original gravity", a.Name)
	}
	if err := e.show(report.AdditionEffect(n, *ledger, a, e.style(), e.warned)); err != nil {
		return err
	}
	if err := e.afterAddition(n, *ledger, a, x); err != nil {
		return err
	}
	e.next("hedgerow ledger %s", b.Name)
	return nil
}

// whatIsAdded fills in the material, extract or liquid, and returns the extract
// to be made along with the addition, if any.
func (e *env) whatIsAdded(n *trials.Notebook, o additionOptions, a *trials.Addition, what []string) (*trials.Extract,
	error) {
	if len(what) == 1 {
		if x, err := n.Extract(what[0]); err == nil {
			a.ExtractID = &x.ID
			return nil, e.poured(o, a)
		}
		err := e.liquidAdded(n, o, a, what[0])
		// one word that is no liquid may be a mistyped extract: "did you mean" then helps more
		if err != nil && trials.CheckName("extract", what[0]) == nil {
			if _, missing := n.Extract(what[0]); o.pour != "" || len(spelling.Nearest(what[0], extractNames(n))) > 0 {
				return nil, missing
			}
		}
		return nil, err
	}
	if len(o.passes) == 0 && !needsPasses(o.as) {
		return nil, e.materialAdded(n, o, a, what)
	}
	// a dot marks the events of a batch, and an extract may go into several
	x, err := e.newExtractRecord(n, strings.ReplaceAll(a.Name, ".", "-"), what[0])
	if err != nil {
		return nil, err
	}
	// an id now, since the addition written along with it points there
	x.ID, x.MadeAt = trials.NewID(), a.At
	o.mass = what[1]
	if o.as == "" {
		o.as = trials.MethodTea
	}
	if len(o.passes) == 0 {
		return nil, trials.Refuse(`add --pass "400mL 96C>60C 30min drained"`, "a %s needs at least one pass", o.as)
	}
	if err := o.extractOptions.apply(e, n, &x); err != nil {
		return nil, err
	}
	a.ExtractID = &x.ID
	return &x, e.poured(o, a)
}

// needsPasses reports whether a method makes an extract first.
func needsPasses(method string) bool {
	return method == trials.MethodTea || method == trials.MethodColdTea || method == trials.MethodTincture
}

// poured reads how much of an extract went in.
func (e *env) poured(o additionOptions, a *trials.Addition) error {
	r := e.amounts()
	r.set(&a.PouredL, "pour", o.pour, r.volume)
	return r.err
}

// materialAdded fills in a material put in itself.
func (e *env) materialAdded(n *trials.Notebook, o additionOptions, a *trials.Addition, what []string) error {
	m, err := n.Material(what[0])
	if err != nil {
		return err
	}
	a.MaterialKey = m.Key
	if o.as == "" {
		return trials.Refuse("add --as with one of "+strings.Join(trials.Methods, ", "), "how %s went in is missing", m.Key)
	}
	o.mass = what[1]
	return o.directInto(e, n, a)
}

// directInto reads the figures of a material put in itself.
func (o additionOptions) directInto(e *env, n *trials.Notebook, a *trials.Addition) error {
	if o.mass != "" {
		grams, err := e.materialMass(n, a.MaterialKey, o.form, o.mass)
		if err != nil {
			return err
		}
		a.MassG = &grams
		delete(a.Limits, "mass_g") // it belonged to the mass before
	}
	word(&a.Method, o.as)
	word(&a.Form, o.form)
	word(&a.Agitation, o.agitation)
	if a.Form == "" {
		if a.Method == trials.MethodJuice || a.Method == trials.MethodPuree {
			// juice and puree say their form themselves
			a.Form = a.Method
		} else {
			return trials.Refuse("add --form with one of "+strings.Join(trials.Forms, ", "),
				"the form of %s is missing", a.MaterialKey)
		}
	}
	a.InBag = a.InBag || o.bag
	r := e.amounts()
	r.set(&a.MoisturePct, "moisture", o.moisture, r.percent)
	r.dryDown(&a.MoisturePct, o.moisture, o.dryDown)
	r.set(&a.Minutes, "time", o.minutes, r.minutes)
	r.anew(a, "retain_kg_kg", &a.RetainKgKg, "retain", o.retain, plainNumber)
	r.set(&a.BoilOffL, "boil-off", o.boilOff, r.volume)
	r.anew(a, "ferments_pct", &a.FermentsPct, "ferments", o.ferments, r.percent)
	r.anew(a, "extracted_pct", &a.ExtractedPct, "extracted", o.extracted, r.percent)
	r.set(&a.BeforeBoilL, "before-boil", o.beforeBoil, r.volume)
	if o.temp != "" && r.err == nil {
		h, err := readHeat(o.temp)
		if err != nil {
			return err
		}
		a.StartC, a.EndC, a.Curve = h.startC, h.endC, trials.CurveText(h.curve)
	}
	return r.err
}

// liquidAdded fills in a plain liquid, sugar or weighed fruit from one text.
func (e *env) liquidAdded(n *trials.Notebook, o additionOptions, a *trials.Addition, text string) error {
	r := e.amounts()
	if r.err != nil {
		return r.err
	}
	p, err := quantity.ParseAddition(text, r.options)
	if err != nil {
		return err
	}
	if p.Kind == quantity.KindMaterial {
		return e.fruitAdded(n, o, a, liquidOf(p))
	}
	ledger.FillLiquid(a, liquidOf(p))
	r.anew(a, "ferments_pct", &a.FermentsPct, "ferments", o.ferments, r.percent)
	e.warn(p.Warnings...)
	for _, s := range p.Assumptions {
		e.remark("assumed: %s", s)
	}
	return r.err
}

// stageOf is the stage an addition most likely belongs to.
func stageOf(a trials.Addition, b trials.Batch) string {
	switch {
	case a.Method == trials.MethodBoil:
		return trials.StageBoil
	case a.Method == trials.MethodFlameOut:
		return trials.StageFlameOut
	case b.Kind == trials.KindGlass:
		return trials.StageGlass
	}
	return trials.StageSecondary
}

// entryOf is the material of an addition, or of the extract made with it, as it is used.
func handlingOf(a trials.Addition, x *trials.Extract) trials.Handling {
	if x != nil {
		return x.Handling()
	}
	return a.Handling()
}

// tryAddition works out the ledger with the addition before anything is
// written; nil where the batch has no original gravity yet, and where nobody reads it.
func (e *env) tryAddition(n *trials.Notebook, b trials.Batch, a trials.Addition, x *trials.Extract) (*ledger.Ledger,
	error) {
	if x != nil {
		n.Extracts = append(n.Extracts, *x)
	}
	// what is written gets its time from the store; the account asks for it before that
	a.CreatedAt = e.now().UTC()
	n.Additions = append(n.Additions, a)
	if e.unread {
		// with no notebook of before, so that an account that does not hold is refused in any case
		if err := ledger.CheckAccount(n, &trials.Notebook{}, b); err != nil {
			return nil, err
		}
		return nil, checkJug(n, a)
	}
	l, err := ledger.Of(n, b)
	if err == nil {
		err = checkJug(n, a)
	}
	// the batch has no original gravity yet: what went in is worth keeping before it has
	if trials.CodeOf(err) == trials.NotEnough {
		return nil, nil
	}
	return &l, err
}

func newAdditionList(e *env) *cobra.Command {
	return &cobra.Command{
		Use:               "list [BATCH]",
		Short:             "List what went in, one sentence for each addition",
		Example:           "  hedgerow addition list heather-3",
		Args:              atMost("BATCH"),
		ValidArgsFunction: e.completing(batchNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.reading()
			if err != nil {
				return err
			}
			b, err := optionalBatch(n, args)
			if err != nil {
				return err
			}
			return e.list(report.AdditionList(n, b, e.style()), len(n.Additions),
				"hedgerow addition edit NAME .. corrects one, hedgerow ledger BATCH tells what they did")
		},
	}
}

func newAdditionEdit(e *env) *cobra.Command {
	var o additionOptions
	var amount string
	c := &cobra.Command{
		Use:   "edit ADDITION",
		Short: "Correct an addition; all that rests on it changes too",
		Long: `Correct an addition. The passes of a tea belong to its extract: correct them
with hedgerow extract edit.`,
		Example: `  hedgerow addition edit heather-3.a1 --mass 45g
  hedgerow addition edit heather-3.a2 --amount "550mL water" --at "day 6"`,
		Args:              exactly("ADDITION"),
		ValidArgsFunction: e.completing(additionNames),
		RunE: func(c *cobra.Command, args []string) error {
			n, err := e.editing(c)
			if err != nil {
				return err
			}
			a, err := n.Addition(args[0])
			if err != nil {
				return err
			}
			return e.runAdditionEdit(n, o, a, amount)
		},
	}
	o.flags(c)
	c.Flags().StringVar(&o.mass, "mass", "", "material as weighed")
	c.Flags().StringVar(&amount, "amount", "", "a liquid or sugar anew, such as \"550mL water\"")
	return c
}

// runAdditionEdit writes the corrections of an addition.
func (e *env) runAdditionEdit(n *trials.Notebook, o additionOptions, a trials.Addition, amount string) error {
	records := []any{}
	before := *n
	before.Additions, before.Extracts = slices.Clone(n.Additions), slices.Clone(n.Extracts)
	if err := o.speak(e); err != nil {
		return err
	}
	switch {
	case a.LiquidKind != "" && o.mass+o.form+o.as+o.moisture+o.minutes+o.temp+o.retain+o.pour != "":
		return trials.Refuse(`use --amount, such as --amount "550mL `+a.LiquidKind+`"`,
			"%s is %s and has no such figure", a.Name, a.LiquidKind)
	case a.LiquidKind == "" && amount != "":
		return trials.Refuse("use --mass 45g, or --pour 200mL for an extract",
			"%s is a material; --amount is for a liquid or sugar", a.Name)
	case a.ExtractID != nil:
		x, ok := n.ExtractByID(*a.ExtractID)
		if ok {
			if err := o.extractOptions.apply(e, n, &x); err != nil {
				return err
			}
			records = append(records, &x)
			n.ReplaceExtract(x)
		}
		if err := e.poured(o, &a); err != nil {
			return err
		}
	case a.LiquidKind != "" && amount != "":
		if err := e.liquidAdded(n, o, &a, e.amounts().sameLiquid(a, corrected(amount))); err != nil {
			return err
		}
	case a.MaterialKey != "":
		if err := o.directInto(e, n, &a); err != nil {
			return err
		}
	}
	word(&a.Stage, o.stage)
	word(&a.Note, o.note)
	word(&a.Lot, o.lot)
	if err := e.moveEvent(n, a.BatchID, "addition", o.at, &a.At); err != nil {
		return err
	}
	if err := a.Validate(); err != nil {
		return err
	}
	b, _ := n.BatchByID(a.BatchID)
	n.ReplaceAddition(a)
	// an account that lacks figures was no better before the edit
	if _, err := ledger.Of(n, b); err != nil && trials.CodeOf(err) != trials.NotEnough {
		return err
	}
	if err := checkJug(n, a); err != nil {
		return err
	}
	if err := e.save("edit addition "+a.Name, append(records, &a)...); err != nil {
		return err
	}
	e.tellPours(&before, n, a.ID)
	return e.saved(a, "%s is now %s", a.Name, wording.AdditionSentence(n, a, e.style()))
}

func newAdditionDelete(e *env) *cobra.Command {
	var yes bool
	c := &cobra.Command{
		Use:               "delete ADDITION",
		Short:             "Delete an addition",
		Long:              "Delete an addition; the extract it came from stays. `hedgerow undo` brings it\nback.",
		Example:           "  hedgerow addition delete heather-3.a1 --yes",
		Args:              exactly("ADDITION"),
		ValidArgsFunction: e.completing(additionNames),
		RunE: func(_ *cobra.Command, args []string) error {
			find := func(n *trials.Notebook) (any, string, error) {
				a, err := n.Addition(args[0])
				return a, "addition " + a.Name, err
			}
			return e.remove(find, "", yes)
		},
	}
	c.Flags().BoolVar(&yes, "yes", false, "do not ask")
	return c
}

// caution shows cautions that must be kept in sight.
func (e *env) caution(list []trials.Caution) {
	for _, c := range wording.CautionRows(list) {
		// who asks for quiet knows the others; what must not go on is said all the same
		if e.flags.quiet && c.Level != "stop" {
			continue
		}
		e.remark("%s", wording.CautionLine(c))
	}
}
