package main

import (
	"hedgerow/report"
	"hedgerow/trials"
	"hedgerow/trials/ledger"

	"github.com/spf13/cobra"
)

// newMeter makes the meter commands.
func newMeter(e *env) *cobra.Command {
	c := group(&cobra.Command{Use: "meter", Short: "Keep hydrometers and pH meters with their corrections"})
	c.AddCommand(newMeterAdd(e), newMeterCalibrate(e), newMeterShow(e), newMeterList(e), newMeterEdit(e),
		newMeterDelete(e))
	return c
}

// meterOptions are the figures of a meter as typed.
type meterOptions struct {
	kind, scale, zero, zeroLimit, note string
}

// flags adds the figures of a meter to a command.
func (o *meterOptions) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&o.scale, "scale", "", "hydrometer: temperature its scale is made for, 20C or 60F; 20C if left out")
	f.StringVar(&o.zero, "zero", "", "hydrometer: what it shows in water of that temperature less 1, such as 0.001")
	f.StringVar(&o.zeroLimit, "zero-limit", "",
		"hydrometer: how far its zero may still be off; half of the gravity limit if left out")
	f.StringVar(&o.note, "note", "", "a note")
}

// apply puts the figures that were given into m.
func (o meterOptions) apply(e *env, m *trials.Meter) error {
	a := e.amounts()
	a.set(&m.ScaleTempC, "scale", o.scale, a.temperature)
	a.set(&m.ZeroError, "zero", o.zero, plainNumber)
	a.set(&m.ZeroLimit, "zero-limit", o.zeroLimit, plainNumber)
	word(&m.Note, o.note)
	if a.err != nil {
		return a.err
	}
	return m.Validate()
}

func newMeterAdd(e *env) *cobra.Command {
	var o meterOptions
	c := &cobra.Command{
		Use:   "add NAME",
		Short: "Add a hydrometer or pH meter",
		Long: `Add an instrument. Readings that name it with --meter are corrected: those of a
hydrometer for the temperature of its scale and its zero error, those of a pH
meter by its calibrations. What the zero of one hydrometer may still be off
moves all its readings alike, and so hardly touches a strength got from two of
them.`,
		Example: `  hedgerow meter add float-1 --kind hydrometer --scale 60F
  hedgerow meter add ph-1 --kind ph`,
		Args: exactly("NAME"),
		RunE: func(_ *cobra.Command, args []string) error {
			m := trials.Meter{Record: trials.Record{Name: args[0]}, Kind: o.kind}
			if o.kind == "" {
				return trials.Refuse("add --kind hydrometer or --kind ph", "the kind of meter is missing")
			}
			if err := o.apply(e, &m); err != nil {
				return err
			}
			n, err := e.writing()
			if err != nil {
				return err
			}
			if err := e.save("add meter "+m.Name, &m); err != nil {
				return err
			}
			if err := e.saved(m, "added %s: %s", m.Name, report.MeterLine(n, m, e.style())); err != nil {
				return err
			}
			if m.Kind == trials.MeterPH {
				e.next("hedgerow meter calibrate %s 4.01=SHOWN 7.00=SHOWN --buffer-temp 20C", m.Name)
			} else if m.ZeroError == nil {
				e.next("hedgerow meter calibrate %s --water SHOWN", m.Name)
			}
			return nil
		},
	}
	c.Flags().StringVar(&o.kind, "kind", "", "hydrometer or ph")
	o.flags(c)
	return c
}

func newMeterShow(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "show [NAME]",
		Short: "Show a meter with its calibrations, or list all",
		Example: `  hedgerow meter show
  hedgerow meter show ph-1`,
		Args:              atMost("NAME"),
		ValidArgsFunction: e.completing(meterNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.reading()
			if err != nil {
				return err
			}
			if len(args) == 0 {
				return e.show(report.MeterList(n, e.style()))
			}
			m, err := n.Meter(args[0])
			if err != nil {
				return err
			}
			return e.show(report.Meter(n, m, e.style()))
		},
	}
}

func newMeterEdit(e *env) *cobra.Command {
	var o meterOptions
	c := &cobra.Command{
		Use:               "edit NAME",
		Short:             "Correct a meter; all readings with it change too",
		Long:              `Correct a meter. "none" takes an optional value away.`,
		Example:           "  hedgerow meter edit float-1 --scale 60F",
		Args:              exactly("NAME"),
		ValidArgsFunction: e.completing(meterNames),
		RunE: func(c *cobra.Command, args []string) error {
			n, err := e.editing(c)
			if err != nil {
				return err
			}
			m, err := n.Meter(args[0])
			if err != nil {
				return err
			}
			if err := o.apply(e, &m); err != nil {
				return err
			}
			return e.saveMeter(n, m, "edit meter "+m.Name)
		},
	}
	o.flags(c)
	return c
}

// saveMeter writes a corrected meter, unless the account of a batch would not
// hold with it.
func (e *env) saveMeter(n *trials.Notebook, m trials.Meter, what string) error {
	with := n.With(m)
	for _, b := range n.ReadWith(m.ID) {
		// all of them: one corrected zero moves readings of many batches
		if err := ledger.CheckAccount(with, n, b); err != nil {
			return err
		}
	}
	if err := e.save(what, &m); err != nil {
		return err
	}
	e.sayMoved(with, m)
	return e.saved(m, "%s is now a %s", m.Name, report.MeterLine(with, m, e.style()))
}

// sayMoved tells of the batches whose strength the zero error of a hydrometer moves,
// since only one of their two gravities was read with it.
func (e *env) sayMoved(n *trials.Notebook, m trials.Meter) {
	for _, b := range n.ReadWith(m.ID) {
		l, err := ledger.Of(n, b)
		if err != nil {
			continue
		}
		for _, w := range l.Warnings {
			if w.Code == ledger.CodeOneGravity {
				e.remark("note: %s: %s", b.Name, w.Words())
			}
		}
	}
}

func newMeterDelete(e *env) *cobra.Command {
	var yes bool
	c := &cobra.Command{
		Use:   "delete NAME",
		Short: "Delete a meter or one calibration",
		Long: `Delete a meter, or one calibration by its name. Readings stay, and are taken as
they were shown. ` + "`hedgerow undo`" + ` brings it back.`,
		Example: "  hedgerow meter delete ph-1.c1 --yes",
		Args:    exactly("NAME"),
		RunE: func(_ *cobra.Command, args []string) error {
			find := func(n *trials.Notebook) (any, string, error) { return findMeterRecord(n, args[0]) }
			return e.remove(find, " Readings with it are then taken as shown.", yes)
		},
	}
	c.Flags().BoolVar(&yes, "yes", false, "do not ask")
	return c
}

// findMeterRecord finds a calibration or a meter by its name.
func findMeterRecord(n *trials.Notebook, name string) (record any, what string, err error) {
	if c, err := n.Calibration(name); err == nil {
		return c, "calibration " + name, nil
	}
	m, err := n.Meter(name)
	return m, "meter " + name, err
}

// meterNames lists meters for completion.
func meterNames(n *trials.Notebook) []string {
	return names(n.Meters, func(m trials.Meter) string { return m.Name })
}
