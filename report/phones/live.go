package phones

import (
	"fmt"
	"net/http"
	"sync"
	"time"
)

// changes wakes whoever waits for something to happen on a phone.
type changes struct {
	mu   sync.Mutex
	next chan struct{} // closed at the next change
}

// wait returns a channel that is closed at the next change.
func (c *changes) wait() <-chan struct{} {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.next == nil {
		c.next = make(chan struct{})
	}
	return c.next
}

// tell wakes all who wait.
func (c *changes) tell() {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.next != nil {
		close(c.next)
		c.next = nil
	}
}

// lookAgain is how often the notebook is looked at although no phone sent anything: a
// sheet may have been typed in a terminal.
const lookAgain = 3 * time.Second

// live tells the brewer's page each time that what it shows has changed; what it is now
// the page asks for itself.
func (v *Evening) live(w http.ResponseWriter, r *http.Request) {
	// the deadline of ordinary answers would end this one
	c := http.NewResponseController(w)
	if c.SetWriteDeadline(time.Time{}) != nil {
		return
	}
	w.Header().Set("Content-Type", "text/event-stream")
	shown := ""
	for {
		changed := v.changes.wait()
		if n, err := v.book.Read(); err == nil {
			if now := fmt.Sprint(v.brewerPage(n, "")); now != shown {
				shown = now
				fmt.Fprint(w, "retry: 2000\ndata: changed\n\n")
			}
		}
		if c.Flush() != nil {
			return
		}
		select {
		case <-r.Context().Done():
			return
		case <-changed:
		case <-time.After(lookAgain):
		}
	}
}
