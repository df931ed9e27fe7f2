package main

import (
	"context"
	"net"
	"strconv"
	"time"

	"hedgerow/report/phones"
	"hedgerow/trials"

	"github.com/spf13/cobra"
)

// serveOptions are what a tasting is served with, as typed.
type serveOptions struct {
	lan   string // address of this machine on the home network, anyAddress to find it, empty for none
	hours string // how long
}

func newTastingServe(e *env) *cobra.Command {
	o := serveOptions{}
	c := &cobra.Command{
		Use:   "serve TASTING",
		Short: "Let the tasters score on their phones",
		Long: `Serve a page for each taster, behind a link that cannot be guessed: the next glass in
their own order, the questions of the score sheet, back to any glass until the
tasting is closed. Pages tell codes, never what is behind them. Answers go into the
notebook as those of hedgerow tasting score do, and both can be used in one evening.

Without --lan only this machine reaches the pages. With it phones on the home network
do, over plain http: whoever is on that network could read along. The brewer's page
stays on this machine: who has sent what, links and QR codes, late tasters, the close
of the tasting and its result.

It ends after --for, ten minutes after the close, or with Ctrl-C; what was sent is
kept, and links end with it. Only "cannot tell" is forgotten then: a glass of which
nothing else was said counts as missing, and is asked about again, when the tasting
is served anew.
Stored with each score: who, when, the glass and its position in the order.`,
		Example: `  hedgerow tasting serve club-night --lan
  hedgerow tasting serve club-night --lan=192.168.0.20 --for 2h`,
		Args:              exactly("TASTING"),
		ValidArgsFunction: e.completing(tastingNames),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.runTastingServe(o, args[0])
		},
	}
	f := c.Flags()
	f.StringVar(&o.lan, "lan", "", "let phones on the home network in; which address, if this machine has several")
	f.Lookup("lan").NoOptDefVal = anyAddress
	f.StringVar(&o.hours, "for", "3h", "how long at most")
	return c
}

// The ports that are asked for first, so that a page that is still open finds its server again.
const phonesPort, brewerPort = 8137, 8136

// afterClose is how long the pages stay when the tasting is closed.
const afterClose = 10 * time.Minute

// loopback is the address that this machine alone reaches.
const loopback = "127.0.0.1"

// runTastingServe serves a tasting until its time is over or it is interrupted.
func (e *env) runTastingServe(o serveOptions, name string) error {
	long, err := servingTime(o.hours)
	if err != nil {
		return err
	}
	address, err := o.address()
	if err != nil {
		return err
	}
	n, err := e.readingScores()
	if err != nil {
		return err
	}
	t, err := servable(n, name)
	if err != nil {
		return err
	}
	ctx, stop := context.WithTimeout(e.ctx, long)
	defer stop()
	// an answer that is being written when the end comes is written to its end
	defer func(was context.Context) { e.ctx = was }(e.ctx)
	e.ctx = context.WithoutCancel(e.ctx)
	pages, err := listen(address, phonesPort)
	if err != nil {
		return err
	}
	defer pages.Close()
	own, err := listen(loopback, brewerPort)
	if err != nil {
		return err
	}
	defer own.Close()
	d := &desk{e: e, tastingID: t.ID, closed: func() {
		e.say("%s is closed; its pages end in %d minutes, or with Ctrl-C", t.Name, int(afterClose.Minutes()))
		time.AfterFunc(afterClose, stop)
	}}
	v, err := phones.New(n, t, d.book(), phones.Setting{Phones: pages.Addr().String(), Brewer: own.Addr().String(),
		LAN: o.lan != "", Until: e.now().Add(long), Now: e.now})
	if err != nil {
		return err
	}
	if err := e.showServed(n, t, v); err != nil {
		return err
	}
	return v.Serve(ctx, pages, own)
}

// servingTime reads how long a tasting is served.
func servingTime(text string) (time.Duration, error) {
	minutes, err := parseMinutes(text)
	if err != nil {
		return 0, inFlag("for", err)
	}
	const least, most = 1, 24 * 60
	if minutes < least || minutes > most {
		return 0, trials.Refuse("write --for 3h", "--for: %q is outside 1min to 24h", text)
	}
	return time.Duration(minutes * float64(time.Minute)), nil
}

// servable finds a tasting that can be scored on phones.
func servable(n *trials.Notebook, name string) (trials.Tasting, error) {
	t, err := n.Tasting(name)
	switch {
	case err != nil:
		return t, err
	case t.ClosedAt != nil:
		return t, trials.Refuse("hedgerow tasting show "+t.Name, "tasting %s is closed", t.Name)
	case dropped(n, t):
		return t, trials.Refuse("hedgerow tasting score "+t.Name+", or --html sheets: hedgerow tasting sheet "+t.Name,
			"tasting %s is dosed to taste, which is not asked on phones", t.Name)
	case t.Alone:
		return t, trials.Refuse("hedgerow tasting score "+t.Name, "tasting %s is done by one person alone", t.Name)
	}
	return t, nil
}

// listen takes a port of an address: the one asked for, or any where it is taken.
func listen(address string, port int) (net.Listener, error) {
	l, err := net.Listen("tcp", net.JoinHostPort(address, strconv.Itoa(port)))
	if err != nil {
		l, err = net.Listen("tcp", net.JoinHostPort(address, "0"))
	}
	if err != nil {
		return nil, &trials.Problem{Code: trials.Failed, Message: "cannot serve at " + address + ": " + err.Error(),
			Hint: "see which addresses this machine has"}
	}
	return l, nil
}
