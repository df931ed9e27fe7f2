package exchange

import (
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"hedgerow/trials"
)

var update = flag.Bool("update", false, "write format.txt anew")

// The page about the file says of every key of every kind what the types that are
// written say of it. After one was changed: go test ./trials/exchange -run TestFormat -update
func TestFormat(t *testing.T) {
	page := formatPage(t)
	if *update {
		if err := os.WriteFile("format.txt", []byte(page), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if page != Format() {
		t.Error("format.txt is not what the records are: run this test with -update")
	}
	if n := strings.Count(page, "\n"); n < 250 {
		t.Errorf("the page has %d lines", n)
	}
	for line := range strings.Lines(page) {
		if utf8.RuneCountInString(line) > 81 {
			t.Errorf("wider than a page: %s", line)
		}
	}
}

// Every key that a file has, down to the passes of an extract, stands on the page
// under its kind, and every kind is read again.
func TestFormatHasEveryKey(t *testing.T) {
	if *update {
		t.Skip("written anew only now")
	}
	page := "\n" + Format()
	read := listsOf(&trials.Notebook{}, &[]setting{})
	kinds := reflect.TypeFor[records]()
	for i := range kinds.NumField() {
		kind := kinds.Field(i).Tag.Get("json")
		if read[kind] == nil {
			t.Errorf("kind %s is written and not read", kind)
		}
		_, section, found := strings.Cut(page, "\n"+kind+"\n")
		if !found {
			t.Errorf("kind %s is not on the page", kind)
		}
		section, _, _ = strings.Cut(section, "\n\n")
		for _, f := range fieldsOf(kinds.Field(i).Type.Elem(), nil) {
			if !strings.Contains(section, "\n  "+f.key+" ") && !strings.HasPrefix(section, "  "+f.key+" ") {
				t.Errorf("key %s of %s is not on the page", f.key, kind)
			}
		}
	}
	if len(read) != kinds.NumField() {
		t.Errorf("%d kinds are read, %d are written", len(read), kinds.NumField())
	}
}

// formatPage writes the page from the types and the comments of their fields.
func formatPage(t *testing.T) string {
	p := &pageWriter{comments: commentsOf(t), done: map[reflect.Type]bool{}}
	kinds := reflect.TypeFor[records]()
	for i := range kinds.NumField() {
		p.section(kinds.Field(i).Tag.Get("json"), kinds.Field(i).Type.Elem())
	}
	// the parts of records, which several may have
	for len(p.parts) > 0 {
		part := p.parts[0]
		p.parts = p.parts[1:]
		p.section(partName(part), part)
	}
	return strings.TrimPrefix(p.text.String(), "\n")
}

// pageWriter gathers the page.
type pageWriter struct {
	comments map[string]string // by "Type.Field"
	text     strings.Builder
	parts    []reflect.Type
	done     map[reflect.Type]bool
}

// section writes a kind with its keys.
func (p *pageWriter) section(name string, of reflect.Type) {
	p.done[of] = true
	fmt.Fprintf(&p.text, "\n%s\n", name)
	p.keys(of)
}

// keys writes the keys of a type, those of what it embeds first.
func (p *pageWriter) keys(of reflect.Type) {
	for i := range of.NumField() {
		f := of.Field(i)
		key, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case f.Anonymous:
			p.keys(f.Type)
		case key != "-":
			p.line(key, p.kindOf(f.Type), inKeys(of, p.comments[of.Name()+"."+f.Name]))
		}
	}
}

// inKeys says a comment with the words of the file in place of those of the program.
func inKeys(of reflect.Type, comment string) string {
	words := strings.Fields(regexp.MustCompile(`; see [A-Z]\w+$`).ReplaceAllString(comment, ""))
	for i, w := range words {
		bare := strings.Trim(w, ",;.()")
		if bare == "nil" {
			words[i] = strings.Replace(w, bare, "null", 1)
		}
		if f, ok := of.FieldByName(bare); ok {
			words[i] = strings.Replace(w, bare, f.Tag.Get("json"), 1)
		}
	}
	return strings.Join(words, " ")
}

// line writes one key, its meaning broken under itself.
func (p *pageWriter) line(key, kind, meaning string) {
	const wide, column = 80, 36
	line := fmt.Sprintf("  %-17s %-15s ", key, kind)
	for _, word := range strings.Fields(meaning) {
		if utf8.RuneCountInString(strings.TrimRight(line, " "))+1+utf8.RuneCountInString(word) > wide {
			p.text.WriteString(strings.TrimRight(line, " ") + "\n")
			line = strings.Repeat(" ", column)
		}
		line += word + " "
	}
	p.text.WriteString(strings.TrimRight(line, " ") + "\n")
}

// kindOf says what a key holds.
func (p *pageWriter) kindOf(of reflect.Type) string {
	switch {
	case of == reflect.TypeFor[time.Time]():
		return "time"
	case of.Kind() == reflect.Pointer:
		return p.kindOf(of.Elem()) + " or null"
	case of.Kind() == reflect.Slice:
		return "list: " + p.kindOf(of.Elem())
	case of.Kind() == reflect.Map:
		return "object"
	case of.Kind() == reflect.Struct:
		if !p.done[of] && !slices.Contains(p.parts, of) {
			p.parts = append(p.parts, of)
		}
		return partName(of)
	}
	switch of.Kind() {
	case reflect.Bool:
		return "true, false"
	case reflect.Float64:
		return "number"
	case reflect.Int, reflect.Int64:
		return "whole number"
	}
	return "text"
}

// partName is what a part of a record is called.
func partName(of reflect.Type) string {
	var b strings.Builder
	for i, r := range of.Name() {
		if i > 0 && 'A' <= r && r <= 'Z' {
			b.WriteByte(' ')
		}
		b.WriteString(strings.ToLower(string(r)))
	}
	return b.String()
}

// commentsOf reads what the fields of the records are said to be.
func commentsOf(t *testing.T) map[string]string {
	comments := map[string]string{}
	files, err := filepath.Glob("../*.go")
	if err != nil || len(files) < 20 {
		t.Fatal(files, err)
	}
	for _, name := range append(files, "file.go") {
		parsed, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(parsed, func(n ast.Node) bool {
			spec, ok := n.(*ast.TypeSpec)
			if !ok {
				return true
			}
			if s, ok := spec.Type.(*ast.StructType); ok {
				for _, f := range s.Fields.List {
					text := strings.TrimSpace(f.Comment.Text() + f.Doc.Text())
					for _, field := range f.Names {
						comments[spec.Name.Name+"."+field.Name] = text
					}
				}
			}
			return true
		})
	}
	return comments
}
