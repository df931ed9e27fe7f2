package main

import (
	"context"
	"database/sql"
	"io"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A write while another program holds the notebook waits, then ends with exit
// code 5, says what to do, and has written nothing; reading goes on meanwhile.
func TestBusyNotebook(t *testing.T) {
	if testing.Short() {
		t.Skip("waits as long as a writer waits, five seconds")
	}
	t.Parallel()
	db := filepath.Join(t.TempDir(), "notebook.db")
	var stdout, stderr strings.Builder
	command := func(args ...string) int {
		stdout.Reset()
		stderr.Reset()
		return run(&env{ctx: context.Background(), stdin: strings.NewReader(""), stdout: &stdout,
			stderr: io.Writer(&stderr), now: time.Now,
			getenv: func(string) string { return "" }}, append([]string{"--db", db}, args...))
	}
	if code := command("batch", "new", "a", "--volume", "1L"); code != exitDone {
		t.Fatalf("exit %d: %s", code, &stderr)
	}
	other, err := sql.Open("sqlite", db)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	other.SetMaxOpenConns(1)
	if _, err := other.Exec("BEGIN IMMEDIATE"); err != nil {
		t.Fatal(err)
	}
	if code := command("batch", "list"); code != exitDone {
		t.Errorf("reading a busy notebook: exit %d: %s", code, &stderr)
	}
	if code := command("batch", "new", "b", "--volume", "1L"); code != exitBusy {
		t.Errorf("writing a busy notebook: exit %d, want %d", code, exitBusy)
	}
	if !strings.Contains(stderr.String(), "another hedgerow is writing") ||
		!strings.Contains(stderr.String(), "try again") {
		t.Errorf("a busy notebook is told as %q", &stderr)
	}
	if _, err := other.Exec("ROLLBACK"); err != nil {
		t.Fatal(err)
	}
	if code := command("batch", "show", "b"); code != exitNotFound {
		t.Errorf("the refused batch is there: exit %d", code)
	}
	if code := command("batch", "new", "b", "--volume", "1L"); code != exitDone {
		t.Errorf("the notebook stays shut: exit %d: %s", code, &stderr)
	}
}
