package main

import (
	"context"
	"io"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A command that waits for standard input ends with 130 when it is interrupted
// (the code of a process ended by SIGINT, 128+2, as shells report it) and has
// written nothing.
func TestInterruptedWhileReading(t *testing.T) {
	db := filepath.Join(t.TempDir(), "notebook.db")
	var stderr strings.Builder
	command := func(ctx context.Context, stdin io.Reader, args ...string) int {
		stderr.Reset()
		return run(&env{ctx: ctx, stdin: stdin, stdout: io.Discard, stderr: &stderr, now: time.Now,
			getenv: func(string) string { return "" }}, append([]string{"--db", db}, args...))
	}
	for _, args := range [][]string{
		{"batch", "new", "a", "--volume", "1L"}, {"batch", "new", "b", "--volume", "1L"},
		{"tasting", "new", "t", "--serving", "a,b", "--attribute", "floral"},
	} {
		if code := command(context.Background(), strings.NewReader(""), args...); code != exitDone {
			t.Fatalf("%v: exit %d: %s", args, code, &stderr)
		}
	}
	for _, args := range [][]string{{"tasting", "score", "t", "-"}, {"suggest", "--study", "-"}} {
		ctx, interrupt := context.WithCancel(context.Background())
		stdin, keyboard := io.Pipe()
		go func() {
			keyboard.Write([]byte("serving,taster,floral\n")) // returns once the command has begun to read
			interrupt()
		}()
		if code := command(ctx, stdin, args...); code != exitInterrupted {
			t.Errorf("%v: exit %d, want %d: %s", args, code, exitInterrupted, &stderr)
		}
		keyboard.Close()
	}
	var out strings.Builder
	run(&env{ctx: context.Background(), stdin: strings.NewReader(""), stdout: &out, stderr: io.Discard, now: time.Now,
		getenv: func(string) string { return "" }}, []string{"--db", db, "taster", "list", "--json"})
	if !strings.Contains(out.String(), `"rows": []`) {
		t.Errorf("an interrupted command wrote %s", &out)
	}
}
