package main

import (
	"hedgerow/trials"
	"hedgerow/trials/planning"

	"github.com/spf13/cobra"
)

// newDelete makes a command that deletes one record of a kind by its name, after
// asking; what hangs on it is named.
func newDelete(e *env, kind, example string, complete func(*trials.Notebook) []string,
	find func(n *trials.Notebook, name string) (any, error)) *cobra.Command {
	var yes bool
	c := &cobra.Command{
		Use:   "delete NAME",
		Short: "Delete " + kind,
		Long: "Delete " + kind + ". What hangs on it is named first; where other records rest on\n" +
			"it, it stays. `hedgerow undo` brings it back.",
		Example:           "  hedgerow " + example + " --yes",
		Args:              exactly("NAME"),
		ValidArgsFunction: e.completing(complete),
		RunE: func(c *cobra.Command, args []string) error {
			named := func(n *trials.Notebook) (any, string, error) {
				record, err := find(n, args[0])
				return record, c.Parent().Name() + " " + args[0], err
			}
			return e.remove(named, "", yes)
		},
	}
	c.Flags().BoolVar(&yes, "yes", false, "do not ask")
	return c
}

func newClaimDelete(e *env) *cobra.Command {
	return newDelete(e, "a claim", "claim delete heather.c1", claimNames,
		func(n *trials.Notebook, name string) (any, error) { return n.Claim(name) })
}

func newReadingDelete(e *env) *cobra.Command {
	return newDelete(e, "a reading", "reading delete heather-3.r1", readingNames,
		func(n *trials.Notebook, name string) (any, error) { return n.Reading(name) })
}

func newExtractDelete(e *env) *cobra.Command {
	return newDelete(e, "an extract that was not poured", "extract delete tea-2", extractNames,
		func(n *trials.Notebook, name string) (any, error) { return n.Extract(name) })
}

func newMaterialDelete(e *env) *cobra.Command {
	return newDelete(e, "a material of your own, or your figures for a built-in one", "material delete moor-mix",
		ownMaterialNames, func(n *trials.Notebook, name string) (any, error) { return n.OwnMaterial(name) })
}

func newTasterDelete(e *env) *cobra.Command {
	return newDelete(e, "a taster who has not scored", `taster delete "Taster Z"`, tasterNames,
		func(n *trials.Notebook, name string) (any, error) { return n.Taster(name) })
}

func newTastingDelete(e *env) *cobra.Command {
	return newDelete(e, "a tasting with its servings and scores", "tasting delete club-night", tastingNames,
		func(n *trials.Notebook, name string) (any, error) { return n.Tasting(name) })
}

func newPlanDelete(e *env) *cobra.Command {
	return newDelete(e, "a plan; what was recorded with it stays", "plan delete bench-1", planNames,
		func(n *trials.Notebook, name string) (any, error) { return planning.Plan(n, name) })
}

// claimNames lists claims for completion.
func claimNames(n *trials.Notebook) []string {
	return names(n.Claims, func(c trials.Claim) string { return c.Name })
}

// ownMaterialNames lists the user's materials for completion.
func ownMaterialNames(n *trials.Notebook) []string {
	return names(n.Materials, func(m trials.OwnMaterial) string { return m.Name })
}
