package main

import (
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// tickingEnv is an exampleEnv whose clock goes on by a moment with every look at it.
func tickingEnv(db string) *env {
	e := exampleEnv(db, "")
	at := e.now()
	e.now = func() time.Time {
		at = at.Add(time.Millisecond)
		return at
	}
	return e
}

// TestAllPouredLeavesNothing checks that a tea that went in whole is not called left,
// though the clock goes on between the addition and its being written.
func TestAllPouredLeavesNothing(t *testing.T) {
	e := tickingEnv(filepath.Join(t.TempDir(), "n.db"))
	runLine(t, e, `batch new moor --volume 20L --og 1.048 --at "10 days ago"`)
	runLine(t, e, `addition add moor hibiscus 30g --form cut --as tea --pass "400mL 96C>60C 30min drained"`)
	if said := e.stderr.(*strings.Builder).String(); strings.Contains(said, "is left") {
		t.Errorf("of a tea of which all was poured something is said to be left:\n%s", said)
	}
}
