// Command hedgerow is a notebook and a set of calculators for brewers who try
// fruit, flowers, herbs and spices in beer.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
	"time"
)

func main() { os.Exit(realMain()) }

// realMain runs the program in its true surroundings and returns the exit
// status.
func realMain() int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	// else the end of a reader, such as a pager, ends the program before it can say what was saved
	signal.Ignore(syscall.SIGPIPE)
	e := &env{
		ctx:    ctx,
		stdin:  os.Stdin,
		stdout: os.Stdout,
		stderr: os.Stderr,
		getenv: os.Getenv,
		now:    time.Now,
	}
	// rehearsals and tests of whole evenings need a clock that can be set
	if t, err := time.Parse(time.RFC3339, os.Getenv("HEDGEROW_TEST_NOW")); err == nil {
		e.now = func() time.Time { return t.In(time.Local) }
	}
	return run(e, os.Args[1:])
}
