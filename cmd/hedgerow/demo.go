package main

import (
	"embed"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"hedgerow/report"
	"hedgerow/report/decisions"
	"hedgerow/report/studies"
	"hedgerow/trials"
	"hedgerow/trials/ledger"

	"github.com/spf13/cobra"
)

//go:embed demo
var demoFiles embed.FS

// The trial and the material that the demo shows.
const demoTrial, demoMaterial = "hib-short", "hibiscus"

func newDemo(e *env) *cobra.Command {
	var into string
	var script bool
	c := &cobra.Command{
		Use:   "demo",
		Short: "Load a finished, invented series and show what hedgerow makes of it",
		Long: `Load an invented series (dried hibiscus in a wheat saison) into a notebook of its
own, then tell on one page the answer it comes to and how. Your own notebook is not
touched. --script prints the commands that made the series; --json has the ledger of
one trial, the comparison and the suggestion whole.`,
		Example: "  hedgerow demo",
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) error {
			if script {
				text, err := demoFiles.ReadFile("demo/series.txt")
				if err == nil {
					_, err = e.stdout.Write(text)
				}
				return err
			}
			// passed over, it would leave a notebook where nobody looks for it
			if e.flags.db != "" && into == "" {
				return trials.Refuse("name its file with: hedgerow demo --into "+e.flags.db,
					"the demo makes a notebook of its own, and not in --db %q", e.flags.db)
			}
			return e.runDemo(into)
		},
	}
	c.Flags().StringVar(&into, "into", "", "file for the demo notebook; a new one in the temporary folder if left out")
	c.Flags().BoolVar(&script, "script", false, "print the commands that made the series")
	return c
}

// runDemo makes the demo notebook and shows what can be seen in it.
func (e *env) runDemo(path string) error {
	if path == "" {
		dir, err := os.MkdirTemp(e.getenv("TMPDIR"), "hedgerow-demo-")
		if err != nil {
			return fmt.Errorf("make a folder for the demo: %w", err)
		}
		path = filepath.Join(dir, "demo.db")
	} else if _, err := os.Stat(path); err == nil {
		return trials.Refuse("name a file that is not there yet", "%s is there already", path)
	}
	done := e.working("loading the invented series")
	err := e.loadDemo(path)
	done()
	if err != nil {
		return err
	}
	e.done = true
	// from here on the commands below are as the reader would type them with --db
	e.flags.db = path
	n, set, err := e.trialSet(demoMaterial)
	if err != nil {
		return err
	}
	b, err := n.Batch(demoTrial)
	if err != nil {
		return err
	}
	ledger, err := ledger.Of(n, b)
	if err != nil {
		return err
	}
	compared, attribute, err := studies.ForTaste(set, "", "")
	if err != nil {
		return err
	}
	suggestion, err := decisions.Suggest(n, set, decisions.SuggestRequest{VolumeL: 10, Pictures: e.draws(),
		Units: e.style()})
	if err != nil {
		return err
	}
	return e.show(report.Demo(path, attribute, compared, report.DemoViews{Ledger: report.Ledger(n, ledger, e.style()),
		Comparison: decisions.Comparison(n, compared, attribute, e.style()), Suggestion: suggestion}, e.style()))
}

// loadDemo types the commands of the demo into a notebook at path.
func (e *env) loadDemo(path string) error {
	text, err := demoFiles.ReadFile("demo/series.txt")
	if err != nil {
		return err
	}
	for number, line := range strings.Split(string(text), "\n") {
		words, stdin := splitCommand(line)
		if len(words) == 0 {
			continue
		}
		var in io.Reader = strings.NewReader("")
		if stdin != "" {
			f, err := demoFiles.Open("demo/" + stdin)
			if err != nil {
				return err
			}
			defer f.Close()
			in = f
		}
		var said strings.Builder
		// each line in surroundings of its own, as if typed: flags and an open notebook must not carry over
		inner := &env{ctx: e.ctx, stdin: in, stdout: io.Discard, stderr: &said, getenv: e.getenv, now: e.now,
			unread: true}
		if code := run(inner, append([]string{"--db", path, "--quiet"}, words...)); code != exitDone {
			return fmt.Errorf("demo line %d: %s", number+1, strings.TrimSpace(said.String()))
		}
	}
	return nil
}

// splitCommand splits a line of the demo into words; double quotes hold words
// together, "< file" names standard input, # begins a comment line.
func splitCommand(line string) (words []string, stdin string) {
	line = strings.TrimSpace(line)
	if strings.HasPrefix(line, "#") {
		return nil, ""
	}
	line, stdin, _ = strings.Cut(line, " < ")
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			words = append(words, part)
			continue
		}
		words = append(words, strings.Fields(part)...)
	}
	return words, strings.TrimSpace(stdin)
}
