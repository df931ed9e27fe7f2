package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"hedgerow/report"
	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/exchange"
	"hedgerow/trials/ledger"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
)

// mergeOptions are what a person says beside a notebook that comes in.
type mergeOptions struct {
	tasters, materials, answers []string
	brewer                      string
	mine, yes                   bool
}

// flags adds what is said beside a notebook.
func (o *mergeOptions) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringArrayVar(&o.tasters, "taster", nil, `a person of both notebooks: "their name=our name"; repeat`)
	f.StringArrayVar(&o.materials, "material", nil,
		"an own material of theirs that is one of ours: their-key=our-key; repeat")
	f.StringVar(&o.brewer, "brewer", "", `what their brewer is called here; "Brewer B" and so on if left out`)
	f.BoolVar(&o.mine, "mine", false, "their brews are your own, made on another machine")
}

func newMerge(e *env) *cobra.Command {
	var o mergeOptions
	c := &cobra.Command{
		Use:   "merge OTHER.db|FILE.json",
		Short: "Join another notebook, or an export of one, to this one",
		Long: `Join the notebook of a friend, or your own of another machine, to this one. Records
are known again by their ids: what both have alike stays as it is, what one side
changed is taken from there, what both changed is shown and asked. A name that is
taken gets a number. The other file never changes.

Their brews stay theirs and are never trials of your panel; with --mine they are your
own. What they found of a dose counts for a little in suggest and compare, which say so
and leave it out with --own-only. Tasters of one name stay two people unless --taster
says otherwise.
What would happen is shown first, and nothing is written without --yes (at a
terminal you are asked).`,
		Example: `  hedgerow merge friend.json
  hedgerow merge friend.json --taster "Taster C=Taster A" --yes`,
		Args: exactly("OTHER.db|FILE.json"),
		RunE: func(_ *cobra.Command, args []string) error { return e.runMerge(args[0], o) },
	}
	o.flags(c)
	c.Flags().StringArrayVar(&o.answers, "answer", nil, `which side counts, such as "batch elder-1=ours"; repeat`)
	c.Flags().BoolVar(&o.yes, "yes", false, "write it")
	return c
}

// runMerge shows what a merge would do, and does it where that is agreed.
func (e *env) runMerge(path string, o mergeOptions) error {
	theirs, err := e.otherNotebook(path)
	if err != nil {
		return err
	}
	told, err := o.told()
	if err != nil {
		return err
	}
	n, err := e.present()
	if err != nil {
		return err
	}
	out, err := exchange.Merge(n, theirs, told)
	if err != nil {
		return err
	}
	asking := isTerminal(e.stdin) && !e.flags.json
	if !o.yes || len(out.Asks) > 0 {
		if err := e.show(report.Merge(path, out, false)); err != nil {
			return err
		}
		switch {
		case len(out.Asks) > 0:
			return e.unanswered(out.Asks[0], len(out.Asks), o.yes)
		case !report.MergeBrings(out):
			return nil
		case !asking:
			e.next("hedgerow merge %s --yes", path)
			return nil
		}
		if err := e.confirm("Join "+path+" to the notebook?", false); err != nil {
			return err
		}
	}
	return e.writeMerge(path, theirs, told)
}

// unanswered refuses a merge with open questions, if it was to be written.
func (e *env) unanswered(a exchange.Ask, count int, wanted bool) error {
	if !wanted {
		return nil
	}
	return trials.Refuse(fmt.Sprintf("repeat with --answer %q, or =theirs; nothing was written", a.Key+"=ours"),
		"%s changed on both sides, such as %s", document.Count(count, "record"), a.Key)
}

// told reads what was said.
func (o mergeOptions) told() (exchange.Told, error) {
	t := exchange.Told{Mine: o.mine, Brewer: strings.TrimSpace(o.brewer)}
	for _, f := range []struct {
		flag  string
		texts []string
		into  *map[string]string
	}{{"taster", o.tasters, &t.Tasters}, {"material", o.materials, &t.Materials}, {"answer", o.answers, &t.Answers}} {
		*f.into = map[string]string{}
		for _, text := range f.texts {
			at := strings.LastIndex(text, "=")
			if at < 1 || strings.TrimSpace(text[at+1:]) == "" {
				return t, trials.Refuse(`write it as "theirs=ours"`, "--%s: %q has no equals sign between two names", f.flag, text)
			}
			(*f.into)[strings.TrimSpace(text[:at])] = strings.TrimSpace(text[at+1:])
		}
	}
	return t, nil
}

// otherNotebook reads a notebook or an export.
func (e *env) otherNotebook(path string) (*trials.Notebook, error) {
	if e.ofNotebook(path) != "" {
		return nil, trials.Refuse("name another one", "%q %s", path, e.ofNotebook(path))
	}
	if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() && !isDatabase(path) {
		data, err := e.importedFile(path)
		if err != nil {
			return nil, err
		}
		return exchange.Read(bytes.NewReader(data))
	}
	return store.ReadOther(e.ctx, path, e.now)
}

// writeMerge works the merge out again while nobody else writes, and writes it.
func (e *env) writeMerge(path string, theirs *trials.Notebook, told exchange.Told) error {
	n, err := e.writingScores()
	if err != nil {
		return err
	}
	out, err := exchange.Merge(n, theirs, told)
	if err != nil {
		return err
	}
	if len(out.Asks) > 0 {
		return e.unanswered(out.Asks[0], len(out.Asks), true)
	}
	if err := ledger.CheckAccounts(out.Whole, n, out.Add.Batches); err != nil {
		return err
	}
	if report.MergeBrings(out) {
		err = e.write("join "+filepath.Base(path), func(tx *store.Tx) error {
			if err := tx.Save(out.Update...); err != nil {
				return err
			}
			return tx.Add(out.Add)
		})
		if err != nil {
			return err
		}
		e.caution(importCautions(n, out.Add))
	}
	return e.show(report.Merge(path, out, true))
}
