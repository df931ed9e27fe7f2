package main

import (
	"hedgerow/report"
	"hedgerow/report/standing"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"

	"github.com/spf13/cobra"
)

// newBatch makes the batch commands.
func newBatch(e *env) *cobra.Command {
	c := group(&cobra.Command{Use: "batch", Short: "Keep batches: start, split, lose, package"})
	c.AddCommand(newBatchNew(e), newBatchList(e), newBatchShow(e), newBatchEdit(e), newBatchSplit(e),
		newBatchLoss(e), newBatchPackage(e), newBatchNote(e), newBatchDelete(e))
	return c
}

// batchOptions are the figures of a batch as typed.
type batchOptions struct {
	volume, og, fg, ibu, srm, rated, style, note, at, kind, highest, storage string
	meter, sampleTemp                                                        string
}

// flags adds the figures of a batch to a command.
func (o *batchOptions) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&o.volume, "volume", "", "volume in the fermenter, such as 12L or 5gal")
	f.StringVar(&o.og, "og", "", "original gravity, such as 1.048 or 12P")
	f.StringVar(&o.meter, "meter", "", "hydrometer the original gravity was read with; its corrections are applied")
	f.StringVar(&o.sampleTemp, "sample-temp", "", "temperature of the sample the original gravity was read in")
	f.StringVar(&o.fg, "fg", "", "expected final gravity")
	f.StringVar(&o.ibu, "ibu", "", "bitterness, IBU")
	f.StringVar(&o.srm, "srm", "", "colour, SRM")
	f.StringVar(&o.rated, "rated", "", "pressure rating of the bottles or keg as their maker states it, bar")
	f.StringVar(&o.style, "style", "", "what beer it is")
	f.StringVar(&o.note, "note", "", "a note")
	f.StringVar(&o.at, "at", "", whenHelp)
}

// apply puts the figures that were given into b, a batch of n or a new one.
func (o batchOptions) apply(e *env, n *trials.Notebook, b *trials.Batch) error {
	a := e.amounts()
	a.must(&b.VolumeL, "volume", o.volume, a.volume)
	a.set(&b.OG, "og", o.og, a.gravity)
	a.set(&b.FG, "fg", o.fg, a.gravity)
	a.set(&b.IBU, "ibu", o.ibu, plainNumber)
	a.set(&b.SRM, "srm", o.srm, plainNumber)
	a.set(&b.RatedBar, "rated", o.rated, pressureBar)
	a.set(&b.OGSampleTempC, "sample-temp", o.sampleTemp, a.temperature)
	word(&b.Style, o.style)
	word(&b.Note, o.note)
	if a.err != nil {
		return a.err
	}
	e.warn(a.warnings...)
	if odd := e.oddBatch(*b); o.volume != "" && odd != "" {
		e.remark("note: %s", odd)
	}
	if o.at != "" {
		at, err := e.batchTime(n, *b, o.at)
		if err != nil {
			return err
		}
		b.StartedAt = at
	}
	if err := o.hydrometer(e, b); err != nil {
		return err
	}
	return b.Validate()
}

// hydrometer finds the hydrometer that the original gravity was read with.
func (o batchOptions) hydrometer(e *env, b *trials.Batch) error {
	switch o.meter {
	case "":
		return nil
	case clear:
		b.OGMeterID = nil
		return nil
	}
	n, err := e.writing()
	if err != nil {
		return err
	}
	m, err := n.Meter(o.meter)
	if err != nil {
		return err
	}
	if m.Kind != trials.MeterHydrometer {
		return trials.Refuse("name a hydrometer", "%s is a pH meter; it reads no gravity", m.Name)
	}
	b.OGMeterID = &m.ID
	return nil
}

func newBatchNew(e *env) *cobra.Command {
	var o batchOptions
	c := &cobra.Command{
		Use:   "new NAME",
		Short: "Start a batch",
		Long: `Start a batch: its volume in the fermenter and its original gravity. At a terminal,
without a name, each question is put in turn.`,
		Example: `  hedgerow batch new heather-3 --volume 12L --og 1.048
  hedgerow batch new moor-ale --volume 5gal --og 12P --ibu 28 --at 2026-03-01`,
		Args: e.guided(exactly("NAME")),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				name, err := e.guideBatch(&o)
				if err != nil {
					return err
				}
				args = []string{name}
			}
			b := trials.Batch{Record: trials.Record{Name: args[0]}, Kind: trials.KindBatch}
			if o.volume == "" {
				return trials.Refuse("add --volume 12L", "a batch needs its volume")
			}
			if err := o.apply(e, new(trials.Notebook), &b); err != nil {
				return err
			}
			if b.StartedAt.IsZero() {
				b.StartedAt = e.now().UTC()
			}
			if err := e.save("start batch "+b.Name, &b); err != nil {
				return err
			}
			if err := e.saved(b, "started batch %s: %s", b.Name, report.BatchLine(b, e.style())); err != nil {
				return err
			}
			e.next(`hedgerow addition add %s MATERIAL 40g --form cut --as tea --pass "400mL 96C>60C 30min drained"`, b.Name)
			return nil
		},
	}
	o.flags(c)
	return c
}

func newBatchList(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "list",
		Short: "List the batches: what is left of each, and where it is",
		Long: `List the batches with the litres that are left after losses, splits and what went
in, and where each is. hedgerow status tells more of those in hand.`,
		Example: "  hedgerow batch list",
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) error {
			n, err := e.reading()
			if err != nil {
				return err
			}
			view, err := standing.BatchList(n, e.style())
			if err != nil {
				return err
			}
			return e.list(view, len(n.Batches), "hedgerow batch show NAME, or hedgerow ledger NAME")
		},
	}
}

