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
	c.AddCommand(newMaterialList(e), newMaterialShow(e), newMaterialAdd(e))
	return c
}

// materials reads the catalogue with the user's own materials, if there are any.
func (e *env) materials() (trials.Materials, error) {
	n := &trials.Notebook{}
	if !e.noNotebook() {
		var err error
		if n, err = e.notebook(false, false); err != nil {
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
			return e.show(report.MaterialList(m, list))
		},
	}
}

func newMaterialShow(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "show MATERIAL",
		Short:   "Show a material: doses, moisture, cautions, limits, sources",
		Example: "  hedgerow material show heather",
		Args:    exactly("MATERIAL"),
		RunE: func(_ *cobra.Command, args []string) error {
			m, err := e.materials()
			if err != nil {
				return err
			}
			x, err := m.Find(args[0])
			if err != nil {
				return err
			}
			return e.show(report.Material(m, x, e.style()))
		},
	}
}

func newMaterialAdd(e *env) *cobra.Command {
	var r trials.OwnMaterial
	var moisture, sugar, spoon string
	c := &cobra.Command{
		Use:   "add NAME",
		Short: "Add a material of your own, or your own figures for a built-in one",
		Example: `  hedgerow material add moor-mix --common "Moor mix" --class aroma --moisture 9%
  hedgerow material add heather --moisture 11% --teaspoon 0.6g`,
		Args: exactly("NAME"),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.notebook(true, false)
			if err != nil {
				return err
			}
			r.Name = args[0]
			for _, old := range n.Materials {
				if old.Name == r.Name {
					r.Record = old.Record
				}
			}
			a := e.amounts()
			a.set(&r.MoisturePct, "moisture", moisture, a.percent)
			a.set(&r.SugarPct, "sugar", sugar, a.percent)
			a.set(&r.GramsPerTsp, "teaspoon", spoon, a.mass)
			if a.err != nil {
				return a.err
			}
			if r.CommonName == "" {
				r.CommonName = r.Name
			}
			if err := r.Validate(); err != nil {
				return err
			}
			if err := e.save("add material "+r.Name, &r); err != nil {
				return err
			}
			e.caution(&trials.Notebook{Materials: append(n.Materials, r)}, r.Name)
			if err := e.saved(r, "added material %s", r.Name); err != nil {
				return err
			}
			e.next("hedgerow material show %s", r.Name)
			return nil
		},
	}
	f := c.Flags()
	f.StringVar(&r.CommonName, "common", "", "what people call it")
	f.StringVar(&r.PartUsed, "part", "", "part of the plant used")
	f.StringVar(&r.Category, "kind", "", "fruit, flower, leaf herb, seed spice, root, bark-wood, peel, tea-coffee-cacao or sweet")
	f.StringVar(&r.Class, "class", "", "what counts most in it: water (acid, colour, tannin, sugar), aroma or resin")
	f.BoolVar(&r.HardWhole, "hard", false, "whole pieces are hard: berries, seeds, roots, wood")
	f.StringVar(&moisture, "moisture", "", "share of water as bought, such as 9%")
	f.StringVar(&sugar, "sugar", "", "share of sugar as bought")
	f.StringVar(&spoon, "teaspoon", "", "weight of a level teaspoon, such as 1.8g")
	f.StringVar(&r.Note, "note", "", "a remark")
	return c
}
