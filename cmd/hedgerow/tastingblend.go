package main

import (
	"math"
	"slices"
	"time"

	"hedgerow/report"
	"hedgerow/report/decisions"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/planning"
	"hedgerow/trials/quantity"

	"github.com/spf13/cobra"
)

// blendOptions are the figures of a blend as typed.
type blendOptions struct {
	into, volume, left, pour, at string
	record, force                bool
}

func newTastingBlend(e *env) *cobra.Command {
	var o blendOptions
	c := &cobra.Command{
		Use:   "blend TASTING",
		Short: "Say how much of the extract goes into the beer at packaging",
		Long: `Say how much of the extract of an evening of dosing to taste goes into a beer at
packaging: for so many litres so many millilitres, from what all scores and evenings
say of the right dose, with what that does to volume, gravity and strength. Past 5 %
of added liquid it says so. --record logs it as an addition at packaging, and the
volume where another one was typed than the account has.`,
		Example: `  hedgerow tasting blend drops --into plain --volume 11.4L
  hedgerow tasting blend drops --into plain --volume 11.4L --left 420mL --record`,
		Args:              exactly("TASTING"),
		ValidArgsFunction: e.completing(tastingNames),
		RunE:              func(_ *cobra.Command, args []string) error { return e.runBlend(o, args[0]) },
	}
	f := c.Flags()
	f.StringVar(&o.into, "into", "", "the batch that it goes into")
	f.StringVar(&o.volume, "volume", "", "how much beer there is; by the account if left out")
	f.StringVar(&o.left, "left", "", "what was measured in the jug of the extract")
	f.StringVar(&o.pour, "pour", "", "pour so much, and not what is worked out")
	f.StringVar(&o.at, "at", "", whenHelp)
	f.BoolVar(&o.record, "record", false, "log it as an addition")
	f.BoolVar(&o.force, "force", false, "also into a batch that is packaged already, or has the plant in it")
	return c
}

// runBlend works out a blend, and logs it if that is asked for.
func (e *env) runBlend(o blendOptions, name string) error {
	if o.record {
		// before the first look: what the pour is worked out from must still hold when it is written
		if err := e.begin(); err != nil {
			return err
		}
	}
	n, err := e.readingScores()
	if err != nil {
		return err
	}
	t, s, x, err := blended(n, name)
	if err != nil {
		return err
	}
	n, set, err := e.trialSet(x.MaterialKey)
	if err != nil {
		return err
	}
	if o.into == "" {
		return trials.Refuse("add --into BATCH", "which beer it goes into is missing")
	}
	b := report.Blend{Tasting: t.Name, Extract: x, Used: s.Used, Units: e.style()}
	var when time.Time
	if b.Batch, when, err = e.eventOf(n, o.into, "addition", o.at, o.force); err != nil {
		return err
	}
	if err := o.without(n, b.Batch, x); err != nil {
		return err
	}
	if b.Dose, err = decisions.DoseToBlend(n, set, t.Attributes[0], x.Method); err != nil {
		return err
	}
	if err := e.blendAmounts(n, o, s, &b); err != nil {
		return err
	}
	if err := b.Check(); err != nil {
		return err
	}
	records, err := e.blendRecords(n, o, &b, when)
	if err != nil {
		return err
	}
	if o.record {
		if err := e.save("blend "+x.Name+" into "+b.Batch.Name, records...); err != nil {
			return err
		}
		b.Recorded = true
		e.cautionPressure(n, b.Batch, &b.Ledger)
	}
	if err := e.show(b.View()); err != nil {
		return err
	}
	if !o.record {
		e.next("the same with --record logs it, then hedgerow batch package %s", b.Batch.Name)
		return nil
	}
	e.next("hedgerow batch package %s", b.Batch.Name)
	return nil
}

// without refuses a beer that has the plant: the pour is worked out for one without it, and a
// second one would double the dose.
func (o blendOptions) without(n *trials.Notebook, b trials.Batch, x trials.Extract) error {
	if o.pour != "" || o.force || !slices.Contains(ledger.MaterialsOf(n, b), x.MaterialKey) {
		return nil
	}
	return trials.Refuse("take it back with hedgerow undo, name another beer, or say with --pour how much comes on top",
		"there is %s in %s already", x.MaterialKey, b.Name)
}

