package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// sealedScene is an evening that was planned, set up and scored in part, and
// not closed. The names of its beers stand nowhere else.
const sealedScene = `
batch new zqbase --volume 12L --og 1.048 --fg 1.010 --at "2026-03-01 10:00"
reading add zqbase --sg 1.010 --at "day 9"
claim add heather "3 to 5 g/L"
plan bench heather --from zqbase --record zqglass --dose 1,2,4 --attribute floral --tasters 3 --seed 7 --at "day 10"
tasting score zqglass --taster "Taster A" --serving CODE floral=4/right liking=6
tasting note zqglass CODE "hay" --taster "Taster A"
`

// sealedCalls are commands that can be given while the tasting is sealed, with
// what they need to say something. A command that is not here is run without
// arguments.
var sealedCalls = map[string][]string{
	"batch show":    {"zqglass-2"},
	"ledger":        {"zqglass-2"},
	"compare":       {"heather"},
	"suggest":       {"heather"},
	"claim list":    {"heather"},
	"material show": {"heather"},
	"extract show":  {"zqglass-tea"},
	"plan show":     {"zqglass"},
	"plan done":     {"zqglass"},
	"plan bench":    {"heather"},
	"plan split":    {"heather"},
	"plan batch":    {"heather"},
	"tasting show":  {"zqglass"},
	"tasting sheet": {"zqglass"},
	"tasting join":  {"zqglass", "Late"},
	"tasting score": {"zqglass", "--taster", "Taster B", "--serving", "zqglass-2", "floral=3"},
	"tasting new": {"zqmore", "--serving", "zqglass-1", "--serving", "zqglass-3", "--attribute", "floral", "--seed",
		"7"},
	"tasting note":    {"zqglass", "zqglass-2", "hay", "--taster", "Taster B"},
	"taster merge":    {"Taster B", "Taster C", "--yes"},
	"batch delete":    {"zqglass-2", "--yes"},
	"addition list":   {"zqglass-2"},
	"reading list":    {"zqbase"},
	"batch note":      {"zqglass-2", "clear"},
	"addition delete": {"zqglass-2.a1", "--yes"},
}

// notBefore are commands that are left out: two make a notebook of their own or
// work for long, closing opens the key, and what is served is looked at in a test of its own.
var notBefore = []string{"demo", "verify", "tasting close", "tasting serve"}

// Nothing that can be asked for while a tasting is sealed tells what is behind a
// code, in any format, on standard output, standard error or in a page: an output
// may name codes or beers of the tasting, never both.
func TestNothingTellsASealedCode(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	db := filepath.Join(dir, "sealed.db")
	codes := setSealed(t, db)
	if len(codes) != 4 {
		t.Fatalf("codes %v", codes)
	}
	looked := 0
	for _, c := range leaves(newRoot(exampleEnv(db, ""))) {
		name := strings.TrimPrefix(c.CommandPath(), "hedgerow ")
		if slices.Contains(notBefore, name) {
			continue
		}
		for _, format := range [][]string{nil, {"--json"}, {"--csv"}, {"--markdown", "--wide"},
			{"--html", filepath.Join(dir, "page.html")}} {
			if len(format) == 2 && format[0] == "--html" && c.Flags().Lookup("html") == nil {
				continue
			}
			text := sealedOutput(t, db, dir, append(append(strings.Fields(name), sealedCalls[name]...), format...))
			if text == "" {
				continue
			}
			looked++
			if told := slices.ContainsFunc(codes, func(code string) bool {
				return regexp.MustCompile(`\b` + code +
					`\b`).MatchString(text)
			}); told && beerName.MatchString(text) {
				t.Errorf("%s %v tells codes and beers:\n%s", name, format, text)
			}
		}
	}
	if looked < 100 {
		t.Errorf("only %d outputs were looked at", looked)
	}
}

// beerName matches the names of the beers of the tasting; the tasting itself is
// called zqglass and its extract zqglass-tea.
var beerName = regexp.MustCompile(`zqglass-[0-9]`)

// setSealed makes the scene and returns the codes of the tasting.
func setSealed(t *testing.T, db string) []string {
	t.Helper()
	var codes []string
	for _, line := range strings.Split(strings.TrimSpace(sealedScene), "\n") {
		e := exampleEnv(db, "")
		if strings.Contains(line, "CODE") {
			runLine(t, e, "tasting show zqglass --csv")
			codes = nil
			// a line for each glass: its number and its code
			for _, m := range regexp.MustCompile(`(?m)^\d+,(\d{3})\b`).FindAllStringSubmatch(
				e.stdout.(*strings.Builder).String(), -1) {
				codes = append(codes, m[1])
			}
			line = strings.ReplaceAll(line, "CODE", codes[0])
		}
		runLine(t, e, line)
	}
	return codes
}

// sealedOutput runs a command in a copy of the notebook and returns everything it
// says, a page it writes too. A refusal is looked at like an answer.
func sealedOutput(t *testing.T, db, dir string, words []string) string {
	t.Helper()
	text, err := os.ReadFile(db)
	if err != nil {
		t.Fatal(err)
	}
	own := filepath.Join(t.TempDir(), "copy.db")
	if err := os.WriteFile(own, text, 0o600); err != nil {
		t.Fatal(err)
	}
	page := filepath.Join(dir, "page.html")
	os.Remove(page)
	e := exampleEnv(own, "")
	run(e, words)
	written, _ := os.ReadFile(page)
	return e.stdout.(*strings.Builder).String() + e.stderr.(*strings.Builder).String() + drawingNumbers.ReplaceAllString(
		string(written), "")
}

// drawingNumbers are the style of a page and the places and sizes in its pictures, among
// which a code would be found by chance; what is written in a page stays.
var drawingNumbers = regexp.MustCompile(`(?s)<style>.*?</style>| (x|y|dx|x1|x2|y1|y2|d|r|width|height|viewBox)="[^"]*"`)
