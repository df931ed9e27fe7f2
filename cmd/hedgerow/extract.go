package main

import (
	"fmt"
	"slices"
	"time"

	"hedgerow/report"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/quantity"
	"hedgerow/trials/steeps"

	"github.com/spf13/cobra"
)

// newExtract makes the extract commands.
func newExtract(e *env) *cobra.Command {
	c := group(&cobra.Command{Use: "extract", Short: "Make teas, cold infusions and tinctures, pass by pass"})
	c.AddCommand(newExtractNew(e), newExtractPass(e), newExtractTopUp(e), newExtractShow(e), newExtractList(e),
		newExtractEdit(e), newExtractDelete(e))
	return c
}

// extractOptions are the figures of an extract as typed.
type extractOptions struct {
	mass, form, as, moisture, dryDown, strength, solids, lot, note, at string
	passes                                                             []string
}

// flags adds the figures of an extract to a command.
func (o *extractOptions) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&o.form, "form", "", "whole, cut, crushed, powder, fresh, fresh-cut, frozen or zest")
	f.StringVar(&o.as, "as", "", "tea, cold-tea or tincture")
	f.StringVar(&o.moisture, "moisture", "", "measured share of water, such as 10%")
	f.StringVar(&o.dryDown, "dry-down", "", dryDownHelp)
	f.StringVar(&o.strength, "strength", "", "strength of the spirit of a tincture, such as 40%")
	f.StringVar(&o.solids, "solids", "", "measured dissolved solids of the extract, g/L")
	f.StringVar(&o.lot, "lot", "", "which bag of the material")
	f.StringVar(&o.note, "note", "", "a note")
	f.StringVar(&o.at, "at", "", whenHelp)
	f.StringArrayVar(&o.passes, "pass", nil, passHelp)
}

// passHelp explains the --pass flag.
const passHelp = `one steep, such as "400mL 96C>60C 30min drained"; repeat for more passes`

// apply puts the figures that were given into x.
func (o extractOptions) apply(e *env, n *trials.Notebook, x *trials.Extract) error {
	a := e.amounts()
	if o.mass != "" {
		grams, err := e.materialMass(n, x.MaterialKey, o.form, o.mass)
		if err != nil {
			return err
		}
		x.MassG = grams
	}
	word(&x.Form, o.form)
	word(&x.Method, o.as)
	a.set(&x.MoisturePct, "moisture", o.moisture, a.percent)
	a.dryDown(&x.MoisturePct, o.moisture, o.dryDown)
	a.set(&x.SpiritPct, "strength", o.strength, a.spirit)
	a.set(&x.SolidsGPerL, "solids", o.solids, plainNumber)
	word(&x.Lot, o.lot)
	word(&x.Note, o.note)
	if a.err != nil {
		return a.err
	}
	for _, text := range o.passes {
		p, err := e.pass(text)
		if err != nil {
			return err
		}
		x.Passes = append(x.Passes, p)
	}
	return x.Validate()
}

// pass reads one steep with the user's settings.
func (e *env) pass(text string) (trials.Pass, error) {
	a := e.amounts()
	if a.err != nil {
		return trials.Pass{}, a.err
	}
	return a.pass(text)
}

// pass reads one steep.
func (a *amounts) pass(text string) (trials.Pass, error) {
	t, err := quantity.ParsePass(text, a.options)
	if err != nil {
		return trials.Pass{}, err
	}
	a.assume(t.Assumptions)
	if t.Separation == "" {
		// what is done where nobody says more
		t.Separation = trials.SeparationDrained
		a.said("the liquid drained off, since nothing says squeezed or pressed")
	}
	p := trials.Pass{VolumeL: t.VolumeL.Value, VolumeTempC: t.VolumeTempC, StartC: t.StartC, EndC: t.EndC,
		Minutes: t.Minutes, Agitation: t.Agitation, InBag: t.InBag, Separation: t.Separation,
		RecoveredL: valueOf(t.RecoveredL), HeldL: valueOf(t.HeldL), SpentG: valueOf(t.SpentG),
		TeaSG: valueOf(t.TeaSG), TeaBrix: valueOf(t.TeaBrix), WaterSG: valueOf(t.WaterSG), TeaPH: valueOf(t.TeaPH),
		Efficiency: t.Efficiency}
	if t.TeaSG != nil && t.TeaSG.HasLimit {
		p.TeaSGLimit = &t.TeaSG.HalfWidth
	}
	p.Curve = trials.CurveText(t.Curve)
	return p, nil
}

