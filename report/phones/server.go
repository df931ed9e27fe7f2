package phones

import (
	"context"
	"io"
	"log"
	"net"
	"net/http"
	"time"
)

// Serve answers on a listener until the context ends; then what was begun is brought to
// its end first.
func Serve(ctx context.Context, l net.Listener, h http.Handler) error {
	// a browser that never ends its request must not hold a place for long
	s := &http.Server{Handler: h, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 10 * time.Second,
		WriteTimeout: 10 * time.Second, IdleTimeout: time.Minute, MaxHeaderBytes: 16 << 10,
		// its lines tell of broken requests by their address, and an address holds a token
		ErrorLog: log.New(io.Discard, "", 0)}
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(l) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	const patience = 5 * time.Second
	last, stop := context.WithTimeout(context.WithoutCancel(ctx), patience)
	defer stop()
	if s.Shutdown(last) != nil {
		return s.Close()
	}
	return nil
}
