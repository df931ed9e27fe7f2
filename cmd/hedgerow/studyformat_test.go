package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// studyKeys are the JSON keys of a study and of what it holds, as its source has them.
func studyKeys(t *testing.T) []string {
	t.Helper()
	var keys []string
	for _, file := range []string{"study.go", "totaste.go", "brewers.go"} {
		text, err := os.ReadFile(filepath.Join("..", "..", "report", "evidence", file))
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile("`json:\"(\\w+)").FindAllStringSubmatch(string(text), -1) {
			keys = append(keys, m[1])
		}
	}
	if len(keys) < 40 {
		t.Fatalf("only %d keys were found", len(keys))
	}
	return keys
}

// The page names every key that a study has, and the study on it is answered.
func TestStudyFormatIsWhole(t *testing.T) {
	page := studyTopic.command().Long
	for _, key := range studyKeys(t) {
		if !regexp.MustCompile(`\b` + key + `\b`).MatchString(page) {
			t.Errorf("the page does not name %q", key)
		}
	}
	_, study, _ := strings.Cut(page, "  {")
	study, _, _ = strings.Cut("{"+study, "\n\n")
	var said strings.Builder
	e := envOf(strings.NewReader(strings.Join(strings.Fields(study), " ")), &said)
	code := run(e, []string{"suggest", "--study", "-"})
	if code != exitDone || !strings.Contains(said.String(), `"id":"a"`) {
		t.Errorf("%d: %s", code, said.String())
	}
}
