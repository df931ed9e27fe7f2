package main

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// fenced finds the blocks of one language in a Markdown text.
func fenced(text, language string) []string {
	var blocks []string
	for _, m := range regexp.MustCompile("(?s)```"+language+"\n(.*?)```").FindAllStringSubmatch(text, -1) {
		blocks = append(blocks, m[1])
	}
	return blocks
}

// readmeAnswers is what the walk through a plant in the beer comes to. Whole seed at
// 20 C has given nine tenths of its aroma on day 4.4 (table of an independent
// implementation of the course of a plant); each tasting is a row at the dose of its
// day, and the votes are those typed.
var readmeAnswers = map[string][]string{
	`hedgerow addition show wit-1.a1 --at "day 12"`: {"Advice: ", "Nine tenths are expected on day 4.4"},
	"hedgerow ledger wit-1": {"tasted: wit-day-3 at", "tasted: wit-day-7 at",
		"tasted: wit-day-14 at", "taken out, squeezed"},
	`hedgerow tasting blend drops --into moor-5 --volume 17.4L --left 900mL --at "2026-04-19 10:00" --record`: {
		"For 17.4 L add ", "of drops-tea; you have 900 mL.", "Logged as moor-5.a1."},
	`hedgerow tasting places elder-drops 1=159 2=861`: {
		"done alone", "Taster A  down   861             6",
	},
	`hedgerow tasting blend elder-drops --into elder-3 --at "2026-04-19 12:00" --record`: {"Logged as elder-3.a1."},
	"hedgerow compare coriander-seed": {"\nwit-1@17d", "\nwit-1@24d", "2 / 0 / 0", "0 / 2 / 0", "0 / 1 / 1"},
}

// Every command of the README runs, in order, in one new notebook, and the walk
// ends with a comparison and a suggestion.
func TestReadmeWalk(t *testing.T) {
	t.Parallel()
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	blocks := fenced(string(readme), "sh")
	tables := fenced(string(readme), "csv")
	if len(blocks) < 6 || len(tables) != 3 {
		t.Fatalf("%d blocks of commands and %d tables", len(blocks), len(tables))
	}
	db := filepath.Join(t.TempDir(), "walk.db")
	var last string
	for _, line := range strings.Split(strings.Join(blocks, "\n"), "\n") {
		words, stdin := splitCommand(line)
		if len(words) == 0 {
			continue
		}
		if words[0] != "hedgerow" {
			t.Fatalf("not a command of ours: %s", line)
		}
		in := ""
		if stdin != "" && len(tables) > 0 {
			in, tables = tables[0], tables[1:]
		}
		var stdout, stderr strings.Builder
		e := &env{
			ctx: context.Background(), stdin: strings.NewReader(in), stdout: &stdout, stderr: &stderr,
			getenv: func(name string) string { return map[string]string{"HEDGEROW_DB": db, "COLUMNS": "80"}[name] },
			now:    func() time.Time { return time.Date(2026, 4, 20, 12, 0, 0, 0, time.UTC) },
		}
		if code := run(e, words[1:]); code != exitDone {
			t.Fatalf("%s\nexit %d\n%s%s", line, code, &stdout, &stderr)
		}
		if stdout.Len() == 0 {
			t.Errorf("%s printed nothing", line)
		}
		last = stdout.String()
		for _, want := range readmeAnswers[line] {
			if !strings.Contains(last, want) {
				t.Errorf("%s does not say %q:\n%s", line, want, last)
			}
		}
	}
	if !strings.Contains(last, `"right_dose_g_per_l"`) {
		t.Errorf("the walk does not end with a suggestion:\n%s", last)
	}
}

// The two commands that the README gives for a fresh machine are the ones that
// the checks run.
func TestReadmeCommands(t *testing.T) {
	readme, _ := os.ReadFile(filepath.Join("..", "..", "README.md"))
	ci, _ := os.ReadFile(filepath.Join("..", "..", ".ci", "run"))
	for _, want := range []string{"\n    go run ./cmd/hedgerow demo\n", "\n    go test ./...\n"} {
		if !strings.Contains(string(readme), want) {
			t.Errorf("README has no line %q", strings.TrimSpace(want))
		}
	}
	if !strings.Contains(string(ci), "\ngo test ./...\n") {
		t.Error(".ci/run does not call the README's test command")
	}
}

// The page that the README promises of the demo is written, and is the whole page.
func TestReadmeReport(t *testing.T) {
	t.Parallel()
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	const file = "hibiscus.html"
	line := regexp.MustCompile(`(?m)^    hedgerow (report hibiscus --html ` + file +
		`)$`).FindStringSubmatch(string(readme))
	if line == nil {
		t.Fatal("the README writes no report of the demo")
	}
	whole, err := series()
	if err != nil {
		t.Fatal(err)
	}
	page := filepath.Join(t.TempDir(), file)
	words := strings.Fields(strings.Replace(line[1], file, page, 1))
	if code, said := typed(laid(t, whole), words...); code != exitDone {
		t.Fatalf("%v: exit %d\n%s", words, code, said)
	}
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"<svg", "9 of 10", "Taster E", "</html>"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the page lacks %q", want)
		}
	}
}