// blended finds an evening of dosing to taste that is over, with its extract.
func blended(n *trials.Notebook, name string) (trials.Tasting, trials.ToTaste, trials.Extract, error) {
	t, err := n.Tasting(name)
	if err != nil {
		return t, trials.ToTaste{}, trials.Extract{}, err
	}
	s, ok := n.ToTasteOf(t.ID)
	switch {
	case !ok:
		err = trials.Refuse("hedgerow suggest MATERIAL says the next dose", "tasting %s was not dosed to taste", t.Name)
	case t.CupsUnread():
		err = trials.Refuse("hedgerow tasting places "+t.Name+" 1=.. 2=..", "the codes of tasting %s are not read yet",
			t.Name)
	case t.Sealed():
		err = trials.Refuse("hedgerow tasting close "+t.Name, "tasting %s is still sealed", t.Name)
	}
	x, _ := n.ExtractByID(s.ExtractID)
	return t, s, x, err
}

// blendAmounts fills in beer, extract and pour.
func (e *env) blendAmounts(n *trials.Notebook, o blendOptions, s trials.ToTaste, b *report.Blend) error {
	materials, err := n.Catalogue()
	if err != nil {
		return err
	}
	if b.Carries, b.LeftL, err = planning.CarriesNow(n, materials, b.Extract, b.Dose.Class); err != nil {
		return err
	}
	b.VolumeL = planning.HoldsL(n, b.Batch, b.Batch.VolumeL)
	b.Measured = o.left != ""
	a := e.amounts()
	a.must(&b.VolumeL, "volume", o.volume, a.volume)
	a.must(&b.LeftL, "left", o.left, a.volume)
	b.PourL = b.Pour(b.Dose.DoseGPerL)
	if b.Typed = o.pour != ""; b.Typed {
		a.must(&b.PourL, "pour", o.pour, a.volume)
	}
	return a.err
}

// blendRecords makes the addition, and a reading of the volume where it is another one
// than the account has, and works out the ledger with them.
func (e *env) blendRecords(n *trials.Notebook, o blendOptions, b *report.Blend, when time.Time) ([]any, error) {
	const sameVolume = 0.01 // a siphon is read no better
	var records []any
	pour, note := b.PourL, "dosed to taste on "+b.Tasting
	if b.Measured {
		note += "; " + quantity.FormatVolume(b.LeftL, quantity.Metric) + " were in the jug before"
	}
	b.Addition = trials.Addition{Record: trials.Record{ID: trials.NewID()}, BatchID: b.Batch.ID, At: when,
		Stage: trials.StagePackaging, ExtractID: &b.Extract.ID, PouredL: &pour, Note: note}
	b.Addition.Name = eventName(b.Batch.Name, "a", additionNames(n))
	if l, err := ledger.Of(n, b.Batch); err == nil {
		if now := l.Last().State().VolumeL.Value; math.Abs(b.VolumeL/now-1) > sameVolume {
			volume := b.VolumeL
			r := trials.Reading{Record: trials.Record{ID: trials.NewID()}, BatchID: b.Batch.ID, At: when.Add(-time.Second),
				VolumeL: &volume, Note: "before blending"}
			r.Name = eventName(b.Batch.Name, "r", readingNames(n))
			n.Readings = append(n.Readings, r)
			records = append(records, &r)
		}
	}
	if err := b.Addition.Validate(); err != nil {
		return nil, err
	}
	l, err := e.tryAddition(n, b.Batch, b.Addition, nil)
	if err != nil {
		return nil, err
	}
	if l == nil {
		return nil, trials.Refuse("hedgerow batch edit "+b.Batch.Name+" --og 1.046", "the original gravity of %s is missing",
			b.Batch.Name)
	}
	b.Ledger = *l
	return append(records, &b.Addition), nil
}
