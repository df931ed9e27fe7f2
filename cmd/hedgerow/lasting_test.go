package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
)

// longVariable makes the tests of what must not be lost long: it is the number
// of rounds of each. See "What cannot be lost" in DEVELOPERS.md.
const longVariable = "HEDGEROW_LONG"

// rounds is how often a test of this kind tries: a few times, or as often as
// longVariable says.
func rounds(t *testing.T, few int) int {
	t.Helper()
	long, err := strconv.Atoi(os.Getenv(longVariable))
	switch {
	case err == nil:
		return long
	case testing.Short():
		t.Skip("starts and kills programs")
	}
	return few
}

// program is hedgerow as a program of its own on the notebook db.
func program(t *testing.T, db string, args ...string) *exec.Cmd {
	t.Helper()
	path, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(path)
	c.Args = append([]string{"hedgerow", "--db", db}, args...) // the name makes the test binary the program
	c.Env = append(os.Environ(), clockVariable+"="+defaultClock, "HEDGEROW_DB=")
	return c
}

// runs runs a program to its end and demands that it succeeds.
func runs(t *testing.T, db string, args ...string) string {
	t.Helper()
	out, err := program(t, db, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %v\n%s", args, err, out)
	}
	return string(out)
}

// killed starts a program, kills it after a while, and returns what it had said
// by then.
func killed(t *testing.T, after time.Duration, db string, args ...string) string {
	t.Helper()
	c := program(t, db, args...)
	var said bytes.Buffer
	c.Stdout = &said
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	time.Sleep(after)
	c.Process.Kill()
	c.Wait()
	return said.String()
}

// lifetime is how long a whole command takes here, so that kills fall into it.
func lifetime(t *testing.T) time.Duration {
	t.Helper()
	db := filepath.Join(t.TempDir(), "n.db")
	begun := time.Now()
	runs(t, db, "batch", "new", "a", "--volume", "1L")
	return time.Since(begun)
}

// A first write that is killed at any moment leaves a notebook that the next
// command makes or goes on with, and what it said it had saved is there.
func TestKilledFirstWrite(t *testing.T) {
	t.Parallel()
	whole := lifetime(t)
	bricked, lost := 0, 0
	n := rounds(t, 10)
	for range n {
		db := filepath.Join(t.TempDir(), "n.db")
		said := killed(t, time.Duration(rand.Float64()*float64(whole)), db, "batch", "new", "a", "--volume", "1L")
		if out, err := program(t, db, "batch", "new", "b", "--volume", "1L").CombinedOutput(); err != nil {
			t.Logf("%v: %s", err, out)
			bricked++
			continue
		}
		if list := runs(t, db, "batch", "list", "--csv"); !strings.Contains(list, "\nb,") ||
			strings.Contains(said, "started") && !strings.Contains(list, "\na,") {
			t.Logf("said %q, kept\n%s", said, list)
			lost++
		}
	}
	t.Logf("kills in a first write: %d, bricked %d, lost %d", n, bricked, lost)
	if bricked+lost > 0 {
		t.Errorf("of %d first writes that were killed %d left a notebook that cannot be used, %d lost what they said",
			n, bricked, lost)
	}
}

// Several who write first at the same moment all succeed, and all that they
// wrote is there.
func TestFirstWritersAtOnce(t *testing.T) {
	t.Parallel()
	const writers = 8
	n, refused, lost := rounds(t, 3), 0, 0
	for range n {
		db := filepath.Join(t.TempDir(), "n.db")
		refused += refusedOf(t, db, writers)
		for i := range writers {
			if !strings.Contains(runs(t, db, "batch", "list", "--csv"), fmt.Sprintf("\nb%d,", i)) {
				lost++
			}
		}
	}
	t.Logf("first writers at once: %d, refused %d, lost %d", n*writers, refused, lost)
	if refused+lost > 0 {
		t.Errorf("of %d who wrote first at once %d were refused and %d are not there", n*writers, refused, lost)
	}
}

// refusedOf starts writers at once and counts those that are refused.
func refusedOf(t *testing.T, db string, writers int) (refused int) {
	t.Helper()
	var all sync.WaitGroup
	var mu sync.Mutex
	for i := range writers {
		all.Go(func() {
			out, err := program(t, db, "batch", "new", fmt.Sprintf("b%d", i), "--volume", "1L").CombinedOutput()
			mu.Lock()
			defer mu.Unlock()
			if err != nil {
				t.Logf("%v: %s", err, out)
				refused++
			}
		})
	}
	all.Wait()
	return refused
}
