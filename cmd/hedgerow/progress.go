package main

import (
	"fmt"
	"io"
	"sync"
	"time"
)

// patience is how long a piece of work may take before the terminal says what is
// going on.
const patience = 500 * time.Millisecond

// working says on a terminal what is being worked out, once it takes longer than
// half a second, with the seconds so far; the line goes away when done is called.
// Nothing may be written between the two. Where standard error is no terminal,
// or with --quiet, nothing is said.
func (e *env) working(what string) (done func()) {
	// in a file or a pipe the line could not be taken back
	if e.flags.quiet || !isTerminal(e.stderr) {
		return func() {}
	}
	// the terminal itself: what is said here steers it
	return sayWorking(behind(e.stderr).(io.Writer), what, patience)
}

// sayWorking says what is being worked out every so often.
func sayWorking(w io.Writer, what string, every time.Duration) (done func()) {
	var said sync.WaitGroup
	stop := make(chan struct{})
	said.Go(func() {
		ticker := time.NewTicker(every)
		defer ticker.Stop()
		for ticks := 1; ; ticks++ {
			select {
			case <-stop:
				if ticks > 1 {
					fmt.Fprint(w, "\r\x1b[K") // back to the start of the line, and clear it
				}
				return
			case <-ticker.C:
				fmt.Fprintf(w, "\r%s ...%s\x1b[K", what, wholeSeconds(time.Duration(ticks)*every))
			}
		}
	})
	return func() {
		close(stop)
		// else the line could be cleared after the answer has begun, and take a part of it along
		said.Wait()
	}
}

// wholeSeconds prints the whole seconds of a duration, nothing below one.
func wholeSeconds(d time.Duration) string {
	if d < time.Second {
		return ""
	}
	return fmt.Sprintf(" %d s", d/time.Second)
}
