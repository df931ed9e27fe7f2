package main

import (
	"fmt"
	"runtime"

	"hedgerow/report/document"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
)

// programVersion is the version of hedgerow.
const programVersion = "0.1.0"

func newVersion(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "version",
		Short:   "Print the versions of the program and of the notebook it writes",
		Example: "  hedgerow version",
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) error {
			if e.flags.json {
				return document.WriteJSON(e.stdout, map[string]any{"hedgerow": programVersion,
					"notebook": store.Latest(), "go": runtime.Version()})
			}
			_, err := fmt.Fprintln(e.stdout, versionLine())
			return err
		},
	}
}

// versionLine is the versions in one line.
func versionLine() string {
	return fmt.Sprintf("hedgerow %s, notebook version %d, %s", programVersion, store.Latest(), runtime.Version())
}
