package main

import (
	"context"
	"net"
	"strconv"
	"sync"
	"time"

	"hedgerow/report/document"
	"hedgerow/report/phones"
	"hedgerow/trials"

	"github.com/spf13/cobra"
)

// serveOptions are what a tasting is served with, as typed.
type serveOptions struct {
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

Ctrl-C ends it; what was sent is kept. Links end with it.
Stored with each score: who, when, the glass and its position in the order.`,
		Example:           `  hedgerow tasting serve club-night`,
		Args:              exactly("TASTING"),
		ValidArgsFunction: e.completing(tastingNames),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.runTastingServe(o, args[0])
		},
	}
	c.Flags().StringVar(&o.hours, "for", "3h", "how long at most")
	return c
}

// The ports that are asked for first, so that links stay good over a restart.
const phonesPort = 8137

// runTastingServe serves a tasting until its time is over or it is interrupted.
func (e *env) runTastingServe(o serveOptions, name string) error {
	minutes, err := parseMinutes(o.hours)
	if err != nil {
		return inFlag("for", err)
	}
	n, err := e.readingScores()
	if err != nil {
		return err
	}
	t, err := servable(n, name)
	if err != nil {
		return err
	}
	ctx, stop := context.WithTimeout(e.ctx, time.Duration(minutes*float64(time.Minute)))
	defer stop()
	// an answer that is being written when the end comes is written to its end
	defer func(was context.Context) { e.ctx = was }(e.ctx)
	e.ctx = context.WithoutCancel(e.ctx)
	l, err := listen("127.0.0.1", phonesPort)
	if err != nil {
		return err
	}
	d := &desk{e: e, tastingID: t.ID}
	v, err := phones.New(n, t, phones.Book{Read: d.read, Enter: d.enter}, l.Addr().String(), e.now)
	if err != nil {
		return err
	}
	if err := e.show(linksView(t, v.Links(n), e.now().Add(time.Duration(minutes*float64(time.Minute))))); err != nil {
		return err
	}
	return phones.Serve(ctx, l, v.Phones())
}

// servable finds a tasting that can be scored on phones.
func servable(n *trials.Notebook, name string) (trials.Tasting, error) {
	t, err := openTasting(n, name, false)
	switch {
	case err != nil:
		return t, err
	case t.Alone:
		return t, trials.Refuse("hedgerow tasting score "+t.Name, "tasting %s is done by one person alone", t.Name)
	case len(n.Expected(t.ID)) == 0:
		return t, trials.Refuse("give them an order: hedgerow tasting join "+t.Name+` "Taster A" "Taster B"`,
			"nobody has an order in tasting %s", t.Name)
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

// linksView shows the links of the tasters.
func linksView(t trials.Tasting, links []phones.Link, until time.Time) document.View {
	table := document.Table{Columns: []document.Column{{Title: "taster"}, {Title: "link"}}}
	for _, l := range links {
		table.Rows = append(table.Rows, []string{l.Taster, l.URL})
	}
	return document.View{
		Document: document.Document{Title: "Tasting " + t.Name + " is served until " + until.Format("15:04"),
			Sections: []document.Section{{Table: &table, Notes: []string{"one link, one taster; Ctrl-C ends it"}}}},
		Payload: struct {
			Tasting string        `json:"tasting"`
			Until   time.Time     `json:"until"`
			Links   []phones.Link `json:"links"`
		}{t.Name, until, links},
	}
}

// desk takes what phones send, one after the other: an env holds one write at a time.
type desk struct {
	mu        sync.Mutex
	e         *env
	tastingID string
}

// read reads the notebook with its scores.
func (d *desk) read() (*trials.Notebook, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.e.readingScores()
}

// enter keeps the answers of one taster about one glass, in the place of those before.
func (d *desk) enter(m trials.Marks) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	defer d.e.release()
	n, err := d.e.writingScores()
	if err != nil {
		return err
	}
	t, err := d.tasting(n)
	if err != nil {
		return err
	}
	entry, err := n.Revise(t, m, d.e.now())
	if err != nil || entry.Empty() {
		return err
	}
	return d.e.keepScores(n, t, &entry)
}

// tasting finds the tasting that is served, which must still take scores.
func (d *desk) tasting(n *trials.Notebook) (trials.Tasting, error) {
	for _, t := range n.Tastings {
		if t.ID == d.tastingID {
			return openTasting(n, t.Name, false)
		}
	}
	return trials.Tasting{}, &trials.Problem{Code: trials.NotFound, Message: "the tasting is not in the notebook any more"}
}
