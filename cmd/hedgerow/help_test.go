package main

import (
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// No line of any help is wider than 80 columns, but for examples, which are to be copied
// whole.
func TestHelpFitsEightyColumns(t *testing.T) {
	e := exampleEnv(t.TempDir()+"/n.db", "")
	var visit func(c *cobra.Command)
	visit = func(c *cobra.Command) {
		for _, sub := range c.Commands() {
			visit(sub)
		}
		out := &strings.Builder{}
		c.SetOut(out)
		if err := c.Help(); err != nil {
			t.Fatal(err)
		}
		for line := range strings.SplitSeq(out.String(), "\n") {
			if wide := len([]rune(line)); wide > 80 && !strings.HasPrefix(line, "  hedgerow ") &&
				!strings.Contains(line, "hedgerow completion ") {
				t.Errorf("%s --help has a line of %d: %q", c.CommandPath(), wide, line)
			}
		}
	}
	visit(newRoot(e))
}
