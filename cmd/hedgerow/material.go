package main

import (
	"slices"
	"strings"

	"hedgerow/report"
	"hedgerow/trials"

	"github.com/spf13/cobra"
)

// newMaterial makes the material commands.
func newMaterial(e *env) *cobra.Command {
	c := group(&cobra.Command{Use: "material", Short: "Look up fruit, flowers, herbs and spices; add your own"})
	c.AddCommand(newMaterialList(e), newMaterialShow(e), newMaterialAdd(e), newMaterialEdit(e), newMaterialDelete(e))
	return c
}

// materials reads the catalogue with the user's own materials, if there are any.
func (e *env) materials() (trials.Materials, error) {
	n := &trials.Notebook{}
	if !e.noNotebook() {
		var err error
		if n, err = e.reading(); err != nil {
			return trials.Materials{}, err
		}
	}
	return n.Catalogue()
}

func newMaterialList(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "list [WORD]",
		Short: "List the materials, or those of a kind or name",
		Example: `  hedgerow material list
  hedgerow material list flower`,
		Args: atMost("WORD"),
		RunE: func(_ *cobra.Command, args []string) error {
			m, err := e.materials()
			if err != nil {
				return err
			}
			list := m.All()
			if len(args) == 1 {
				word := strings.ToLower(args[0])
				list = slices.DeleteFunc(list, func(x trials.Material) bool {
					return !strings.Contains(strings.ToLower(x.Key+" "+x.CommonName+" "+x.Category+" "+x.BotanicalName), word)
				})
			}
			return e.list(report.MaterialList(m, list), len(list), "hedgerow material show NAME")
		},
	}
}

func newMaterialShow(e *env) *cobra.Command {
	var explain bool
	c := &cobra.Command{
		Use:   "show MATERIAL",
		Short: "Show a material: doses, moisture, cautions, limits, sources",
		Example: `  hedgerow material show heather
  hedgerow material show heather --explain`,
		Args: exactly("MATERIAL"),
		RunE: func(_ *cobra.Command, args []string) error {
			m, err := e.materials()
			if err != nil {
				return err
			}
			x, err := m.Find(args[0])
			if err != nil {
				return err
			}
			v := report.Material(m, x, e.style())
			if explain {
				v = report.WithAllDefaults(v, x)
			}
			return e.show(v)
		},
	}
	c.Flags().BoolVar(&explain, "explain", false, "show every default of a steep with its grade and source")
	return c
}

// materialOptions are the figures of an own material as typed.
type materialOptions struct {
	trials.OwnMaterial
	moisture, sugar, spoon string
}

// flags adds the figures of an own material to a command.
func (o *materialOptions) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&o.CommonName, "common", "", "what people call it")
	f.StringVar(&o.PartUsed, "part", "", "part of the plant used")
	f.StringVar(&o.Category, "kind", "", "fruit, flower, leaf herb, seed spice, root, bark-wood, peel, "+
		"tea-coffee-cacao or sweet")
	f.StringVar(&o.Class, "class", "", "what counts most in it: water (acid, colour, tannin, sugar), aroma or resin")
	f.BoolVar(&o.HardWhole, "hard", false, "whole pieces are hard: berries, seeds, roots, wood")
	f.StringVar(&o.moisture, "moisture", "", "share of water as bought, such as 9%")
	f.StringVar(&o.sugar, "sugar", "", "share of sugar as bought")
	f.StringVar(&o.spoon, "teaspoon", "", "weight of a level teaspoon, such as 1.8g")
	f.StringVar(&o.Note, "note", "", "a note")
	f.StringVar(&o.Reason, "reason", "", "why a plant of the stop list is kept all the same")
}

func newMaterialAdd(e *env) *cobra.Command {
	var o materialOptions
	c := &cobra.Command{
		Use:   "add NAME",
		Short: "Add a material of your own, or your own figures for a built-in one",
		Long: `Add a material, or your own figures for a built-in one: what you leave out is
taken from it. Repeat the command to correct what you added; "none" takes an
optional value away. A name of the stop list (plants that have no place in a
drink) is refused without --reason, which is kept; no dose of it is worked out.`,
		Example: `  hedgerow material add moor-mix --common "Moor mix" --class aroma --moisture 9%
  hedgerow material add heather --moisture 11% --teaspoon 0.6g`,
		Args: exactly("NAME"),
		RunE: func(c *cobra.Command, args []string) error {
			return e.runMaterialAdd(o, args[0], c.Flags().Changed("hard"))
		},
	}
	o.flags(c)
	return c
}

// runMaterialAdd keeps an own material; hardGiven tells whether hardness was said.
func (e *env) runMaterialAdd(o materialOptions, name string, hardGiven bool) error {
	n, err := e.writing()
	if err != nil {
		return err
	}
	r := ownMaterial(n, name)
	word(&r.CommonName, o.CommonName)
	word(&r.PartUsed, o.PartUsed)
	word(&r.Category, o.Category)
	word(&r.Class, o.Class)
	word(&r.Note, o.Note)
	word(&r.Reason, o.Reason)
	// a flag that is not given is false too, and would undo what was said before
	if hardGiven {
		r.HardWhole = o.HardWhole
	}
	a := e.amounts()
	a.set(&r.MoisturePct, "moisture", o.moisture, a.percent)
	a.set(&r.SugarPct, "sugar", o.sugar, a.percent)
	a.set(&r.GramsPerTsp, "teaspoon", o.spoon, a.mass)
	if a.err != nil {
		return a.err
	}
	if err := checkMaterial(n, r); err != nil {
		return err
	}
	if err := e.save("add material "+r.Name, &r); err != nil {
		return err
	}
	// its cautions may hang on the class just typed, so it has to be in before they are looked up
	n.Materials = append(n.Materials, r)
	e.caution(n.SeriousCautions(r.Name))
	if err := e.saved(r, "added material %s", r.Name); err != nil {
		return err
	}
	e.next("hedgerow material show %s", r.Name)
	return nil
}

// checkMaterial refuses figures that cannot be, and a plant of the stop list
// that comes without a reason.
func checkMaterial(n *trials.Notebook, r trials.OwnMaterial) error {
	if err := r.Validate(); err != nil {
		return err
	}
	materials, err := n.Catalogue()
	if err != nil {
		return err
	}
	return materials.CheckStopList(r)
}

// ownMaterial is the own material of that name as it was added before, or a new
// one. A name that is not built in is also what people call it.
func ownMaterial(n *trials.Notebook, name string) trials.OwnMaterial {
	for _, old := range n.Materials {
		if old.Name == name {
			return old
		}
	}
	r := trials.OwnMaterial{Record: trials.Record{Name: name}}
	if materials, err := n.Catalogue(); err == nil {
		if _, builtIn := materials.Get(name); !builtIn {
			r.CommonName = name
		}
	}
	return r
}
