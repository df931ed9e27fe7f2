package main

import (
	"strings"

	"github.com/spf13/cobra"
)

func newUndo(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "undo",
		Short:   "Take back the last write",
		Long:    "Take back the last write to the notebook. A second undo brings back what the first took away.",
		Example: "  hedgerow undo",
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) error {
			s, err := e.store(true)
			if err != nil {
				return err
			}
			// not by way of a write begun here: undo picks the last write inside its own transaction
			what, err := s.Undo(e.ctx)
			if err != nil {
				return err
			}
			return e.saved(map[string]string{"undone": what}, "%s", undone(what))
		},
	}
}

// undone says what taking a write back came to. An undo is a write too, so that
// taking back what was taken back puts it back, and so on by turns.
func undone(what string) string {
	const undo = "undo of: "
	verb := "took back"
	for strings.HasPrefix(what, undo) {
		what = strings.TrimPrefix(what, undo)
		if verb == "took back" {
			verb = "put back"
		} else {
			verb = "took back"
		}
	}
	return verb + ": " + what
}
