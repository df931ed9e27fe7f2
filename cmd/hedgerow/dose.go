package main

import (
	"hedgerow/report"
	"hedgerow/trials"
	"hedgerow/trials/quantity"

	"github.com/spf13/cobra"
)

func newDose(e *env) *cobra.Command {
	var material, form string
	c := &cobra.Command{
		Use:   "dose CLAIM",
		Short: "Turn a claim as written into grams per litre",
		Long: `Turn a claim such as "3/4 oz per 5 gal" into grams per litre and say what had to
be assumed. Spoons need --material, whose spoon weight must be known. Nothing is
stored; keep it with hedgerow claim add.`,
		Example: `  hedgerow dose "3/4 oz per 5 gal"
  hedgerow dose "half a teaspoon per gallon" --material coriander-seed`,
		Args: exactly("CLAIM"),
		RunE: func(_ *cobra.Command, args []string) error {
			d, err := e.readDose(args[0], material, form)
			if err != nil {
				return err
			}
			return e.show(report.Dose(d, e.style()))
		},
	}
	c.Flags().StringVar(&material, "material", "", "material, for its spoon weight")
	c.Flags().StringVar(&form, "form", "", "its form: whole, cut, crushed, powder ...")
	return c
}

// readDose reads a claim, with the spoon weight of a material if one is named.
func (e *env) readDose(text, material, form string) (quantity.Dose, error) {
	options, err := e.calculatorOptions()
	if err != nil {
		return quantity.Dose{}, err
	}
	if material != "" {
		n := &trials.Notebook{}
		// own materials count too, but a calculator makes no notebook to look for them
		if !e.noNotebook() {
			if n, err = e.reading(); err != nil {
				return quantity.Dose{}, err
			}
		}
		materials, err := n.Catalogue()
		if err != nil {
			return quantity.Dose{}, err
		}
		m, err := materials.Find(material)
		if err != nil {
			return quantity.Dose{}, err
		}
		options.Spoons = spoonsOf(materials, m, form)
	}
	return quantity.ParseDose(text, options)
}

// spoonsOf is what spoons of a material in a form weigh, as far as that is known.
func spoonsOf(materials trials.Materials, m trials.Material, form string) quantity.SpoonWeights {
	tsp, tbsp, _ := materials.SpoonWeight(m, form)
	return quantity.SpoonWeights{Material: m.Key, GramsPerTsp: tsp, GramsPerTbsp: tbsp}
}