func newBatchShow(e *env) *cobra.Command {
	return &cobra.Command{
		Use:               "show NAME",
		Short:             "Show a batch and everything that happened to it",
		Example:           "  hedgerow batch show heather-3",
		Args:              exactly("NAME"),
		ValidArgsFunction: e.completing(batchNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.reading()
			if err != nil {
				return err
			}
			b, err := n.Batch(args[0])
			if err != nil {
				return err
			}
			return e.show(report.BatchHistory(n, b, e.style()))
		},
	}
}

func newBatchEdit(e *env) *cobra.Command {
	var o batchOptions
	c := &cobra.Command{
		Use:   "edit NAME",
		Short: "Correct a batch, or a loss or packaging of it",
		Long: `Correct the figures of a batch; all that rests on them changes with them. The
name may also be that of a loss (heather-3.l1) or a packaging (heather-3.p1):
then --volume, --kind, --at and --note apply to the one, --highest, --storage,
--at and --note to the other. "none" takes an optional value away.`,
		Example: `  hedgerow batch edit heather-3 --og 1.049
  hedgerow batch edit heather-3.l1 --volume 400mL`,
		Args:              exactly("NAME"),
		ValidArgsFunction: e.completing(batchNames),
		RunE: func(c *cobra.Command, args []string) error {
			n, err := e.editing(c)
			if err != nil {
				return err
			}
			if done, err := o.editEvent(e, n, args[0]); done || err != nil {
				return err
			}
			b, err := n.Batch(args[0])
			if err != nil {
				return err
			}
			// flags that would do nothing are refused: their figures would be thought kept
			if o.highest+o.storage != "" {
				return trials.Refuse("name a packaging, such as "+b.Name+".p1",
					"--highest and --storage belong to a packaging, and %s is a batch", b.Name)
			}
			if o.kind != "" {
				return trials.Refuse("name a loss, such as "+b.Name+".l1",
					"--kind is the kind of a loss, and %s is a batch", b.Name)
			}
			if err := o.apply(e, n, &b); err != nil {
				return err
			}
			if err := ledger.CheckAccount(n.With(b), n, b); err != nil {
				return err
			}
			if err := e.save("edit batch "+b.Name, &b); err != nil {
				return err
			}
			return e.saved(b, "batch %s is now %s", b.Name, report.BatchLine(b, e.style()))
		},
	}
	o.flags(c)
	c.Flags().StringVar(&o.kind, "kind", "", "kind of a loss: sample, trub, transfer or evaporation")
	c.Flags().StringVar(&o.highest, "highest", "", "of a packaging: highest temperature since fermentation ended")
	c.Flags().StringVar(&o.storage, "storage", "", "of a packaging: highest temperature that the package will see")
	return c
}

func newBatchSplit(e *env) *cobra.Command {
	var volume, kind, at, note string
	c := &cobra.Command{
		Use:   "split PARENT CHILD [VOLUME]",
		Short: "Split beer off into a jar, keg or glass with its own history",
		Example: `  hedgerow batch split heather-3 jar-a 2L
  hedgerow batch split heather-3 keg-b --volume 9L --kind batch --at "day 14"`,
		Args:              atLeast("PARENT", "CHILD"),
		ValidArgsFunction: e.completing(batchNames),
		RunE: func(_ *cobra.Command, args []string) error {
			switch {
			case len(args) > 3 || len(args) == 3 && volume != "":
				return trials.Refuse("write the volume once, such as 2L", "unexpected %q", args[len(args)-1])
			case len(args) == 3:
				volume = args[2]
			}
			n, err := e.writing()
			if err != nil {
				return err
			}
			parent, err := n.Batch(args[0])
			if err != nil {
				return err
			}
			child := trials.Batch{Record: trials.Record{Name: args[1]}, ParentID: &parent.ID, Kind: kind, Note: note}
			a := e.amounts()
			a.must(&child.VolumeL, "volume", volume, a.volume)
			if a.err != nil {
				return a.err
			}
			if child.StartedAt, err = e.batchTime(n, parent, at); err != nil {
				return err
			}
			if err := ledger.CheckSplit(n, parent, child); err != nil {
				return err
			}
			if err := e.save("split "+child.Name+" from "+parent.Name, &child); err != nil {
				return err
			}
			return e.saved(child, "split %s off from %s into %s", wording.VolumeText(child.VolumeL, e.style()),
				parent.Name, child.Name)
		},
	}
	f := c.Flags()
	f.StringVar(&volume, "volume", "", "volume taken, such as 2L")
	f.StringVar(&kind, "kind", trials.KindJar, "batch, jar or glass")
	f.StringVar(&at, "at", "", whenHelp)
	f.StringVar(&note, "note", "", "a note")
	return c
}

func newBatchDelete(e *env) *cobra.Command {
	var yes bool
	c := &cobra.Command{
		Use:   "delete NAME",
		Short: "Delete a batch, or a loss, packaging or note of it",
		Long: "Delete a batch with its events, or one loss, packaging or note by its name.\n" +
			"`hedgerow undo` brings it back.",
		Example:           "  hedgerow batch delete heather-3 --yes",
		Args:              exactly("NAME"),
		ValidArgsFunction: e.completing(batchNames),
		RunE: func(_ *cobra.Command, args []string) error {
			find := func(n *trials.Notebook) (any, string, error) { return findBatchRecord(n, args[0]) }
			return e.remove(find, "", yes)
		},
	}
	c.Flags().BoolVar(&yes, "yes", false, "do not ask")
	return c
}
