package main

import (
	"slices"
	"time"

	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"

	"github.com/spf13/cobra"
)

// eventOf reads the batch and the time that every event has.
func (e *env) eventOf(n *trials.Notebook, name, what, at string, force bool) (trials.Batch, time.Time, error) {
	b, err := n.Batch(name)
	if err != nil {
		return b, time.Time{}, err
	}
	when, err := e.batchTime(n, b, at)
	if err != nil {
		return b, when, err
	}
	return b, when, n.CheckTime(b, what, when, force)
}

func newBatchLoss(e *env) *cobra.Command {
	var l trials.Loss
	var at string
	c := &cobra.Command{
		Use:   "loss BATCH VOLUME",
		Short: "Log beer that was lost, or water that evaporated",
		Example: `  hedgerow batch loss heather-3 500mL --kind trub
  hedgerow batch loss heather-3 100mL --kind sample --at "day 5"`,
		Args:              exactly("BATCH", "VOLUME"),
		ValidArgsFunction: e.completing(batchNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.writing()
			if err != nil {
				return err
			}
			b, when, err := e.eventOf(n, args[0], "loss", at, false)
			if err != nil {
				return err
			}
			a := e.amounts()
			a.must(&l.VolumeL, "", args[1], a.volume)
			if a.err != nil {
				return a.err
			}
			l.Name = eventName(b.Name, "l", names(n.Losses, func(l trials.Loss) string { return l.Name }))
			l.BatchID, l.At = b.ID, when
			if err := l.Validate(); err != nil {
				return err
			}
			if err := ledger.CheckAccount(n.With(l), n, b); err != nil {
				return err
			}
			if err := e.save("log loss "+l.Name, &l); err != nil {
				return err
			}
			return e.saved(l, "logged %s: %s lost (%s)", l.Name, wording.VolumeText(l.VolumeL, e.style()), l.Kind)
		},
	}
	c.Flags().StringVar(&l.Kind, "kind", trials.LossSample, "sample, trub, transfer or evaporation")
	c.Flags().StringVar(&l.Note, "note", "", "a note")
	c.Flags().StringVar(&at, "at", "", whenHelp)
	return c
}

func newBatchNote(e *env) *cobra.Command {
	var at string
	c := &cobra.Command{
		Use:               "note BATCH TEXT",
		Short:             "Write a note into the history of a batch",
		Example:           `  hedgerow batch note heather-3 "hazy after the cold night"`,
		Args:              exactly("BATCH", "TEXT"),
		ValidArgsFunction: e.completing(batchNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.writing()
			if err != nil {
				return err
			}
			b, when, err := e.eventOf(n, args[0], "note", at, false)
			if err != nil {
				return err
			}
			r := trials.BatchNote{BatchID: b.ID, At: when, Text: args[1]}
			r.Name = eventName(b.Name, "n", names(n.BatchNotes, func(r trials.BatchNote) string { return r.Name }))
			if err := r.Validate(); err != nil {
				return err
			}
			if err := e.save("note "+r.Name, &r); err != nil {
				return err
			}
			return e.saved(r, "noted as %s", r.Name)
		},
	}
	c.Flags().StringVar(&at, "at", "", whenHelp)
	return c
}

// editEvent corrects a loss or a packaging if name is one, and reports whether
// it was.
func (o batchOptions) editEvent(e *env, n *trials.Notebook, name string) (bool, error) {
	if i := slices.IndexFunc(n.Losses, func(l trials.Loss) bool { return l.Name == name }); i >= 0 {
		if o.og+o.fg+o.ibu+o.srm+o.rated+o.style+o.meter+o.sampleTemp+o.highest+o.storage != "" {
			return true, trials.Refuse("use --volume, --kind, --at or --note", "%s is a loss and has no such figure", name)
		}
		return true, o.editLoss(e, n, n.Losses[i])
	}
	if i := slices.IndexFunc(n.Packagings, func(p trials.Packaging) bool { return p.Name == name }); i >= 0 {
		if o.volume+o.kind+o.og+o.fg+o.ibu+o.srm+o.rated+o.style+o.meter+o.sampleTemp != "" {
			return true, trials.Refuse("use --highest, --storage, --at or --note",
				"%s is a packaging and has no such figure", name)
		}
		return true, o.editPackaging(e, n, n.Packagings[i])
	}
	return false, nil
}

// editLoss corrects a loss.
func (o batchOptions) editLoss(e *env, n *trials.Notebook, l trials.Loss) error {
	a := e.amounts()
	a.must(&l.VolumeL, "volume", o.volume, a.volume)
	word(&l.Kind, o.kind)
	word(&l.Note, o.note)
	if a.err != nil {
		return a.err
	}
	if err := e.moveEvent(n, l.BatchID, "loss", o.at, &l.At); err != nil {
		return err
	}
	if err := l.Validate(); err != nil {
		return err
	}
	b, _ := n.BatchByID(l.BatchID)
	if err := ledger.CheckAccount(n.With(l), n, b); err != nil {
		return err
	}
	if err := e.save("edit "+l.Name, &l); err != nil {
		return err
	}
	return e.saved(l, "%s is now %s lost (%s)", l.Name, wording.VolumeText(l.VolumeL, e.style()), l.Kind)
}

// editPackaging corrects a packaging.
func (o batchOptions) editPackaging(e *env, n *trials.Notebook, p trials.Packaging) error {
	a := e.amounts()
	a.set(&p.HighestTempC, "highest", o.highest, a.temperature)
	a.set(&p.StorageTempC, "storage", o.storage, a.temperature)
	word(&p.Note, o.note)
	if a.err != nil {
		return a.err
	}
	if err := p.Validate(); err != nil {
		return err
	}
	if err := e.moveEvent(n, p.BatchID, "packaging", o.at, &p.At); err != nil {
		return err
	}
	if err := e.save("edit "+p.Name, &p); err != nil {
		return err
	}
	return e.saved(p, "%s is now on %s", p.Name, wording.DateText(p.At))
}

// moveEvent reads a new time for an event, if one was given, and checks it.
func (e *env) moveEvent(n *trials.Notebook, batchID, what, at string, dst *time.Time) error {
	b, ok := n.BatchByID(batchID)
	if at == "" || !ok {
		return nil
	}
	when, err := e.batchTime(n, b, at)
	if err != nil {
		return err
	}
	*dst = when
	// moving an addition past the packaging is a correction, not beer that is opened again
	return n.CheckTime(b, what, when, true)
}

// findBatchRecord finds a batch, loss, packaging or note by its name.
func findBatchRecord(n *trials.Notebook, name string) (record any, what string, err error) {
	for _, l := range n.Losses {
		if l.Name == name {
			return l, "loss " + name, nil
		}
	}
	for _, p := range n.Packagings {
		if p.Name == name {
			return p, "packaging " + name, nil
		}
	}
	for _, r := range n.BatchNotes {
		if r.Name == name {
			return r, "note " + name, nil
		}
	}
	b, err := n.Batch(name)
	return b, "batch " + name, err
}
