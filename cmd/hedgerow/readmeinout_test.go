package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The spreadsheet, the move to another machine and the friend's notebook of the README
// come in as it says.
func TestReadmeInAndOut(t *testing.T) {
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	tables, blocks := fenced(string(readme), "text"), fenced(string(readme), "shell")
	if len(tables) != 1 || len(blocks) != 2 {
		t.Fatalf("%d tables and %d blocks of commands", len(tables), len(blocks))
	}
	t.Chdir(t.TempDir())
	if err := os.WriteFile("earlier.csv", []byte(tables[0]), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{`batch new elder-7 --volume 5L --og 1.050 --at "2026-01-03 12:00"`,
		`addition add elder-7 elderflower 8g --form whole --as contact --time 3d --at "2026-01-10 12:00"`,
		`batch new plain-7 --volume 5L --og 1.050`,
		`tasting new may --serving elder-7 --serving plain-7 --attribute floral --open`,
		`tasting score may --taster "Taster C" --serving elder-7 floral=5/right`} {
		runLine(t, exampleEnv("friend.db", ""), line)
	}
	for line := range strings.SplitSeq(strings.Join(blocks, "\n"), "\n") {
		if rest, ok := strings.CutPrefix(line, "hedgerow "); ok {
			runLine(t, exampleEnv("mine.db", ""), rest)
		}
	}
	out := exampleEnv("mine.db", "")
	runLine(t, out, "tasting show spring-25 --json")
	for _, want := range []string{`"taster": "Taster B"`, `"intensity": 3.5`, `"vote": "too little"`, `"liking": 5`} {
		if !strings.Contains(outputOf(t, out), want) {
			t.Errorf("the imported tasting has no %s", want)
		}
	}
	runLine(t, exampleEnv("new-laptop.db", ""), "export moved.json")
	sent, err := os.ReadFile("everything.json")
	if err != nil {
		t.Fatal(err)
	}
	if came, err := os.ReadFile("moved.json"); err != nil || !bytes.Equal(sent, came) {
		t.Errorf("what came out on the new machine is not what went in: %v", err)
	}
	answer := exampleEnv("mine.db", "")
	runLine(t, answer, "suggest elderflower --volume 12L")
	if got := outputOf(t, answer); !strings.Contains(got, "From others: 1 trial by 1 brewer, worth about ") ||
		!strings.Contains(got, "Without them: ") {
		t.Errorf("the friend's trial is not in the answer, or not said to be: %s", got)
	}
	people := exampleEnv("mine.db", "")
	runLine(t, people, "taster list --json")
	if strings.Contains(outputOf(t, people), "Taster C") {
		t.Error("Taster C was said to be Taster B, and is still there")
	}
}

// outputOf is what the last command wrote.
func outputOf(t *testing.T, e *env) string {
	t.Helper()
	return e.stdout.(*strings.Builder).String()
}
