package main

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"hedgerow/report"
	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/exchange"

	"github.com/spf13/cobra"
)

func newExport(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "export FILE.json|FOLDER",
		Short: "Write everything into one JSON file, or as CSV into a folder",
		Long: `Write everything that the notebook holds: into a file whose name ends in .json, which
another notebook can take in with hedgerow import or merge; or into a folder, as
one CSV for each kind of record and two wide tables for a spreadsheet: every score
with its beer, dose, taster and vote, and the account of every batch step by step.

hedgerow help export-format lists what stands in the file.

Numbers are numbers, in SI units that stand in the titles. The JSON file holds the
keys of sealed tastings too; the tables leave them out. Nothing is stored.`,
		Example: `  hedgerow export everything.json
  hedgerow export tables`,
		Args: exactly("FILE.json|FOLDER"),
		RunE: func(_ *cobra.Command, args []string) error {
			if e.noNotebook() {
				return trials.Refuse("it is made by the first command that writes", "there is no notebook yet")
			}
			n, err := e.readingScores()
			if err != nil {
				return err
			}
			if strings.EqualFold(filepath.Ext(args[0]), ".json") {
				return e.exportFile(n, args[0])
			}
			return e.exportFolder(n, args[0])
		},
	}
}

// exportFile writes everything into one file.
func (e *env) exportFile(n *trials.Notebook, path string) error {
	if err := e.writeFile(path, func(w io.Writer) error { return exchange.Write(w, n) }); err != nil {
		return err
	}
	for _, t := range n.Tastings {
		if t.Sealed() {
			e.remark("%s holds the key of tasting %s, which is still sealed", path, t.Name)
		}
	}
	return e.saved(map[string]string{"file": path}, "wrote everything into %s", path)
}

// exportFolder writes a CSV for each kind of record, and the wide tables.
func (e *env) exportFolder(n *trials.Notebook, dir string) error {
	if err := checkName(dir); err != nil {
		return err
	}
	if what := e.ofNotebook(dir); what != "" {
		return trials.Refuse("name a folder, or a file that ends in .json", "%q %s", dir, what)
	}
	if info, err := os.Lstat(dir); err == nil && !info.IsDir() {
		return trials.Refuse("name a folder, or a file that ends in .json", "%q is no folder", dir)
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return cannotWrite(dir, err)
	}
	defer e.working("working out the accounts")()
	scores, err := report.WideScores(n)
	if err != nil {
		return err
	}
	ledgers, without := report.WideLedgers(n)
	files := []exchange.Table{{Name: "scores_wide", Rows: scores}, {Name: "ledgers_wide", Rows: ledgers}}
	for _, t := range exchange.Tables(n) {
		files = append(files, exchange.Table{Name: t.Name, Rows: append([][]string{t.Header}, t.Rows...)})
	}
	if err := e.writeTables(dir, files); err != nil {
		return err
	}
	for _, line := range without {
		e.remark("no account of %s", line)
	}
	return e.saved(map[string]any{"folder": dir, "files": len(files)}, "wrote %s into %s",
		document.Count(len(files), "table"), dir)
}

// writeTables writes all tables into a folder, or none: they get their names when the
// last of them is written. A folder half of which is of today is worse than none.
func (e *env) writeTables(dir string, files []exchange.Table) (err error) {
	_, found := os.Stat(dir)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return cannotWrite(dir, err)
	}
	for _, t := range files {
		if err := e.checkTable(filepath.Join(dir, t.Name+".csv"), t); err != nil {
			return err
		}
	}
	var waiting []besideFile
	defer func() {
		if err == nil {
			return
		}
		for _, b := range waiting {
			b.remove()
		}
		if errors.Is(found, fs.ErrNotExist) {
			os.Remove(dir) // nothing is in it
		}
	}()
	for _, t := range files {
		b, err := writeBeside(filepath.Join(dir, t.Name+".csv"),
			func(w io.Writer) error { return document.WriteRows(w, t.Rows) })
		if err != nil {
			return err
		}
		waiting = append(waiting, b)
	}
	for _, b := range waiting {
		if err := b.name(); err != nil {
			return err
		}
	}
	return nil
}

// checkTable refuses to write a table over a file that does not begin with the titles
// of that table: nobody typed its name, and it may be a sheet of one's own.
func (e *env) checkTable(path string, t exchange.Table) error {
	if err := e.checkTarget(path); err != nil {
		return err
	}
	old, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return cannotWrite(path, err)
	}
	var titles bytes.Buffer
	if err := document.WriteRows(&titles, t.Rows[:1]); err != nil {
		return err
	}
	if len(old) > 0 && !bytes.HasPrefix(old, titles.Bytes()) {
		return trials.Refuse("name an empty folder, or move the file away", "%q is no table that an export wrote", path)
	}
	return nil
}
