package main

import (
	"context"
	"io"
)

// input is standard input that stops when the program is interrupted: a read
// that waits for a person must not outlast Ctrl-C.
func (e *env) input() io.Reader { return interruptible{e.ctx, e.stdin} }

// interruptible is a reader that gives up when its context ends.
type interruptible struct {
	ctx context.Context
	r   io.Reader
}

// Read implements io.Reader. The read that waits is left behind; the program
// ends soon after.
func (i interruptible) Read(p []byte) (int, error) {
	type result struct {
		data []byte
		err  error
	}
	// room for one: the read that is left behind must not hang on a result that nobody takes
	done := make(chan result, 1)
	go func() {
		// memory of its own, since p belongs to the caller again once this has returned
		own := make([]byte, len(p))
		n, err := i.r.Read(own)
		done <- result{own[:n], err}
	}()
	select {
	case <-i.ctx.Done():
		return 0, i.ctx.Err()
	case r := <-done:
		return copy(p, r.data), r.err
	}
}