// valueOf is an optional amount without its limit.
func valueOf(l *figure.Limited) *float64 {
	if l == nil {
		return nil
	}
	return &l.Value
}

// materialMass reads a mass; spoons count where the material's spoon weight is
// known.
func (e *env) materialMass(n *trials.Notebook, key, form, text string) (float64, error) {
	materials, err := n.Catalogue()
	if err != nil {
		return 0, err
	}
	a := e.amounts()
	if a.err != nil {
		return 0, a.err
	}
	// of a material that is not known grams can still be weighed, only spoons cannot be counted
	if m, err := materials.Find(key); err == nil {
		a.options.Spoons = spoonsOf(materials, m, form)
	}
	return a.mass(corrected(text))
}

func newExtractNew(e *env) *cobra.Command {
	var o extractOptions
	c := &cobra.Command{
		Use:   "new NAME MATERIAL MASS",
		Short: "Start a tea, cold infusion or tincture",
		Example: `  hedgerow extract new tea-1 heather 40g --form cut --as tea
  hedgerow extract new nib-drops cacao-nib 30g --form crushed --as tincture --strength 50% ` +
			`--pass "150mL 20C 5d still drained"`,
		Args: exactly("NAME", "MATERIAL", "MASS"),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.writing()
			if err != nil {
				return err
			}
			x, err := e.newExtractRecord(n, args[0], args[1])
			if err != nil {
				return err
			}
			if err := o.speak(e); err != nil {
				return err
			}
			o.mass = args[2]
			if o.as == "" {
				o.as = trials.MethodTea
			}
			if x.MadeAt, err = e.parseWhen(o.at, time.Time{}); err != nil {
				return err
			}
			if err := o.apply(e, n, &x); err != nil {
				return err
			}
			if err := e.checkExtract(n, x); err != nil {
				return err
			}
			if err := e.save("make extract "+x.Name, &x); err != nil {
				return err
			}
			e.caution(n.EntryCautions(x.Handling()))
			if err := e.saved(x, "made %s: %s", x.Name, wording.ExtractSentence(x, e.style())); err != nil {
				return err
			}
			if len(x.Passes) == 0 {
				e.next(`hedgerow extract pass %s "400mL 96C>60C 30min drained"`, x.Name)
			} else {
				e.next("hedgerow addition add BATCH %s", x.Name)
			}
			return nil
		},
	}
	o.flags(c)
	return c
}

// newExtractRecord starts an extract of a known material under a free name.
func (e *env) newExtractRecord(n *trials.Notebook, name, material string) (trials.Extract, error) {
	x := trials.Extract{Record: trials.Record{Name: name}, MadeAt: e.now().UTC()}
	if err := trials.CheckName("extract", name); err != nil {
		return x, err
	}
	m, err := n.Material(material)
	x.MaterialKey = m.Key
	return x, err
}

// checkExtract runs the steep once so that what cannot be is refused before
// anything is written.
func (e *env) checkExtract(n *trials.Notebook, x trials.Extract) error {
	if len(x.Passes) == 0 {
		return nil
	}
	materials, err := n.Catalogue()
	if err != nil {
		return err
	}
	y, err := steeps.OfExtract(n, materials, x)
	e.warn(y.Warnings...)
	return err
}

