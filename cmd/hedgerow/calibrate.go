package main

import (
	"fmt"
	"math"
	"strings"

	"hedgerow/report"
	"hedgerow/trials"
	"hedgerow/trials/ledger"

	"github.com/spf13/cobra"
)

// calibrateOptions are the figures of a calibration as typed.
type calibrateOptions struct {
	water, waterTemp, bufferTemp, at, note string
	untouched, adjusted                    bool
}

func newMeterCalibrate(e *env) *cobra.Command {
	var o calibrateOptions
	c := &cobra.Command{
		Use:   "calibrate NAME [BUFFER=SHOWN BUFFER=SHOWN]",
		Short: "Record what a meter showed in its buffers, or in water",
		Long: `For a pH meter: what it showed in two buffers. Readings after that are corrected
until the next calibration; with --untouched those before it too, back to the
calibration before. --adjusted says that the meter was then set to the buffers,
so that later readings are right as shown. Use each buffer's value at its own
temperature; the word phthalate stands for the 0.05 mol/kg phthalate buffer and
takes its value from --buffer-temp. Temperature compensation of a meter corrects
its slope, never the real change of buffer or beer.

For a hydrometer: --water, what it shows in plain water. All readings with it
change, those of the past too.`,
		Example: `  hedgerow meter calibrate ph-1 4.01=4.12 7.00=7.08 --buffer-temp 22C --untouched
  hedgerow meter calibrate ph-1 phthalate=4.05 6.86=6.91 --buffer-temp 25C
  hedgerow meter calibrate float-1 --water 1.001`,
		Args:              atLeast("NAME"),
		ValidArgsFunction: e.completing(meterNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.writing()
			if err != nil {
				return err
			}
			m, err := n.Meter(args[0])
			if err != nil {
				return err
			}
			if m.Kind == trials.MeterHydrometer {
				return o.zero(e, n, m, args[1:])
			}
			return o.buffers(e, n, m, args[1:])
		},
	}
	f := c.Flags()
	f.StringVar(&o.bufferTemp, "buffer-temp", "", "temperature of the buffers, such as 22C")
	f.BoolVar(&o.untouched, "untouched", false, "the meter had not been set since the readings before: correct those too")
	f.BoolVar(&o.adjusted, "adjusted", false, "the meter was then set to the buffers: later readings are right as shown")
	f.StringVar(&o.water, "water", "", "hydrometer: what it shows in plain water, such as 1.001")
	f.StringVar(&o.waterTemp, "water-temp", "", "temperature of that water; that of the scale if left out")
	f.StringVar(&o.note, "note", "", "a note")
	f.StringVar(&o.at, "at", "", whenHelp)
	return c
}

// zero keeps the zero error of a hydrometer.
func (o calibrateOptions) zero(e *env, n *trials.Notebook, m trials.Meter, buffers []string) error {
	if o.water == "" || len(buffers) > 0 || o.bufferTemp != "" || o.untouched || o.adjusted {
		return trials.Refuse("hedgerow meter calibrate "+m.Name+" --water 1.001",
			"%s is a hydrometer: it is tried in plain water, not in buffers", m.Name)
	}
	a := e.amounts()
	shown, temp := 0.0, 20.0
	if m.ScaleTempC != nil {
		temp = *m.ScaleTempC
	}
	a.must(&shown, "water", o.water, a.gravity)
	a.must(&temp, "water-temp", o.waterTemp, a.temperature)
	if a.err != nil {
		return a.err
	}
	zero, err := ledger.ZeroIn(m, shown, temp)
	if err != nil {
		return err
	}
	m.ZeroError = &zero
	word(&m.Note, o.note)
	return e.saveMeter(n, m, "zero of "+m.Name)
}

// buffers keeps a calibration of a pH meter.
func (o calibrateOptions) buffers(e *env, n *trials.Notebook, m trials.Meter, buffers []string) error {
	if o.water != "" || o.waterTemp != "" {
		return trials.Refuse("hedgerow meter calibrate "+m.Name+" 4.01=4.10 7.00=7.05",
			"%s is a pH meter: it is tried in buffers, not in water", m.Name)
	}
	if len(buffers) != 2 {
		return trials.Refuse("hedgerow meter calibrate "+m.Name+" 4.01=4.10 7.00=7.05",
			"a calibration takes two buffers, not %d", len(buffers))
	}
	when, err := e.parseWhen(o.at, m.CreatedAt)
	if err != nil {
		return err
	}
	c := trials.Calibration{MeterID: m.ID, At: when, Untouched: o.untouched, Adjusted: o.adjusted, Note: o.note}
	c.ID, c.Name = trials.NewID(), eventName(m.Name, "c",
		names(n.Calibrations, func(c trials.Calibration) string { return c.Name }))
	a := e.amounts()
	a.set(&c.BufferTempC, "buffer-temp", o.bufferTemp, a.temperature)
	if a.err != nil {
		return a.err
	}
	if c.Buffer1, c.Read1, err = e.buffer(buffers[0], c.BufferTempC); err != nil {
		return err
	}
	if c.Buffer2, c.Read2, err = e.buffer(buffers[1], c.BufferTempC); err != nil {
		return err
	}
	if err := c.Validate(); err != nil {
		return err
	}
	if err := e.save("calibrate "+m.Name, &c); err != nil {
		return err
	}
	n.Calibrations = append(n.Calibrations, c)
	if left := ledger.Uncorrected(n, m.ID, c.At); left > 0 && !c.Untouched {
		e.remark("note: earlier readings with %s that stay as shown: %d; had the meter not been set since, repeat "+
			"with --untouched (hedgerow undo first)", m.Name, left)
	}
	return e.show(report.Calibrated(n, c, e.style(), e.warned))
}

// buffer reads "4.01=4.12" or "phthalate=4.05".
func (e *env) buffer(text string, tempC *float64) (value, shown float64, err error) {
	left, right, ok := strings.Cut(text, "=")
	if !ok {
		return 0, 0, trials.Refuse("write the buffer and what the meter showed in it, such as 4.01=4.12",
			"%q cannot be read", text)
	}
	if shown, err = plainNumber(right); err != nil {
		return 0, 0, err
	}
	if left == "phthalate" {
		if tempC == nil {
			return 0, 0, trials.Refuse("add --buffer-temp 20C", "the value of the phthalate buffer depends on its temperature")
		}
		value, err = ledger.PhthalatePH(*tempC)
		return value, shown, err
	}
	if value, err = plainNumber(left); err == nil {
		e.offerPhthalate(value, tempC)
	}
	return value, shown, err
}

// offerPhthalate tells the value of the phthalate buffer at the temperature of a
// buffer near 4 that may be one.
func (e *env) offerPhthalate(value float64, tempC *float64) {
	const sameBuffer, rounding = 0.06, 0.01
	if tempC == nil {
		return
	}
	pH, err := ledger.PhthalatePH(*tempC)
	// further off it is another buffer, nearer it is this one as rounded on a label
	if d := math.Abs(value - pH); err == nil && d < sameBuffer && d > rounding {
		e.remark("note: the phthalate buffer (0.05 mol/kg) has pH %s at that temperature: write phthalate=SHOWN if "+
			"it is that; others follow their label", fmt.Sprintf("%.3f", pH))
	}
}
