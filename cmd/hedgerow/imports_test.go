package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// mayImport is the diagram of the house: for each package, which of the others
// it may import besides what everyone may. A leaf imports nothing else of ours.
// DEVELOPERS.md draws the same.
var mayImport = map[string][]string{
	"dilution":            {},
	"extraction":          {},
	"extraction/ways":     {"extraction"},
	"trials/quantity":     {},
	"trials/catalogue":    {},
	"report/evidence":     {},
	"report/field":        {"report/evidence", "report/pooling"},
	"report/pooling":      {},
	"report/wishes":       {"report/evidence", "report/field"},
	"report/doseresponse": {"report/evidence", "report/field", "report/pooling", "report/wishes"},
	"report/panel":        {},
	"trials/idiom":        {"trials", "trials/quantity"},
	"trials/moment":       {"trials/quantity"},
	"trials":              {"extraction", "trials/catalogue"},
	"trials/steeps":       {"dilution", "extraction", "extraction/ways", "trials"},
	"trials/ledger":       {"dilution", "extraction", "extraction/ways", "trials/catalogue", "trials", "trials/steeps"},
	"trials/planning":     {"dilution", "trials/catalogue", "trials", "trials/steeps", "trials/ledger"},
	"trials/checks": {"dilution", "extraction", "extraction/ways", "trials", "trials/steeps", "trials/ledger",
		"trials/quantity"},
	"trials/store":    {"trials"},
	"trials/exchange": {"trials"},
	"trials/sheets":   {"trials", "trials/idiom", "trials/moment", "trials/quantity"},
	"report/plot":     {},
	"report/document": {"report/plot"},
	"report/wording":  {"trials", "trials/steeps", "trials/ledger", "trials/quantity", "report/document"},
	"report/evenings": {"trials", "trials/ledger", "trials/quantity", "report/document", "report/plot", "report/wording",
		"report/panel"},
	"report/phones": {"trials"},
	"report/studies": {"trials", "trials/ledger", "trials/quantity", "report/document", "report/wording",
		"report/evidence"},
	"report/decisions": {"trials", "trials/steeps", "trials/ledger", "trials/planning", "trials/quantity",
		"report/document", "report/wording", "report/studies", "report/doseresponse", "report/evidence", "report/panel",
		"report/plot", "trials/catalogue"},
	"report/plans": {"trials", "trials/steeps", "trials/ledger", "trials/planning", "trials/quantity",
		"report/document", "report/wording", "report/studies", "report/doseresponse", "report/decisions"},
	"report": {"trials", "trials/steeps", "trials/ledger", "trials/planning", "trials/checks", "trials/quantity",
		"trials/sheets", "trials/exchange",
		"report/document", "report/wording", "report/evenings", "report/decisions", "report/doseresponse", "report/panel",
		"report/plot"},
	"report/standing": {"trials", "trials/ledger", "trials/quantity", "report/document", "report/wording"},
	"cmd/hedgerow": {"report", "report/standing", "report/document", "report/wording", "report/evenings",
		"report/phones", "report/studies", "report/decisions", "report/plans", "trials", "trials/steeps", "trials/ledger",
		"trials/planning", "trials/store",
		"trials/quantity", "trials/moment", "trials/idiom", "trials/sheets", "trials/exchange"},
}

// bottom are the leaves that every package may import, the other leaves too. They
// import nothing of ours: spelling guesses which known word was meant, figure holds
// the shapes of numbers and the limits that all agree on.
var bottom = []string{"trials/figure", "trials/spelling"}

// onlyIn says which packages alone may know a library: what is behind the
// outermost packages must not draw, and only one package knows SQL.
var onlyIn = map[string][]string{
	"database/sql":                 {"trials/store"},
	"modernc.org/sqlite":           {"trials/store"},
	"github.com/spf13/cobra":       {"cmd/hedgerow"},
	"github.com/jedib0t/go-pretty": {"report/document"},
	"golang.org/x/term":            {"cmd/hedgerow"},
	"net/http":                     {"report/phones"},
	"rsc.io/qr":                    {"report/phones"},
}

// Every file of every package, tests included, keeps to the diagram; a package
// that is not in it fails. What tests share is in testdata, for tests alone.
func TestImportsFollowTheDiagram(t *testing.T) {
	const root = "../.."
	files := 0
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && name != root && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata") {
			return filepath.SkipDir
		}
		if d.IsDir() || filepath.Ext(name) != ".go" {
			return nil
		}
		files++
		checkImports(t, root, name)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files < 100 {
		t.Errorf("only %d files were looked at", files)
	}
}

// checkImports checks the imports of one file.
func checkImports(t *testing.T, root, name string) {
	t.Helper()
	rel, err := filepath.Rel(root, name)
	if err != nil {
		t.Fatal(err)
	}
	pkg := path.Dir(filepath.ToSlash(rel))
	allowed, known := mayImport[pkg]
	allowed = append(slices.Clone(allowed), bottom...)
	if slices.Contains(bottom, pkg) {
		allowed, known = nil, true
	}
	if !known {
		t.Errorf("%s: package %s is not in the diagram", rel, pkg)
		return
	}
	parsed, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
	if err != nil {
		t.Fatal(err)
	}
	for _, spec := range parsed.Imports {
		imported, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		forTests := strings.HasPrefix(imported, "hedgerow/testdata/") && strings.HasSuffix(name, "_test.go")
		if ours, ok := strings.CutPrefix(imported, "hedgerow/"); ok && !forTests && ours != pkg &&
			!slices.Contains(allowed, ours) {
			t.Errorf("%s imports %s, which the diagram does not allow", rel, ours)
		}
		for library, packages := range onlyIn {
			within := imported == library || strings.HasPrefix(imported, library+"/")
			if within && !strings.HasSuffix(name, "_test.go") && !slices.Contains(packages, pkg) {
				t.Errorf("%s imports %s, which belongs in %s", rel, imported, strings.Join(packages, " and "))
			}
		}
	}
}
