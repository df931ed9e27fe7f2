package main

import (
	"strings"

	"hedgerow/report/standing"
	"hedgerow/trials"

	"github.com/spf13/cobra"
)

func newRecipe(e *env) *cobra.Command {
	var volume string
	c := &cobra.Command{
		Use:   "recipe BATCH",
		Short: "Print what was done with a batch as a recipe, for any volume",
		Long: `Print what was done with a batch as a recipe that can be followed again: the beer,
each steep pass by pass, what went in on which day, and what it read. --volume scales
it, from a jar to a whole brew. Losses are left out. Nothing is stored.`,
		Example: `  hedgerow recipe heather-3
  hedgerow recipe heather-3 --volume 20L`,
		Args:              exactly("BATCH"),
		ValidArgsFunction: e.completing(batchNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.reading()
			if err != nil {
				return err
			}
			b, err := n.Batch(args[0])
			if err != nil {
				return err
			}
			volumeL := 0.0
			a := e.amounts()
			a.must(&volumeL, "volume", volume, a.volume)
			if a.err != nil {
				return a.err
			}
			if err := e.show(standing.Recipe(n, b, volumeL, e.style())); err != nil {
				return err
			}
			e.next("hedgerow batch new NAME --volume .. --og .., then log each step as it is done")
			return nil
		},
	}
	c.Flags().StringVar(&volume, "volume", "", "beer it is made for, such as 20L; what was made if left out")
	return c
}

func newFind(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "find WORD...",
		Short: "Find records by words in names, notes, materials, lots and tasters",
		Long: `Find the records in which every word stands, in a name, a note, a material, a lot or
what a taster wrote. A part of a word will do; capital letters do not count.`,
		Example: `  hedgerow find heather
  hedgerow find trub heather-3`,
		Args: atLeast("WORD"),
		RunE: func(_ *cobra.Command, args []string) error {
			if strings.TrimSpace(strings.Join(args, "")) == "" {
				return trials.Refuse("hedgerow find heather", "the word is empty")
			}
			n, err := e.readingScores()
			if err != nil {
				return err
			}
			if err := e.show(standing.Find(n, args, e.style())); err != nil {
				return err
			}
			e.next("--wide names the command that shows each")
			return nil
		},
	}
}
