package main

import (
	"fmt"
	"slices"

	"hedgerow/report"
	"hedgerow/report/decisions"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/spelling"
	"hedgerow/trials/steeps"

	"github.com/spf13/cobra"
)

// steepOptions are the figures of a steep as typed.
type steepOptions struct {
	mass, moisture, dryDown, form, class, kind, as, strength, into, pour string
	topUp, minutes, temp, material, agitation                            string
	boilOff, sorption, og, fg, abv                                       string
	passes, methods                                                      []string
	bag, explain, more, compare, gentler                                 bool
}

func newSteep(e *env) *cobra.Command {
	var o steepOptions
	c := &cobra.Command{
		Use:   "steep",
		Short: "Work out what a steep gives, or compare ways of steeping",
		Long: `Work out the passes of a steep: liquid out, liquid held, yield, how near to
equilibrium, and the effective dose in the beer with its interval. Nothing is
stored. A material put in itself takes --as and --time in place of --pass. What
was measured of the liquid goes into the pass: recovered=, held=, spent=, sg= or
brix=.

With --method, twice or more, or --compare the ways of steeping are put side by
side. A method is a name, a colon, what differs from the other flags (method,
form, mass=, pour=, top-up=, strength=, moisture=), and its passes with
semicolons between them.

With --gentler the changes are ranked that give less astringency at the same acid
or aroma (--class says which): places, with how sure they are.`,
		Example: `  hedgerow steep --mass 36g --moisture 10% --form cut --class water --pass "450mL 94C>52C 45min drained" ` +
			`--pass "350mL 94C 20min drained" --pass "250mL 94C 20min squeezed" --into 17L
  hedgerow steep --material heather --mass 40g --form cut --as contact --time 5d --into 12L --more
  hedgerow steep --material heather --mass 36g --form cut --pass "450mL 95C 20min stirred drained" --into 17L --gentler
  hedgerow steep --material heather --mass 40g --form cut --into 12L --og 1.048 --fg 1.010 --compare
  hedgerow steep --mass 36g --moisture 10% --form cut --into 17L ` +
			`--method "jug: tea 450mL 94C>52C 45min drained" --method "sock: contact 20C 5d bag"`,
		Args: exactly(),
		RunE: func(*cobra.Command, []string) error { return e.runSteep(o) },
	}
	o.flags(c)
	return c
}

// flags adds the flags of a steep.
func (o *steepOptions) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&o.mass, "mass", "", "material as weighed")
	f.StringVar(&o.material, "material", "", "material, for its moisture and hardness and what was measured before")
	f.StringVar(&o.moisture, "moisture", "", "share of water, such as 10%")
	f.StringVar(&o.dryDown, "dry-down", "", dryDownHelp)
	f.StringVar(&o.form, "form", "", "whole, cut, crushed, powder, fresh, fresh-cut, frozen, zest, puree or juice")
	f.StringVar(&o.class, "class", "", "water, aroma or resin, or a family of the water class: acid, colour, small, "+
		"tannin; the first three if left out, for a comparison that of the material")
	f.StringVar(&o.kind, "kind", "", "how a material without a name holds liquid: leaf-flower, cone, root, bark, wood, "+
		"seed-whole, seed-crushed, bean, nib, peel, fruit, settled or swelling")
	f.StringVar(&o.as, "as", "", "how it goes in: tea (the default), cold-tea, tincture, boil, flame-out, contact, "+
		"puree or juice")
	f.StringVar(&o.strength, "strength", "", "strength of the spirit of a tincture")
	f.StringArrayVar(&o.passes, "pass", nil, passHelp+`; equilibrium or e=0.7 stands for temperature and time`)
	f.StringArrayVar(&o.methods, "method", nil, methodHelp)
	f.BoolVar(&o.compare, "compare", false, "compare a standard set of methods for this material and mass")
	f.BoolVar(&o.more, "more", false, "show what would get more out")
	f.BoolVar(&o.gentler, "gentler", false, "rank what gives less astringency at the same acid or aroma")
	f.StringVar(&o.into, "into", "", "beer that it goes into, such as 19L")
	f.StringVar(&o.og, "og", "", "original gravity of the beer, to see what added liquid costs in strength")
	f.StringVar(&o.fg, "fg", "", "its final gravity")
	f.StringVar(&o.abv, "abv", "", "its strength in place of gravities, such as 4.8%")
	f.StringVar(&o.pour, "pour", "", "how much of the extract goes in; all if left out")
	f.StringVar(&o.topUp, "top-up", "", "water added to the extract first")
	f.StringVar(&o.minutes, "time", "", "how long a material put in itself is in")
	f.StringVar(&o.temp, "temp", "", "its temperature, such as 18C, 98C>92C or readings 98C@0min,92C@10min")
	f.StringVar(&o.agitation, "agitation", "", "boiling, stirred, now-and-then or still")
	f.StringVar(&o.boilOff, "boil-off", "", "wort boiled off after the material went in")
	f.StringVar(&o.sorption, "sorption", "", "liquid that the solids hold back solute of, mL per g of dry matter; "+
		"for experts")
	f.BoolVar(&o.bag, "bag", false, "in a bag or sock")
	f.BoolVar(&o.explain, "explain", false, "show formula and every input with its origin")
}

