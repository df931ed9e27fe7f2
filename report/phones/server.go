package phones

import (
	"context"
	"errors"
	"io"
	"log"
	"net"
	"net/http"
	"time"
)

// Serve answers phones on one listener and the brewer on the other until the context ends;
// then what was begun is brought to its end first.
func (v *Evening) Serve(ctx context.Context, phones, brewer net.Listener) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	ended := make(chan error, 1)
	go func() {
		ended <- serve(ctx, brewer, v.BrewerPages())
		stop() // one without the other helps nobody
	}()
	err := serve(ctx, phones, v.PhonePages())
	stop()
	return errors.Join(err, <-ended)
}

// serve answers on one listener until the context ends.
func serve(ctx context.Context, l net.Listener, h http.Handler) error {
	// a browser that never ends its request must not hold a place for long
	s := &http.Server{Handler: h, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 10 * time.Second,
		WriteTimeout: 10 * time.Second, IdleTimeout: time.Minute, MaxHeaderBytes: 16 << 10,
		// what is told live goes on until the end, and no longer
		BaseContext: func(net.Listener) context.Context { return ctx },
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
