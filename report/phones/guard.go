package phones

import (
	"net"
	"net/http"
	"sync"
	"time"
)

// contentPolicy lets a page use what its own server sends and nothing else: no script
// or style within a page, no frame around it, no form to elsewhere.
const contentPolicy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; " +
	"connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// mostBody is the largest form, with a note of 500 letters many times over.
const mostBody = 16 << 10

// guarded puts what holds for every answer around a handler: the names by which the
// server may be asked, headers, and the refusal of forms from other sites.
func guarded(host string, h http.Handler) http.Handler {
	h = http.NewCrossOriginProtection().Handler(h)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		head.Set("Content-Security-Policy", contentPolicy)
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("X-Frame-Options", "DENY")
		// with no-referrer a browser would send the forms of these pages with "Origin: null"
		head.Set("Referrer-Policy", "same-origin")
		head.Set("Cross-Origin-Resource-Policy", "same-origin")
		head.Set("Cache-Control", "no-store")
		// a name that was made to point here by others must not reach the pages
		if r.Host != host {
			http.Error(w, "this server does not go by that name", http.StatusMisdirectedRequest)
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, mostBody)
		h.ServeHTTP(w, r)
	})
}

// failures counts the wrong links that come from each address, and only those: phones
// behind one address must not shut each other out.
type failures struct {
	mu    sync.Mutex
	since time.Time
	count map[string]int
}

// How many wrong links an address may ask for in a while, and how many addresses are
// counted at once.
const (
	mostFailures  = 20
	failureWindow = time.Minute
	mostAddresses = 1000
)

// add counts a failure of whoever asks and reports whether there were too many.
func (f *failures) add(r *http.Request, now time.Time) (tooMany bool) {
	address, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		address = r.RemoteAddr
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.count == nil || now.Sub(f.since) > failureWindow || len(f.count) > mostAddresses {
		f.since, f.count = now, map[string]int{}
	}
	f.count[address]++
	return f.count[address] > mostFailures
}
