package main

import "github.com/spf13/cobra"

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
			what, err := s.Undo(e.ctx)
			if err != nil {
				return err
			}
			return e.saved(map[string]string{"undone": what}, "took back: %s", what)
		},
	}
}
