package main

import (
	"fmt"
	"strings"

	"hedgerow/report"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/idiom"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"

	"github.com/spf13/cobra"
)

// newReading makes the reading commands.
func newReading(e *env) *cobra.Command {
	c := group(&cobra.Command{Use: "reading", Short: "Log what was measured: gravity, pH, temperature, volume"})
	c.AddCommand(newReadingAdd(e), newReadingList(e), newReadingEdit(e), newReadingDelete(e))
	return c
}

// readingOptions are the values of a reading as typed.
type readingOptions struct {
	sg, sampleTemp, ph, temp, volume, meter, note, at string
	force                                             bool
}

// flags adds the values of a reading to a command.
func (o *readingOptions) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&o.sg, "sg", "", "gravity as the hydrometer shows it, such as 1.012")
	f.StringVar(&o.sampleTemp, "sample-temp", "", "temperature of the sample, such as 24C")
	f.StringVar(&o.ph, "ph", "", "pH as the meter shows it")
	f.StringVar(&o.temp, "temp", "", "temperature of the beer")
	f.StringVar(&o.volume, "volume", "", "measured volume of the batch, at 20 C or at --temp if that is given")
	f.StringVar(&o.meter, "meter", "", "instrument used; its corrections are applied")
	f.StringVar(&o.note, "note", "", "a note")
	f.StringVar(&o.at, "at", "", whenHelp)
	f.BoolVar(&o.force, "force", false, "log it though it cannot be right")
}

// spoken fills in what a reading says that was typed without flags. A flag that was
// typed too must not say the same.
func (o *readingOptions) spoken(e *env, words []string) error {
	if len(words) == 0 {
		return nil
	}
	m, err := idiom.Reading(strings.Join(words, " "))
	if err != nil {
		return err
	}
	for _, f := range []struct {
		name string
		dst  *string
		said string
	}{{"sg", &o.sg, m.SG}, {"ph", &o.ph, m.PH}, {"sample-temp", &o.sampleTemp, m.SampleTemp}, {"temp", &o.temp, m.Temp}} {
		switch {
		case f.said == "":
		case *f.dst != "":
			return trials.Refuse("write it once", "--%s says %s, and the reading %s", f.name, *f.dst, f.said)
		default:
			*f.dst = f.said
		}
	}
	for _, note := range m.Notes {
		e.taken(note)
	}
	return nil
}

// apply puts the values that were given into r.
func (o readingOptions) apply(e *env, n *trials.Notebook, r *trials.Reading) error {
	a := e.amounts()
	a.set(&r.SG, "sg", o.sg, a.gravity)
	a.set(&r.SampleTempC, "sample-temp", o.sampleTemp, a.temperature)
	a.set(&r.PH, "ph", o.ph, plainNumber)
	a.set(&r.BeerTempC, "temp", o.temp, a.temperature)
	a.set(&r.VolumeL, "volume", o.volume, a.volume)
	word(&r.Note, o.note)
	if a.err != nil {
		return a.err
	}
	// after the check for errors: a value that is refused needs no warning as well
	e.warn(a.warnings...)
	switch o.meter {
	case "":
	case clear:
		r.MeterID = nil
	default:
		m, err := n.Meter(o.meter)
		if err != nil {
			return err
		}
		r.MeterID = &m.ID
	}
	if err := r.Validate(); err != nil {
		return err
	}
	return n.CheckMeter(*r)
}

// wortSlack is how far below the original gravity a reading may lie and still be of
// wort: the reading error of two hydrometers.
const wortSlack = 0.002

