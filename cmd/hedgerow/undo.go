package main

import (
	"context"

	"hedgerow/report"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
)

func newUndo(e *env) *cobra.Command {
	var list bool
	c := &cobra.Command{
		Use:   "undo",
		Short: "Take back the last write; again, the one before it",
		Long: `Take back the last write to the notebook, whole. A second undo takes back the
write before it, and so on through the last 200; hedgerow redo goes forward again
until something new is written. --list shows them.

What was seen cannot be taken back: that the key of a tasting was looked at, or
its pour sheet printed, stays marked.`,
		Example: `  hedgerow undo
  hedgerow undo --list`,
		Args: exactly(),
		RunE: func(*cobra.Command, []string) error {
			switch {
			case e.noNotebook() && list:
				return e.show(report.History(nil))
			case e.noNotebook():
				return store.NothingToUndo()
			}
			// one that was named and is not there is not made to be empty
			s, err := e.store(!list && !e.missing())
			if err != nil {
				return err
			}
			if list {
				writes, err := s.History(e.ctx)
				if err != nil {
					return err
				}
				return e.show(report.History(writes))
			}
			what, err := e.steppingThrough(s, s.Undo)
			if err != nil {
				return err
			}
			e.wrote = true
			return e.saved(map[string]string{"undone": what}, "took back: %s", what)
		},
	}
	c.Flags().BoolVar(&list, "list", false, "show what can be taken back and done again")
	return c
}

func newRedo(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "redo",
		Short:   "Do again what undo took back",
		Long:    "Do again what undo took back last, until something new is written.",
		Example: "  hedgerow redo",
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) error {
			if e.noNotebook() {
				return store.NothingToRedo()
			}
			s, err := e.store(!e.missing())
			if err != nil {
				return err
			}
			what, err := e.steppingThrough(s, s.Redo)
			if err != nil {
				return err
			}
			e.wrote = true
			return e.saved(map[string]string{"redone": what}, "did again: %s", what)
		},
	}
}

// steppingThrough undoes or does again and says which pours that changes.
func (e *env) steppingThrough(s *store.Store, step func(context.Context) (string, error)) (string, error) {
	before, err := s.Notebook(e.ctx)
	if err != nil {
		return "", err
	}
	what, err := step(e.ctx)
	if err != nil {
		return what, err
	}
	// the step is taken: a remark that cannot be made is no reason to say that it failed
	if after, err := s.Notebook(e.ctx); err == nil {
		e.tellPours(before, after, "")
	}
	return what, nil
}
