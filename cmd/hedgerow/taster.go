package main

import (
	"hedgerow/report"
	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
)

// newTaster makes the taster commands.
func newTaster(e *env) *cobra.Command {
	c := group(&cobra.Command{Use: "taster", Short: "The tasters: add, list, rename, merge, delete"})
	c.AddCommand(newTasterList(e), newTasterAdd(e), newTasterRename(e), newTasterMerge(e), newTasterDelete(e))
	return c
}

func newTasterList(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "list",
		Short:   "List the tasters and how much each has scored",
		Example: "  hedgerow taster list",
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) error {
			n, err := e.readingScores()
			if err != nil {
				return err
			}
			return e.list(report.TasterList(n), len(n.Tasters), "hedgerow taster rename OLD NEW")
		},
	}
}

func newTasterRename(e *env) *cobra.Command {
	return &cobra.Command{
		Use:               "rename OLD NEW",
		Short:             "Give a taster another name",
		Example:           `  hedgerow taster rename "Taster A" A`,
		Args:              exactly("OLD", "NEW"),
		ValidArgsFunction: e.completing(tasterNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.writing()
			if err != nil {
				return err
			}
			t, err := n.Taster(args[0])
			if err != nil {
				return err
			}
			if t.Name, err = trials.TasterName(args[1]); err != nil {
				return err
			}
			if err := e.save("rename taster "+args[0], &t); err != nil {
				return err
			}
			return e.saved(t, "%s is now %s", args[0], t.Name)
		},
	}
}

func newTasterMerge(e *env) *cobra.Command {
	var yes bool
	c := &cobra.Command{
		Use:   "merge FROM INTO",
		Short: "Join two names of one person",
		Long: `Give all scores of FROM to INTO and drop the name FROM. Where both scored the
same attribute of the same serving, the score of INTO stays.`,
		Example:           `  hedgerow taster merge "Taster F" "Taster A" --yes`,
		Args:              exactly("FROM", "INTO"),
		ValidArgsFunction: e.completing(tasterNames),
		RunE: func(_ *cobra.Command, args []string) error {
			// asked before the write begins, and found anew after it: a person may take an hour to answer
			if err := e.askToMerge(args[0], args[1], yes); err != nil {
				return err
			}
			n, err := e.writingScores()
			if err != nil {
				return err
			}
			from, into, err := twoTasters(n, args[0], args[1])
			if err != nil {
				return err
			}
			m := n.MergeTasters(from, into)
			err = e.write("merge taster "+from.Name+" into "+into.Name, func(tx *store.Tx) error { return tx.MergeTasters(m) })
			if err != nil {
				return err
			}
			return e.saved(into, "moved %s to %s, left %d that both had given", document.Count(len(m.Moved), "score"),
				into.Name, len(m.Dropped))
		},
	}
	c.Flags().BoolVar(&yes, "yes", false, "do not ask")
	return c
}

// askToMerge asks whether two names are one person, unless yes says so already.
func (e *env) askToMerge(from, into string, yes bool) error {
	if yes {
		return nil
	}
	n, err := e.reading()
	if err != nil {
		return err
	}
	a, b, err := twoTasters(n, from, into)
	if err != nil {
		return err
	}
	return e.confirm("Give all scores of "+a.Name+" to "+b.Name+"?", yes)
}

// twoTasters finds two tasters who are not the same.
func twoTasters(n *trials.Notebook, from, into string) (a, b trials.Taster, err error) {
	if a, err = n.Taster(from); err != nil {
		return a, b, err
	}
	if b, err = n.Taster(into); err != nil {
		return a, b, err
	}
	if a.ID == b.ID {
		return a, b, trials.Refuse("name two tasters", "%s is one taster", a.Name)
	}
	return a, b, nil
}
