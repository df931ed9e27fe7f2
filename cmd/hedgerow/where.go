package main

import (
	"fmt"
	"os"

	"hedgerow/report/document"
	"hedgerow/report/standing"

	"github.com/spf13/cobra"
)

func newWhere(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "where",
		Short: "Print where the notebook is",
		Long: `Print the path of the notebook; on standard error its size and what settled the
path: --db, HEDGEROW_DB or your data folder. Nothing is read or made.`,
		Example: "  hedgerow where",
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) error {
			f, err := e.notebookFile()
			if err != nil {
				return err
			}
			if e.flags.json {
				return document.WriteJSON(e.stdout, struct {
					standing.NotebookFile
					Warnings []string `json:"warnings"`
				}{f, []string{}})
			}
			// alone on its line and never wrapped: scripts copy what it names
			if _, err := fmt.Fprintln(e.stdout, f.Path); err != nil {
				return err
			}
			e.say("%s", f.Words())
			return nil
		},
	}
}

// notebookFile looks at the file of the notebook without opening it.
func (e *env) notebookFile() (standing.NotebookFile, error) {
	path, by, err := e.notebookAt()
	if err != nil {
		return standing.NotebookFile{}, err
	}
	f := standing.NotebookFile{Path: path, By: by}
	// what cannot be looked at is told as not there: the path is what was asked for
	if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() {
		f.Bytes = new(info.Size())
	}
	return f, nil
}