// checkInstrument asks which instrument showed degrees Plato once the beer ferments: a
// refractometer takes alcohol for sugar, and its scale looks the same. A named meter
// is a hydrometer, see Notebook.CheckMeter.
func (o readingOptions) checkInstrument(n *trials.Notebook, b trials.Batch, r trials.Reading) error {
	if o.sg == "" || r.MeterID != nil {
		return nil
	}
	g, err := quantity.ParseGravity(o.sg, ledger.SGFromPlato)
	if err != nil || g.Plato == nil {
		return nil // it was read before; a specific gravity is that of a hydrometer
	}
	for b.OG == nil && b.ParentID != nil {
		b, _ = n.BatchByID(*b.ParentID)
	}
	if b.OG != nil && g.SG.Value > *b.OG-wortSlack {
		return nil
	}
	return trials.Refuse(fmt.Sprintf("write --sg %.4f if a hydrometer showed it, or add its --meter; a refractometer "+
		"takes "+
		"alcohol for sugar and says nothing here", g.SG.Value), "which instrument showed %q, now that it ferments?", o.sg)
}

func newReadingAdd(e *env) *cobra.Command {
	var o readingOptions
	c := &cobra.Command{
		Use:   "add BATCH [READING]",
		Short: "Log a reading",
		Example: `  hedgerow reading add heather-3 1.012
  hedgerow reading add heather-3 --sg 1.012 --sample-temp 24C
  hedgerow reading add heather-3 --ph 4.31 --at "day 9"`,
		Args:              atLeast("BATCH"),
		ValidArgsFunction: e.completing(batchNames),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := o.spoken(e, args[1:]); err != nil {
				return err
			}
			n, err := e.writing()
			if err != nil {
				return err
			}
			b, when, err := e.eventOf(n, args[0], "reading", o.at, false)
			if err != nil {
				return err
			}
			r := trials.Reading{BatchID: b.ID, At: when}
			r.Name = eventName(b.Name, "r", readingNames(n))
			if err := o.apply(e, n, &r); err != nil {
				return err
			}
			if err := o.checkInstrument(n, b, r); err != nil {
				return err
			}
			if err := e.oddReading(n, b, r, o.force); err != nil {
				return err
			}
			if err := ledger.CheckAccount(n.With(r), n, b); err != nil {
				return err
			}
			if err := e.save("log reading "+r.Name, &r); err != nil {
				return err
			}
			if err := e.saved(r, "logged %s: %s", r.Name, wording.ReadingLine(n, r, e.style())); err != nil {
				return err
			}
			e.next("hedgerow ledger %s", b.Name)
			return nil
		},
	}
	o.flags(c)
	return c
}

func newReadingList(e *env) *cobra.Command {
	return &cobra.Command{
		Use:               "list [BATCH]",
		Short:             "List readings",
		Example:           "  hedgerow reading list heather-3",
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
			return e.list(report.ReadingList(n, b, e.style()), len(n.Readings),
				"hedgerow reading edit NAME .. corrects one")
		},
	}
}

func newReadingEdit(e *env) *cobra.Command {
	var o readingOptions
	c := &cobra.Command{
		Use:               "edit READING",
		Short:             "Correct a reading; all that rests on it changes too",
		Example:           `  hedgerow reading edit heather-3.r1 --sg 1.013`,
		Args:              exactly("READING"),
		ValidArgsFunction: e.completing(readingNames),
		RunE: func(c *cobra.Command, args []string) error {
			n, err := e.editing(c)
			if err != nil {
				return err
			}
			r, err := n.Reading(args[0])
			if err != nil {
				return err
			}
			if err := e.moveEvent(n, r.BatchID, "reading", o.at, &r.At); err != nil {
				return err
			}
			if err := o.apply(e, n, &r); err != nil {
				return err
			}
			b, _ := n.BatchByID(r.BatchID)
			if err := o.checkInstrument(n, b, r); err != nil {
				return err
			}
			if err := ledger.CheckAccount(n.With(r), n, b); err != nil {
				return err
			}
			if err := e.save("edit reading "+r.Name, &r); err != nil {
				return err
			}
			return e.saved(r, "%s is now %s", r.Name, wording.ReadingLine(n, r, e.style()))
		},
	}
	o.flags(c)
	return c
}

// optionalBatch finds the batch a list is narrowed to, nil for all.
func optionalBatch(n *trials.Notebook, args []string) (*trials.Batch, error) {
	if len(args) == 0 {
		return nil, nil
	}
	b, err := n.Batch(args[0])
	if err != nil {
		return nil, err
	}
	return &b, nil
}
