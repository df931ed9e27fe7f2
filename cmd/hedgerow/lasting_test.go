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
	// the true time, like that of the commands typed: by another clock what is killed would be refused
	c.Env = append(os.Environ(), clockVariable+"="+time.Now().Format(time.RFC3339Nano), "HEDGEROW_DB=")
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

// tally counts what kills left behind.
type tally struct {
	kills   int // programs that were killed
	written int // of them after what they wrote was there
	lost    int // acknowledged and not there
	half    int // a part of a write
	damaged int // notebooks that cannot be used, or in which check finds something
}

// spanOfKills is how many programs are killed on one notebook and by one measured
// lifetime. A notebook that went on would grow, and each look at it with it; a
// lifetime measured once would not hold while the load of the machine changes.
const spanOfKills = 25

// killing kills in spans, as many at once as there are processors, and demands that
// nothing is lost. span is given how many to kill.
func killing(t *testing.T, span func(t *testing.T, kills int) tally) {
	t.Helper()
	var all tally
	var mu sync.Mutex
	left := rounds(t, 10)
	t.Run("spans", func(t *testing.T) {
		for ; left > 0; left -= spanOfKills {
			kills := min(left, spanOfKills)
			t.Run("", func(t *testing.T) {
				t.Parallel()
				one := span(t, kills)
				mu.Lock()
				defer mu.Unlock()
				all.kills += one.kills
				all.written += one.written
				all.lost += one.lost
				all.half += one.half
				all.damaged += one.damaged
			})
		}
	})
	t.Logf("kills: %d, of them after it was written %d; acknowledged and lost %d, half written %d, damaged %d",
		all.kills, all.written, all.lost, all.half, all.damaged)
	if all.lost+all.half+all.damaged > 0 {
		t.Error("a kill lost or damaged something")
	}
	if all.kills >= 100 && (all.written == 0 || all.written == all.kills) {
		t.Error("the kills miss the write: all came before it, or all after")
	}
}

// within draws a moment to kill at: within the lifetime, or a little after.
func within(lifetime time.Duration) time.Duration {
	return time.Duration(rand.Float64() * 1.2 * float64(lifetime))
}

// lifetime is how long a whole command takes here and now, so that kills fall into it.
func lifetime(t *testing.T, db string, args ...string) time.Duration {
	t.Helper()
	begun := time.Now()
	runs(t, db, args...)
	return time.Since(begun)
}

// A first write that is killed at any moment leaves a notebook that the next
// command makes or goes on with, and what it said it had saved is there.
func TestKilledFirstWrite(t *testing.T) {
	t.Parallel()
	killing(t, func(t *testing.T, kills int) (all tally) {
		first := []string{"batch", "new", "a", "--volume", "1L"}
		whole := lifetime(t, filepath.Join(t.TempDir(), "n.db"), first...)
		for range kills {
			db := filepath.Join(t.TempDir(), "n.db")
			said := killed(t, within(whole), db, first...)
			all.kills++
			if code, out := typed(db, "batch", "new", "b", "--volume", "1L"); code != exitDone {
				t.Logf("exit %d: %s", code, out)
				all.damaged++
				continue
			}
			_, list := typed(db, "batch", "list", "--csv")
			there := strings.Contains(list, "\na,")
			if there {
				all.written++
			}
			if !strings.Contains(list, "\nb,") || strings.Contains(said, "started") && !there {
				t.Logf("said %q, kept\n%s", said, list)
				all.lost++
			}
		}
		return all
	})
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
