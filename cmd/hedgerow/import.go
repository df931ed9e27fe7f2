package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"hedgerow/report"
	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/sheets"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
)

// importOptions are what is told beside a file.
type importOptions struct {
	kind, tasting, at string
	blind, yes        bool
	answers           []string
	other             mergeOptions // for an export of a notebook
}

func newImport(e *env) *cobra.Command {
	var o importOptions
	c := &cobra.Command{
		Use:   "import FILE",
		Short: "Read a spreadsheet, or an export of a notebook",
		Long: `Read scores, batches, additions, readings or claims of a spreadsheet, saved as
CSV, as it is: titles in any order and most wordings,
comma, semicolon or tab, decimal comma or point, units in titles or cells. What was
understood is shown with the line of each row, and nothing is written without
--yes (at a terminal you are asked). All of the file is written, or nothing; read a
second time it adds nothing. An export (FILE.json) is joined as by hedgerow merge.

What can be meant in two ways is asked: at a terminal in turn, else it is answered
with --answer "QUESTION=ANSWER", as the preview says. Batches that other sheets
name must be in the notebook first.`,
		Example: `  hedgerow import club-night.csv --at "2026-04-12 20:00"
  hedgerow import club-night.csv --at "2026-04-12 20:00" --yes
  hedgerow import everything.json
  hedgerow import readings.csv --answer "date order=day first" --yes`,
		Args: exactly("FILE"),
		RunE: func(_ *cobra.Command, args []string) error { return e.runImport(args[0], o) },
	}
	f := c.Flags()
	f.StringVar(&o.kind, "kind", "", "what the rows are: "+strings.Join(sheets.Kinds, ", ")+
		"; told from the titles if left out")
	f.StringVar(&o.tasting, "tasting", "", "name of the tasting, if no column has it")
	f.StringVar(&o.at, "at", "", "when the tasting was, if no column has it")
	f.BoolVar(&o.blind, "blind", false, "the tasting was blind")
	f.StringArrayVar(&o.answers, "answer", nil, `answer to a question of the preview, such as "unit of Amount=g"; repeat`)
	f.BoolVar(&o.yes, "yes", false, "write what was understood")
	o.other.flags(c)
	return c
}

// runImport reads a spreadsheet, and writes it where that is agreed.
func (e *env) runImport(path string, o importOptions) error {
	if o.kind != "" {
		if err := checkKind(o.kind); err != nil {
			return err
		}
	}
	data, err := e.importedFile(path)
	if err != nil {
		return err
	}
	// an export is joined as a notebook is
	if text := bytes.TrimSpace(data); path != "-" && len(text) > 0 && text[0] == '{' {
		o.other.answers, o.other.yes = o.answers, o.yes
		return e.runMerge(path, o.other)
	}
	asking := isTerminal(e.stdin) && path != "-" && !e.flags.json
	if o.yes && !asking && !e.missing() {
		// read once, while nobody else writes: nobody is shown anything first
		return e.writeImport(path, data, o, false)
	}
	n, err := e.present()
	if err != nil {
		return err
	}
	s, err := e.sheet(n, path, data, o)
	if err != nil {
		return err
	}
	for asking && len(s.Faults) == 0 && len(s.Asks) > 0 {
		if o.answers, err = e.answered(s.Asks, o.answers); err != nil {
			return err
		}
		if s, err = e.sheet(n, path, data, o); err != nil {
			return err
		}
	}
	shown := !o.yes || !s.Ready()
	if shown {
		if err := e.previewed(path, s, o.yes, asking); err != nil || !asking || s.Count() == 0 {
			return err
		}
		if err := e.confirm(fmt.Sprintf("Write %s?", importCount(s)), false); err != nil {
			return err
		}
	}
	return e.writeImport(path, data, o, shown)
}

// present reads the notebook that something is to be written into; one that is not
// there yet is empty, also where it was named.
func (e *env) present() (*trials.Notebook, error) {
	if e.missing() {
		return &trials.Notebook{Now: e.now()}, nil
	}
	return e.readingScores()
}