func newExtractPass(e *env) *cobra.Command {
	var at string
	c := &cobra.Command{
		Use:   "pass EXTRACT PASS",
		Short: "Log one more steep of the same material",
		Long: `Log one more steep of the same material. What was measured of its liquid goes into
it: recovered=, held=, spent=, ph=, and sg=1.006+-0.0005 (with water-sg= for plain
water by the same hydrometer) or brix=1.5, which move the dose of the water class and
teach what the next tea of the lot gives. What was poured before it ended stays as
it was. --at says when its liquid came out: "2026-03-05 18:30", "2h ago", or "day 1"
of the extract. Without it the pass comes directly after the one before it, and
after all that was poured by now.`,
		Example: `  hedgerow extract pass tea-1 "250mL 95C>80C 20min drained" --at "2026-03-05 18:30"
  hedgerow extract pass tea-1 "300mL 95C>70C 15min squeezed recovered=280mL"`,
		Args:              exactly("EXTRACT", "PASS"),
		ValidArgsFunction: e.completing(extractNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.writing()
			if err != nil {
				return err
			}
			x, err := n.Extract(args[0])
			if err != nil {
				return err
			}
			p, err := e.pass(args[1])
			if err != nil {
				return err
			}
			if err := e.datePass(n, x, &p, at); err != nil {
				return err
			}
			x.Passes = append(slices.Clone(x.Passes), p)
			if err := e.saveExtract(n, x, fmt.Sprintf("pass %d of %s", len(x.Passes), x.Name)); err != nil {
				return err
			}
			if err := e.saved(x, "%s is now %s", x.Name, wording.ExtractSentence(x, e.style())); err != nil {
				return err
			}
			e.next("hedgerow extract show %s", x.Name)
			return nil
		},
	}
	c.Flags().StringVar(&at, "at", "", "when its liquid came out")
	return c
}

func newExtractList(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "list",
		Short:   "List the extracts",
		Example: "  hedgerow extract list",
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) error {
			n, err := e.reading()
			if err != nil {
				return err
			}
			return e.list(report.ExtractList(n, e.style()), len(n.Extracts),
				"hedgerow extract show NAME, or hedgerow addition add BATCH NAME --pour 200mL")
		},
	}
}

func newExtractEdit(e *env) *cobra.Command {
	var o extractOptions
	var replace int
	var ended string
	c := &cobra.Command{
		Use:   "edit EXTRACT",
		Short: "Correct an extract or one of its passes",
		Long: `Correct an extract; every batch it went into changes with it. --pass adds a pass
unless --replace says which one it takes the place of, under its time; --ended says
when its liquid came out. What was poured after a corrected pass changes, and the
answer says from how much to how much.`,
		Example: `  hedgerow extract edit tea-1 --mass 42g
  hedgerow extract edit tea-1 --replace 1 --pass "400mL 96C>60C 35min drained"`,
		Args:              exactly("EXTRACT"),
		ValidArgsFunction: e.completing(extractNames),
		RunE: func(c *cobra.Command, args []string) error {
			if err := somethingToEdit(c); err != nil {
				return err
			}
			return e.runExtractEdit(o, args[0], replace, ended)
		},
	}
	o.flags(c)
	c.Flags().StringVar(&o.mass, "mass", "", "material as weighed")
	c.Flags().StringVar(&ended, "ended", "", "with --replace: when the liquid of that pass came out")
	c.Flags().IntVar(&replace, "replace", 0, "number of the pass that --pass replaces")
	return c
}

// runExtractEdit writes the corrections of an extract.
func (e *env) runExtractEdit(o extractOptions, name string, replace int, ended string) error {
	n, err := e.writing()
	if err != nil {
		return err
	}
	x, err := n.Extract(name)
	if err != nil {
		return err
	}
	if err := o.speak(e); err != nil {
		return err
	}
	switch {
	case replace < 0 || replace == 0 && ended != "":
		return trials.Refuse("add --replace 1 for the first pass", "it is not said which pass is meant")
	case replace > 0:
		if err := e.replacePass(&x, replace, o.passes, ended); err != nil {
			return err
		}
		// taken already: apply below would add it once more at the end
		o.passes = nil
	}
	if err := e.moveExtract(&x, o.at); err != nil {
		return err
	}
	old := len(x.Passes)
	x.Passes = slices.Clone(x.Passes) // the notebook's own stay as they were
	if err := o.apply(e, n, &x); err != nil {
		return err
	}
	for i := old; i < len(x.Passes); i++ {
		if err := e.datePass(n, x, &x.Passes[i], ""); err != nil {
			return err
		}
	}
	if err := e.saveExtract(n, x, "edit extract "+x.Name); err != nil {
		return err
	}
	return e.saved(x, "%s is now %s", x.Name, wording.ExtractSentence(x, e.style()))
}
