package main

import (
	"hedgerow/report"

	"github.com/spf13/cobra"
)

func newVerify(e *env) *cobra.Command {
	var file string
	var list bool
	c := &cobra.Command{
		Use:   "verify",
		Short: "Check the arithmetic against outside values on this machine",
		Long: `Run values from outside through the same functions that the commands use and say
how many hold, by kind (published, computed independently, closed form) and
source by source. It fails if one does not. --list shows every row, --wide what
each is given. With --file the rows of a CSV file are run:
quantity,inputs,expected,unit,tolerance,source. Nothing is stored.`,
		Example: "  hedgerow verify\n  hedgerow verify --list",
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) error {
			run := report.Verify
			if file != "" {
				run = func() (report.Verification, error) { return report.VerifyFile(file) }
			}
			done := e.working("running the check rows")
			v, err := run()
			done()
			if err != nil {
				return err
			}
			if err := e.show(report.VerifyView(v, list)); err != nil {
				return err
			}
			// the rows are on the screen: the exit code is all that is left to say
			if v.Fail > 0 {
				return errSilent
			}
			return nil
		},
	}
	c.Flags().BoolVar(&list, "list", false, "show every row")
	c.Flags().StringVar(&file, "file", "", "rows of your own to check")
	return c
}