// checkKind refuses a word that is no kind of rows.
func checkKind(word string) error {
	for _, k := range sheets.Kinds {
		if k == word {
			return nil
		}
	}
	return trials.Refuse("write one of "+strings.Join(sheets.Kinds, ", "), "--kind: %q is not known", word)
}

// longestImport is how large a file may be, in MiB: as many rows as a club writes
// in a hundred years.
const longestImport = 64

// importedFile reads the whole file, or standard input for a hyphen.
func (e *env) importedFile(path string) ([]byte, error) {
	from := e.input()
	if path != "-" {
		info, err := os.Stat(path)
		if errors.Is(err, fs.ErrNotExist) {
			return nil, &trials.Problem{Code: trials.NotFound, Message: "there is no file " + path,
				Hint: "name a file that is there, or - for standard input"}
		}
		if err == nil && !info.Mode().IsRegular() {
			return nil, trials.Refuse("name a file", "%q is no plain file", path)
		}
		f, err := os.Open(path)
		if err != nil {
			return nil, trials.Refuse("make it readable, or name another", "cannot read %s: %v", path, err)
		}
		defer f.Close()
		from = f
	}
	data, err := io.ReadAll(io.LimitReader(from, longestImport<<20+1))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", path, err)
	}
	if len(data) > longestImport<<20 {
		return nil, trials.Refuse("part it into several", "%s is longer than %d MiB", path, longestImport)
	}
	return data, nil
}

// sheet reads the bytes of a file against a notebook.
func (e *env) sheet(n *trials.Notebook, path string, data []byte, o importOptions) (sheets.Sheet, error) {
	amounts, err := optionsOf(n.Settings)
	if err != nil {
		return sheets.Sheet{}, err
	}
	return sheets.Read(data, n, sheets.Options{Kind: o.kind, Tasting: o.tasting, At: o.at, Blind: o.blind,
		File: filepath.Base(path), Answers: o.answers, Now: e.now(), Amounts: amounts, SGOfPlato: ledger.SGFromPlato})
}

// previewed shows what was understood, and refuses what cannot be written as it is.
func (e *env) previewed(path string, s sheets.Sheet, wanted, asking bool) error {
	if err := e.show(report.Import(path, s, false, e.flags.wide)); err != nil {
		return err
	}
	switch {
	case len(s.Faults) > 0:
		return trials.Refuse("correct the file and import it again; nothing was written", "%s in %s: %s",
			document.Count(len(s.Faults), "fault"), path, s.Faults[0])
	case len(s.Asks) > 0 && wanted:
		a := s.Asks[0]
		option, _, _ := strings.Cut(a.Options[0], ":")
		return trials.Refuse(fmt.Sprintf("repeat with --answer %q, or as it was; nothing was written", a.Key+"="+option),
			"%s about %s, such as: %s", document.Count(len(s.Asks), "question"), path, a.Text)
	case len(s.Asks) == 0 && s.Count() > 0 && !asking:
		e.next("hedgerow import %s --yes", path)
	}
	return nil
}

// answered asks the questions of a sheet in turn.
func (e *env) answered(asks []sheets.Ask, answers []string) ([]string, error) {
	in := bufio.NewReader(e.input())
	for _, a := range asks {
		fmt.Fprintf(e.stderr, "%s\n", document.Wrap(fmt.Sprintf("line %d: %s", a.Line, a.Text), e.pageWidth()))
		for i, o := range a.Options {
			fmt.Fprintf(e.stderr, "  %d  %s\n", i+1, o)
		}
		fmt.Fprint(e.stderr, "which, or another answer (nothing to stop): ")
		line, err := in.ReadString('\n')
		line = strings.TrimSpace(line)
		if err != nil || line == "" {
			return nil, trials.Refuse("", "nothing was written")
		}
		if i := atoi(line); i >= 1 && i <= len(a.Options) {
			line, _, _ = strings.Cut(a.Options[i-1], ":")
		}
		answers = append(answers, a.Key+"="+line)
	}
	return answers, nil
}

