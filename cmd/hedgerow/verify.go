package main

import (
	"hedgerow/report"

	"github.com/spf13/cobra"
)

func newVerify(e *env) *cobra.Command {
	var file string
	c := &cobra.Command{
		Use:   "verify",
		Short: "Check the arithmetic against published values on this machine",
		Long: `Run published values through the same functions that the commands use and say,
source by source, how many hold. It fails if one does not. With --file the rows
of a CSV file are run: quantity,inputs,expected,unit,tolerance,source.`,
		Example: "  hedgerow verify",
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
			if err := e.show(report.VerifyView(v)); err != nil {
				return err
			}
			if v.Fail > 0 {
				return errSilent
			}
			return nil
		},
	}
	c.Flags().StringVar(&file, "file", "", "rows of your own to check")
	return c
}
