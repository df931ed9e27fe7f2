package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// modernc.org/sqlite works only with the version of modernc.org/libc that its own
// go.mod asks for (its README says so); a newer one chosen by an upgrade of
// something else breaks it quietly.
func TestLibcIsTheOneOfSQLite(t *testing.T) {
	ours, err := os.ReadFile(filepath.Join("..", "..", "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	sqlite := requiredVersion(t, "our go.mod", string(ours), "modernc.org/sqlite")
	out, err := exec.Command("go", "list", "-m", "-f", "{{.GoMod}}", "modernc.org/sqlite@"+sqlite).Output()
	if err != nil {
		t.Fatalf("where is the go.mod of modernc.org/sqlite: %v", err)
	}
	theirs, err := os.ReadFile(strings.TrimSpace(string(out)))
	if err != nil {
		t.Fatal(err)
	}
	got := requiredVersion(t, "our go.mod", string(ours), "modernc.org/libc")
	want := requiredVersion(t, "the go.mod of modernc.org/sqlite", string(theirs), "modernc.org/libc")
	if got != want {
		t.Errorf("go.mod has modernc.org/libc %s, modernc.org/sqlite %s wants %s", got, sqlite, want)
	}
}

// requiredVersion finds the version of a module in a go.mod.
func requiredVersion(t *testing.T, where, text, module string) string {
	t.Helper()
	m := regexp.MustCompile(`(?m)^\s*(?:require\s+)?` + regexp.QuoteMeta(module) + `\s+(v\S+)`).FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("%s does not require %s", where, module)
	}
	return m[1]
}
