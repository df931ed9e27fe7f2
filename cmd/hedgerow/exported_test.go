package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// An exported name is a promise to another package: a type, function, constant or
// variable that no other package names is not exported. Tests of the same
// directory in a package of their own, as examples are, count as another. A type
// that a struct embeds is also the name of a field, and stays.
func TestExportedNamesAreNamedElsewhere(t *testing.T) {
	promised := map[string]token.Position{} // "dir.Name" of what is exported
	named := map[string]bool{}
	positions := token.NewFileSet()
	err := filepath.WalkDir("../..", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && strings.HasPrefix(d.Name(), ".") && d.Name() != ".." {
			return filepath.SkipDir
		}
		if d.IsDir() || filepath.Ext(name) != ".go" {
			return nil
		}
		file, err := parser.ParseFile(positions, name, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		dir, err := filepath.Rel("../..", filepath.Dir(name))
		if err != nil {
			return err
		}
		namesOfOthers(file, named)
		embeddedNames(file, filepath.ToSlash(dir), named)
		if dir = filepath.ToSlash(dir); !strings.HasSuffix(name, "_test.go") && !strings.HasPrefix(dir, "testdata") {
			exportedNames(positions, file, dir, promised)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(promised) < 500 {
		t.Errorf("only %d exported names were found", len(promised))
	}
	for name, where := range promised {
		if !named[name] {
			t.Errorf("%s: no other package names %s", where, name)
		}
	}
}

// namesOfOthers adds the names that file takes from packages of ours.
func namesOfOthers(file *ast.File, named map[string]bool) {
	dirs := map[string]string{}
	for _, spec := range file.Imports {
		imported, err := strconv.Unquote(spec.Path.Value)
		dir, ours := strings.CutPrefix(imported, "hedgerow/")
		if err != nil || !ours {
			continue
		}
		dirs[path.Base(dir)] = dir
		if spec.Name != nil {
			dirs[spec.Name.Name] = dir
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		if selector, ok := n.(*ast.SelectorExpr); ok {
			if from, ok := selector.X.(*ast.Ident); ok && dirs[from.Name] != "" {
				named[dirs[from.Name]+"."+selector.Sel.Name] = true
			}
		}
		return true
	})
}

// embeddedNames adds the types that a struct of file in dir embeds.
func embeddedNames(file *ast.File, dir string, named map[string]bool) {
	ast.Inspect(file, func(n ast.Node) bool {
		if fields, ok := n.(*ast.StructType); ok {
			for _, field := range fields.Fields.List {
				if name, ok := field.Type.(*ast.Ident); ok && len(field.Names) == 0 {
					named[dir+"."+name.Name] = true
				}
			}
		}
		return true
	})
}

// exportedNames adds the exported names that file declares at its outermost level.
// Methods are left out: an interface may want them that no text here names.
func exportedNames(positions *token.FileSet, file *ast.File, dir string, promised map[string]token.Position) {
	add := func(name *ast.Ident) {
		if name.IsExported() {
			promised[dir+"."+name.Name] = positions.Position(name.Pos())
		}
	}
	for _, decl := range file.Decls {
		switch d := decl.(type) {
		case *ast.FuncDecl:
			if d.Recv == nil {
				add(d.Name)
			}
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				switch s := spec.(type) {
				case *ast.TypeSpec:
					add(s.Name)
				case *ast.ValueSpec:
					for _, name := range s.Names {
						add(name)
					}
				}
			}
		}
	}
}
