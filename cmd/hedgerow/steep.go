package main

import (
	"slices"
	"strings"

	"hedgerow/report"
	"hedgerow/trials"
	"hedgerow/trials/quantity"

	"github.com/spf13/cobra"
)

// steepOptions are the figures of a steep as typed.
type steepOptions struct {
	mass, moisture, form, class, as, strength, into, pour, minutes, temp, material, agitation string
	passes                                                                                    []string
	bag, explain                                                                              bool
}

func newSteep(e *env) *cobra.Command {
	var o steepOptions
	c := &cobra.Command{
		Use:   "steep",
		Short: "Work out what a steep gives and the effective dose it comes to",
		Long: `Work out the passes of a steep: liquid out, liquid held, yield, how near to
equilibrium, and the effective dose in the beer with its interval. Nothing is
stored. A material put in itself takes --as and --time in place of --pass.`,
		Example: `  hedgerow steep --mass 28g --moisture 10% --form crushed --class water --pass "400mL 96C>80C 30min stirred drained" --pass "400mL 96C>80C 30min stirred squeezed" --into 19L
  hedgerow steep --material heather --mass 40g --form cut --as contact --time 5d --into 12L`,
		Args: exactly(),
		RunE: func(*cobra.Command, []string) error {
			q, class, err := o.request(e)
			if err != nil {
				return err
			}
			materials, err := e.materials()
			if err != nil {
				return err
			}
			a, err := q.Steep(materials)
			if err != nil {
				return err
			}
			return e.show(report.Steep(a, report.SteepStyle{Class: class, Explain: o.explain, Units: e.style()}))
		},
	}
	f := c.Flags()
	f.StringVar(&o.mass, "mass", "", "material as weighed")
	f.StringVar(&o.material, "material", "", "material, for its moisture and hardness")
	f.StringVar(&o.moisture, "moisture", "", "share of water, such as 10%")
	f.StringVar(&o.form, "form", "", "whole, cut, crushed, powder, fresh, fresh-cut, frozen, zest, puree or juice")
	f.StringVar(&o.class, "class", "", "water, aroma or resin; all if left out")
	f.StringVar(&o.as, "as", "", "how it goes in: tea (the default with --pass), cold-tea, tincture, boil, flame-out, contact, puree or juice")
	f.StringVar(&o.strength, "strength", "", "strength of the spirit of a tincture")
	f.StringArrayVar(&o.passes, "pass", nil, passHelp)
	f.StringVar(&o.into, "into", "", "beer that it goes into, such as 19L")
	f.StringVar(&o.pour, "pour", "", "how much of the extract goes in; all if left out")
	f.StringVar(&o.minutes, "time", "", "how long a material put in itself is in")
	f.StringVar(&o.temp, "temp", "", "its temperature, such as 18C or 98C>92C")
	f.StringVar(&o.agitation, "agitation", "", "boiling, stirred, now-and-then or still")
	f.BoolVar(&o.bag, "bag", false, "in a bag or sock")
	f.BoolVar(&o.explain, "explain", false, "show formula and every input with its origin")
	return c
}

// request reads the figures; class is the index of the solute class, -1 for all.
func (o steepOptions) request(e *env) (q trials.SteepRequest, class int, err error) {
	for _, need := range []struct{ flag, text, example string }{{"mass", o.mass, "28g"}, {"form", o.form, "cut"}, {"into", o.into, "19L"}} {
		if need.text == "" {
			return q, 0, trials.Refuse("add --"+need.flag+" "+need.example, "--%s is missing", need.flag)
		}
	}
	if class, err = classNamed(o.class); err != nil {
		return q, 0, err
	}
	options, err := e.calculatorOptions()
	if err != nil {
		return q, 0, err
	}
	a := &amounts{options: options}
	q = trials.SteepRequest{Material: o.material, Form: o.form, Method: o.as, InBag: o.bag, Agitation: o.agitation}
	if q.Method == "" {
		q.Method = trials.MethodTea
	}
	a.must(&q.MassG, "mass", o.mass, a.mass)
	a.must(&q.IntoL, "into", o.into, a.volume)
	a.set(&q.MoisturePct, "moisture", o.moisture, a.percent)
	a.set(&q.SpiritPct, "strength", o.strength, a.percent)
	a.set(&q.AddedL, "pour", o.pour, a.volume)
	a.set(&q.Minutes, "time", o.minutes, a.minutes)
	if a.err != nil {
		return q, 0, a.err
	}
	if o.temp != "" {
		span, err := quantity.ParseTempSpan(o.temp)
		if err != nil {
			return q, 0, inFlag("temp", err)
		}
		q.StartC, q.EndC = &span.StartC, span.EndC
	}
	return q, class, o.readPasses(options, &q)
}

// readPasses reads the passes of an extract.
func (o steepOptions) readPasses(options quantity.Options, q *trials.SteepRequest) error {
	for _, text := range o.passes {
		p, err := parsePass(text, options)
		if err != nil {
			return inFlag("pass", err)
		}
		q.Passes = append(q.Passes, p)
	}
	if q.Method == trials.MethodTincture && q.SpiritPct == nil {
		return trials.Refuse("add --strength 40%", "a tincture needs the strength of its spirit")
	}
	if needsPasses(q.Method) && len(q.Passes) == 0 {
		return trials.Refuse(`add --pass "400mL 96C>60C 30min drained"`, "a %s needs at least one pass", q.Method)
	}
	return nil
}

// classNamed reads a solute class.
func classNamed(word string) (int, error) {
	if word == "" {
		return -1, nil
	}
	if i := slices.Index(trials.ClassNames[:], word); i >= 0 {
		return i, nil
	}
	hint := "choose one of " + strings.Join(trials.ClassNames[:], ", ")
	if near := trials.Nearest(word, trials.ClassNames[:]); len(near) > 0 {
		hint = "did you mean " + near[0] + "?"
	}
	return 0, trials.Refuse(hint, "unknown solute class %q", word)
}