// runSteep works out one steep or compares several.
func (e *env) runSteep(o steepOptions) error {
	class, err := classNamed(o.class)
	if err != nil {
		return err
	}
	known, err := e.known(o.material)
	if err != nil {
		return err
	}
	// before anything is worked out: a number, once seen, would be used
	if err := known.mayDose(o.material); err != nil {
		return err
	}
	if o.compare || len(o.methods) > 0 {
		return e.compareSteeps(o, known, class)
	}
	q, err := o.single(e)
	if err != nil {
		return err
	}
	if q, err = known.inform(q); err != nil {
		return err
	}
	if o.gentler {
		ways, wanted, err := q.Gentler(known.materials, class)
		if err != nil {
			return err
		}
		return e.show(report.Gentler(ways, wanted))
	}
	a, err := q.Steep(known.materials)
	if err != nil {
		return err
	}
	style := report.SteepStyle{Class: class, Explain: o.explain, Units: e.style()}
	if o.more {
		if style.More, err = q.Gains(known.materials, known.class(o.material, class)); err != nil {
			return err
		}
	}
	return e.show(report.Steep(a, style))
}

// compareSteeps puts methods side by side.
func (e *env) compareSteeps(o steepOptions, k knowledge, class int) error {
	if err := o.onlyComparing(); err != nil {
		return err
	}
	base, options, err := o.common(e)
	if err != nil {
		return err
	}
	var methods []steeps.NamedSteep
	if o.compare {
		if base.Form == "" {
			return trials.Refuse("add --form cut", "--form is missing")
		}
		if methods, err = steeps.StandardMethods(k.materials, base); err != nil {
			return err
		}
	}
	for _, text := range o.methods {
		m, err := readMethodText(text)
		if err != nil {
			return err
		}
		one, err := m.request(base, e.amountsOf(options))
		if err != nil {
			return err
		}
		methods = append(methods, one)
	}
	for i, m := range methods {
		if methods[i].Steep, err = k.inform(m.Steep); err != nil {
			return err
		}
	}
	c, err := steeps.CompareMethods(k.materials, k.class(o.material, class), methods)
	if err != nil {
		return err
	}
	return e.show(report.Methods(c, e.style()))
}

// onlyComparing refuses flags that belong to a single steep.
func (o steepOptions) onlyComparing() error {
	for _, f := range []struct {
		name  string
		given bool
	}{{"pass", len(o.passes) > 0}, {"as", o.as != ""}, {"time", o.minutes != ""}, {"temp", o.temp != ""},
		{"agitation", o.agitation != ""}, {"bag", o.bag}, {"more", o.more}, {"gentler", o.gentler},
		{"explain", o.explain}} {
		if f.given {
			return trials.Refuse("write it into the --method it belongs to, or leave it out",
				"--%s does not go with a comparison", f.name)
		}
	}
	return nil
}

// classNamed reads a class of a steep; -1 for none.
func classNamed(word string) (int, error) {
	if word == "" {
		return -1, nil
	}
	if i := slices.Index(trials.ClassNames[:], word); i >= 0 {
		return i, nil
	}
	return 0, trials.Refuse(spelling.Hint(word, trials.ClassNames[:]), "unknown solute class %q", word)
}

// knowledge is what is known of the material of a steep: the catalogue, held
// liquid measured before, and own scores of its methods.
type knowledge struct {
	notebook  *trials.Notebook
	materials trials.Materials
	own       []steeps.MethodPotency
}

// known gathers it; without a notebook only the catalogue.
func (e *env) known(material string) (knowledge, error) {
	k := knowledge{notebook: &trials.Notebook{Now: e.now()}}
	var err error
	// a calculator makes no notebook, and without a material nothing was measured of it
	if material == "" || e.noNotebook() {
		k.materials, err = k.notebook.Catalogue()
		return k, err
	}
	if k.notebook, err = e.readingScores(); err != nil {
		return k, err
	}
	if k.materials, err = k.notebook.Catalogue(); err != nil {
		return k, err
	}
	k.own, err = ownPotencies(k.notebook, k.materials, material)
	return k, err
}

// mayDose refuses a material of which no dose is worked out; one that is not
// known is left to the steep.
func (k knowledge) mayDose(material string) error {
	m, err := k.materials.Find(material)
	if err != nil {
		return nil
	}
	return k.materials.CheckDose(m)
}

// ownPotencies is what own scores say about the methods of a material.
func ownPotencies(n *trials.Notebook, materials trials.Materials, material string) ([]steeps.MethodPotency, error) {
	m, err := materials.Find(material)
	if err != nil {
		return nil, err
	}
	s, err := ledger.Gather(n, m)
	if err != nil {
		return nil, fmt.Errorf("read the trials of %s: %w", m.Key, err)
	}
	return decisions.Potencies(decisions.OwnMethods(n, s)), nil
}

// inform adds what is known to a request.
func (k knowledge) inform(q steeps.SteepRequest) (steeps.SteepRequest, error) {
	return steeps.Inform(k.notebook, k.materials, q, k.own)
}

// class is the class asked for, else that of the material, else water.
func (k knowledge) class(material string, asked int) int {
	if asked >= 0 {
		return asked
	}
	if m, err := k.materials.Find(material); err == nil && material != "" {
		return max(slices.Index(trials.ClassNames[:], m.Class), 0)
	}
	return 0
}
