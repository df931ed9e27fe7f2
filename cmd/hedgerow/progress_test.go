package main

import (
	"strings"
	"testing"
	"time"
)

// ticks is a writer that tells when something was written.
type ticks struct {
	text strings.Builder
	told chan struct{}
}

func (t *ticks) Write(p []byte) (int, error) {
	n, err := t.text.Write(p)
	select {
	case t.told <- struct{}{}:
	default:
	}
	return n, err
}

// What is going on is said while it goes on, and the line is cleared at the end;
// quick work says nothing.
func TestProgress(t *testing.T) {
	w := &ticks{told: make(chan struct{}, 1)}
	done := sayWorking(w, "gathering the trials", time.Millisecond)
	<-w.told
	done()
	if got := w.text.String(); !strings.HasPrefix(got, "\rgathering the trials ...\x1b[K") ||
		!strings.HasSuffix(got, "\r\x1b[K") {
		t.Errorf("%q", got)
	}
	quick := &ticks{told: make(chan struct{}, 1)}
	sayWorking(quick, "nothing", time.Hour)()
	if got := quick.text.String(); got != "" {
		t.Errorf("quick work says %q", got)
	}
}

func TestWholeSeconds(t *testing.T) {
	for d, want := range map[time.Duration]string{500 * time.Millisecond: "", time.Second: " 1 s",
		2900 * time.Millisecond: " 2 s"} {
		if got := wholeSeconds(d); got != want {
			t.Errorf("%v is %q, want %q", d, got, want)
		}
	}
}

// Into a file or a pipe nothing is said.
func TestNoProgressWithoutATerminal(t *testing.T) {
	var out strings.Builder
	e := &env{stderr: &out}
	e.working("nothing")()
	if out.Len() > 0 {
		t.Errorf("%q", out.String())
	}
}
