package main

import (
	"slices"

	"hedgerow/report/standing"
	"hedgerow/trials"

	"github.com/spf13/cobra"
)

func newStatus(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "status",
		Short: "Show where things stand: what is due, what is in which vessel, what is next",
		Long: `Show where things stand: what is due (pull a plant, read a gravity, package,
taste, score), what is left in which vessel and what has gone into it, what was
suggested last for each material, and where the notebook is. hedgerow alone shows
the same. Nothing is fitted or stored.`,
		Example: "  hedgerow status",
		Args:    exactly(),
		RunE:    func(*cobra.Command, []string) error { return e.status() },
	}
}

// status shows where things stand.
func (e *env) status() error {
	f, err := e.notebookFile()
	if err != nil {
		return err
	}
	n, err := e.reading()
	if err != nil {
		return err
	}
	// scores are many: read only where a tasting waits for some
	if slices.ContainsFunc(n.Tastings, func(t trials.Tasting) bool { return standing.Open(n, t) }) {
		if n, err = e.readingScores(); err != nil {
			return err
		}
	}
	view, err := standing.Status(n, f, e.style())
	if err != nil {
		return err
	}
	return e.show(view)
}
