package main

import (
	"bufio"
	"fmt"
	"slices"
	"strings"
	"time"

	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// saved tells what was written: a sentence for people, the record for --json.
func (e *env) saved(record any, format string, args ...any) error {
	e.done = true
	if e.flags.json {
		return document.WriteJSON(e.stdout, struct {
			Saved    any      `json:"saved"`
			Warnings []string `json:"warnings"`
		}{record, append([]string{}, e.warned...)})
	}
	_, err := fmt.Fprintln(e.stdout, document.Wrap(fmt.Sprintf(format, args...), e.pageWidth()))
	return err
}

// list shows a list of so many records and says what to do next with one of them.
func (e *env) list(v document.View, count int, next string) error {
	if err := e.show(v); err != nil {
		return err
	}
	// an empty list says itself what to type first, and a program reads the others
	if count > 0 && !e.flags.csv && !e.flags.markdown && !e.flags.quiet {
		e.sayNext(next)
	}
	return nil
}

// confirm asks before something is taken away. Without a terminal it refuses
// unless --yes was given.
func (e *env) confirm(question string, yes bool) error {
	if yes {
		return nil
	}
	// a script that is asked would hang, or take the next line of its input for an answer
	if !isTerminal(e.stdin) {
		return trials.Refuse("repeat with --yes", "%s Nothing was done, since nobody could be asked", question)
	}
	fmt.Fprintf(e.stderr, "%s [y/N] ", question)
	// an end of the input is no yes
	line, err := bufio.NewReader(e.input()).ReadString('\n')
	if err != nil {
		fmt.Fprintln(e.stderr)
	}
	if answer := strings.ToLower(strings.TrimSpace(line)); answer == "y" || answer == "yes" {
		return nil
	}
	return trials.Refuse("", "nothing was done")
}

// somethingToEdit refuses an edit without a flag of its own, which would write
// what is there already.
func somethingToEdit(c *cobra.Command) error {
	given := false
	c.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) { given = given || f.Changed })
	if !given {
		return trials.Refuse("see "+c.CommandPath()+" --help", "nothing to change is given")
	}
	return nil
}

// editing opens the notebook for an edit that changes something.
func (e *env) editing(c *cobra.Command) (*trials.Notebook, error) {
	if err := somethingToEdit(c); err != nil {
		return nil, err
	}
	return e.writing()
}

// finder finds the record that is to go, and names it.
type finder func(*trials.Notebook) (record any, what string, err error)

// remove deletes the record that find finds after asking; means is what else a
// reader of the question must know. The journal keeps it.
func (e *env) remove(find finder, means string, yes bool) error {
	if err := e.askToRemove(find, means, yes); err != nil {
		return err
	}
	// Found anew: while a person thinks, others may write.
	n, err := e.writingScores()
	if err != nil {
		return err
	}
	record, what, err := find(n)
	if err != nil {
		return err
	}
	hanging := n.HangingOn(record)
	if len(hanging.Holds) > 0 {
		return held(what, hanging)
	}
	if err := e.write("delete "+what, func(tx *store.Tx) error { return tx.Delete(record) }); err != nil {
		return err
	}
	if a, is := record.(trials.Addition); is {
		after := *n
		after.Additions = slices.DeleteFunc(slices.Clone(n.Additions), func(x trials.Addition) bool { return x.ID == a.ID })
		e.tellPours(n, &after, a.ID)
	}
	if len(hanging.Goes) > 0 {
		what += " with " + strings.Join(hanging.Goes, ", ")
	}
	return e.saved(record, "deleted %s; `hedgerow undo` brings it back", what)
}

// held refuses to delete what other records rest on, and names them.
func held(what string, h trials.Hanging) error {
	return trials.Refuse("delete what rests on it first", "%s is still used by other records: %s", what,
		strings.Join(h.Holds, ", "))
}

// askToRemove asks whether what find finds may go, unless yes says so already.
func (e *env) askToRemove(find finder, means string, yes bool) error {
	if yes {
		return nil
	}
	n, err := e.readingScores()
	if err != nil {
		return err
	}
	record, what, err := find(n)
	if err != nil {
		return err
	}
	hanging := n.HangingOn(record)
	switch {
	case len(hanging.Holds) > 0:
		// told before the question: an answer to it would be for nothing
		return held(what, hanging)
	case len(hanging.Goes) > 0:
		means = " With it goes: " + strings.Join(hanging.Goes, ", ") + "." + means
	case len(hanging.Stays) > 0 && means == "":
		means = " Kept: " + strings.Join(hanging.Stays, ", ") + "."
	}
	return e.confirm("Delete "+what+"?"+means, yes)
}

// eventName returns the next free name of an event of a batch, such as
// heather-3.a2.
func eventName(batch string, letter string, taken []string) string {
	highest := 0
	for _, name := range taken {
		if rest, ok := strings.CutPrefix(name, batch+"."+letter); ok {
			// the highest, not how many there are: two records must not get one name after a deletion between
			highest = max(highest, atoi(rest))
		}
	}
	return fmt.Sprintf("%s.%s%d", batch, letter, highest+1)
}

// names collects the names of records.
func names[T any](list []T, name func(T) string) []string {
	out := make([]string, len(list))
	for i, r := range list {
		out[i] = name(r)
	}
	return out
}

// completing offers record names in the shell. It never makes a notebook.
func (e *env) completing(list func(*trials.Notebook) []string) func(*cobra.Command, []string, string) ([]string,
	cobra.ShellCompDirective) {
	return func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		path, err := e.notebookPath()
		// nothing to offer is no fault: the shell would show an error in the midst of typing
		if err != nil || len(args) > 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		s, err := store.Open(e.ctx, path, store.Options{ReadOnly: true, Now: time.Now})
		if err != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		defer s.Close()
		n, err := s.Notebook(e.ctx)
		if err != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return list(n), cobra.ShellCompDirectiveNoFileComp
	}
}

// Lists for completion.
func batchNames(n *trials.Notebook) []string {
	return names(n.Batches, func(b trials.Batch) string { return b.Name })
}

func extractNames(n *trials.Notebook) []string {
	return names(n.Extracts, func(x trials.Extract) string { return x.Name })
}

func additionNames(n *trials.Notebook) []string {
	return names(n.Additions, func(a trials.Addition) string { return a.Name })
}

func readingNames(n *trials.Notebook) []string {
	return names(n.Readings, func(r trials.Reading) string { return r.Name })
}

func tastingNames(n *trials.Notebook) []string {
	return names(n.Tastings, func(t trials.Tasting) string { return t.Name })
}

func tasterNames(n *trials.Notebook) []string {
	return names(n.Tasters, func(t trials.Taster) string { return t.Name })
}

// writingTasting is writingScores for one tasting: the notebook, and the tasting of that
// name.
func (e *env) writingTasting(name string) (*trials.Notebook, trials.Tasting, error) {
	n, err := e.writingScores()
	if err != nil {
		return nil, trials.Tasting{}, err
	}
	t, err := n.Tasting(name)
	return n, t, err
}
