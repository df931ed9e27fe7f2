package main

import (
	"fmt"

	"hedgerow/report"
	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"

	"github.com/spf13/cobra"
)

// packageOptions are the figures of a packaging as typed.
type packageOptions struct {
	highest, storage, rated, note, at string
}

func newBatchPackage(e *env) *cobra.Command {
	var o packageOptions
	c := &cobra.Command{
		Use:   "package BATCH",
		Short: "Log that a batch was bottled or kegged",
		Long: `Log that a batch was closed into bottles or a keg. Where sugar is left, or went in
for carbonation, the beer after conditioning is told as it is expected, and the gas
and the pressure that may come of it as an upper bound. What is stored: the
packaging, and with --rated the rating of the container.`,
		Example: `  hedgerow batch package heather-3 --at "day 21"
  hedgerow batch package heather-3 --highest 22C --storage 25C --rated 6bar`,
		Args:              exactly("BATCH"),
		ValidArgsFunction: e.completing(batchNames),
		RunE:              func(_ *cobra.Command, args []string) error { return e.runBatchPackage(o, args[0]) },
	}
	f := c.Flags()
	f.StringVar(&o.highest, "highest", "", "highest temperature since fermentation ended, for the CO2 left in the beer")
	f.StringVar(&o.storage, "storage", "", "highest temperature the package will see, for its pressure; 25C if left out")
	f.StringVar(&o.rated, "rated", "", "pressure rating of the bottles or keg as their maker states it, bar")
	f.StringVar(&o.note, "note", "", "a note")
	f.StringVar(&o.at, "at", "", whenHelp)
	return c
}

// runBatchPackage logs a packaging and tells what pressure may come of it.
func (e *env) runBatchPackage(o packageOptions, name string) error {
	n, err := e.writing()
	if err != nil {
		return err
	}
	b, when, err := e.eventOf(n, name, "packaging", o.at, false)
	if err != nil {
		return err
	}
	if _, done := n.Packaged(b.ID); done {
		return trials.Refuse("correct it with: hedgerow batch edit "+b.Name+".p1 --at ...",
			"batch %s is already packaged", b.Name)
	}
	p := trials.Packaging{BatchID: b.ID, At: when, Note: o.note}
	p.ID, p.Name = trials.NewID(), b.Name+".p1"
	a := e.amounts()
	a.set(&p.HighestTempC, "highest", o.highest, a.temperature)
	a.set(&p.StorageTempC, "storage", o.storage, a.temperature)
	a.set(&b.RatedBar, "rated", o.rated, pressureBar)
	if a.err != nil {
		return a.err
	}
	if err := p.Validate(); err != nil {
		return err
	}
	records := []any{&p}
	// the batch is written only when it changes: undo would else name it for nothing
	if o.rated != "" {
		records = append(records, &b)
	}
	if err := e.save("package "+b.Name, records...); err != nil {
		return err
	}
	for _, a := range n.Additions {
		if a.BatchID == b.ID && a.At.After(when) {
			e.remark("%s went in on %s, after that: correct one of them with hedgerow batch edit %s --at .., or hedgerow "+
				"addition edit %s --at ..", a.Name, wording.DateText(a.At), p.Name, a.Name)
		}
	}
	if e.unread {
		return nil
	}
	with := n.With(b).With(p)
	l, err := ledger.Of(with, b)
	if err == nil {
		e.cautionPressure(with, b, &l)
	}
	if err := e.saved(p, "packaged %s on %s", b.Name, wording.DateText(when)); err != nil {
		return err
	}
	// lines beside the object would break the JSON
	if err == nil && !e.flags.json {
		for _, line := range report.PackagedLines(with, l) {
			fmt.Fprintln(e.stdout, document.Wrap(line, e.pageWidth()))
		}
	}
	e.next("hedgerow ledger %s", b.Name)
	return nil
}

// cautionPressure tells what pressure may come of a packaged batch in which
// sugar is left.
func (e *env) cautionPressure(n *trials.Notebook, b trials.Batch, l *ledger.Ledger) {
	if _, packaged := n.Packaged(b.ID); !packaged || l == nil {
		return
	}
	p, ok := ledger.PressureIn(n, *l)
	if !ok {
		e.remark("caution: how much sugar is left in %s is not known, nor the pressure that it may make: log a gravity",
			b.Name)
		return
	}
	if !p.Matters() {
		return
	}
	for _, line := range report.PressureLines(p, e.style()) {
		e.remark("caution: %s", line)
	}
}
