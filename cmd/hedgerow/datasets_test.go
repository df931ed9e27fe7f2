package main

import (
	"context"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// The check rows that lie in the repository hold through the command itself;
// their sources are named in the file.
func TestVerifyOpenData(t *testing.T) {
	var stdout, stderr strings.Builder
	e := &env{
		ctx: context.Background(), stdin: strings.NewReader(""), stdout: &stdout, stderr: &stderr,
		getenv: func(string) string { return "" }, now: time.Now,
	}
	rows := filepath.Join("..", "..", "testdata", "datasets", "rows.csv")
	if code := run(e, []string{"verify", "--file", rows}); code != exitDone {
		t.Fatalf("exit %d\n%s%s", code, &stdout, &stderr)
	}
	if !strings.Contains(stdout.String(), "check rows hold") {
		t.Errorf("verify said %s", &stdout)
	}
}