// importCount says how many rows of which kind there are.
func importCount(s sheets.Sheet) string {
	kind := s.Kind
	if s.Count() == 1 {
		kind = strings.TrimSuffix(strings.Replace(kind, "batches", "batch", 1), "s")
	}
	return fmt.Sprintf("%d %s", s.Count(), kind)
}

// writeImport reads the file again while nobody else writes, and writes what is new.
// What was taken is said unless the rows were shown.
func (e *env) writeImport(path string, data []byte, o importOptions, shown bool) error {
	n, err := e.writingScores()
	if err != nil {
		return err
	}
	s, err := e.sheet(n, path, data, o)
	if err != nil {
		return err
	}
	if !s.Ready() {
		return e.previewed(path, s, true, false)
	}
	added, extended := s.New.Notebook()
	if s.Count() > 0 {
		if err := checkAccounts(n, added); err != nil {
			return err
		}
		cautions := importCautions(n, added)
		err = e.write("import "+filepath.Base(path), func(tx *store.Tx) error {
			for i := range extended {
				if err := tx.Save(&extended[i]); err != nil {
					return err
				}
			}
			return tx.Add(added)
		})
		if err != nil {
			return err
		}
		// after the write, as with typed input
		e.caution(cautions)
	}
	if e.flags.json {
		return e.show(report.Import(path, s, true, true))
	}
	e.release()
	already := ""
	if s.Already > 0 {
		already = fmt.Sprintf("; %d there already", s.Already)
	}
	if s.Count() == 0 {
		return e.saved(nil, "nothing in %s is new%s", path, already)
	}
	if !shown {
		e.sayTaken(report.ImportRemarks(s))
	}
	return e.saved(nil, "imported %s from %s%s; `hedgerow undo` takes it back", importCount(s), path, already)
}

// sayTaken says what was taken, passed over and worked out in a sheet that nobody was
// shown, as much as is read.
func (e *env) sayTaken(remarks []string) {
	const most = 12
	for _, text := range remarks[:min(most, len(remarks))] {
		e.remark("%s", text)
	}
	if rest := len(remarks) - most; rest > 0 {
		e.remark("and %s, which --json lists", document.Count(rest, "more remark"))
	}
}

// checkAccounts refuses records with which the account of a batch would not hold.
func checkAccounts(n, added *trials.Notebook) error {
	with := *n
	with.Batches = append(with.Batches[:len(n.Batches):len(n.Batches)], added.Batches...)
	with.Extracts = append(with.Extracts[:len(n.Extracts):len(n.Extracts)], added.Extracts...)
	with.Additions = append(with.Additions[:len(n.Additions):len(n.Additions)], added.Additions...)
	with.Readings = append(with.Readings[:len(n.Readings):len(n.Readings)], added.Readings...)
	changed := map[string]bool{}
	for _, b := range added.Batches {
		changed[b.ID] = true
	}
	for _, a := range added.Additions {
		changed[a.BatchID] = true
	}
	for _, r := range added.Readings {
		changed[r.BatchID] = true
	}
	var list []trials.Batch
	for _, b := range with.Batches {
		if changed[b.ID] {
			list = append(list, b)
		}
	}
	return ledger.CheckAccounts(&with, n, list)
}

// importCautions are the cautions of the materials of new additions, once for each way
// they are used.
func importCautions(n, added *trials.Notebook) []trials.Caution {
	var list []trials.Caution
	seen, said := map[trials.Handling]bool{}, map[string]bool{}
	tell := func(u trials.Handling) {
		if u.MaterialKey == "" || seen[u] {
			return
		}
		seen[u] = true
		for _, c := range n.EntryCautions(u) {
			if !said[c.Text] {
				list = append(list, c)
			}
			said[c.Text] = true
		}
	}
	for _, a := range added.Additions {
		tell(a.Handling())
	}
	for _, x := range added.Extracts {
		tell(x.Handling())
	}
	return list
}
