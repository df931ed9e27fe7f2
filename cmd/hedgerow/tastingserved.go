package main

import (
	"fmt"
	"io"
	"net"
	"strings"
	"time"

	"hedgerow/report/document"
	"hedgerow/report/phones"
	"hedgerow/trials"
)

// anyAddress is --lan without a value: the one address that this machine has.
const anyAddress = "any"

// address is where phones reach the pages.
func (o serveOptions) address() (string, error) {
	if o.lan == "" {
		return loopback, nil
	}
	all, err := net.InterfaceAddrs()
	if err != nil {
		return "", &trials.Problem{Code: trials.Failed, Message: "cannot see the networks of this machine: " + err.Error()}
	}
	return lanAddress(o.lan, all)
}

// lanAddress chooses the address on the home network out of all that this machine has:
// the one that was typed, or the only one there is. One that is reached from everywhere
// is never taken.
func lanAddress(typed string, all []net.Addr) (string, error) {
	var private []string
	for _, a := range all {
		if n, ok := a.(*net.IPNet); ok && n.IP.IsPrivate() && n.IP.To4() != nil {
			private = append(private, n.IP.String())
		}
	}
	for _, a := range private {
		if a == typed || typed == anyAddress && len(private) == 1 {
			return a, nil
		}
	}
	switch {
	case len(private) == 0:
		return "", &trials.Problem{Code: trials.NotFound, Message: "this machine has no address on a home network",
			Hint: "join the Wi-Fi first; without --lan the pages stay on this machine"}
	case typed == anyAddress:
		return "", trials.Refuse("choose the one the phones are on: --lan="+private[0],
			"this machine has several addresses: %s", strings.Join(private, ", "))
	}
	return "", trials.Refuse("write --lan="+strings.Join(private, " or --lan="),
		"--lan: %q is no address of this machine on a home network", typed)
}

// showServed tells where a tasting is served.
func (e *env) showServed(n *trials.Notebook, t trials.Tasting, v *phones.Evening) error {
	if err := e.show(servedView(t, v, v.Links(n))); err != nil {
		return err
	}
	if v.LAN && !e.flags.json && !e.flags.csv && !e.flags.markdown {
		if err := e.showCode(v.JoinURL()); err != nil {
			return err
		}
	}
	e.next("open %s in a browser", v.BrewerURL())
	return nil
}

// showCode draws a QR code. On a terminal the colours are set, since cameras want dark
// on light and terminals are of both kinds.
func (e *env) showCode(text string) error {
	drawn, err := phones.Letters(text)
	if err != nil {
		return err
	}
	out := e.stdout
	if isTerminal(e.stdout) {
		const blackOnWhite, asBefore = "\x1b[30;107m", "\x1b[0m"
		drawn = blackOnWhite + strings.ReplaceAll(strings.TrimSuffix(drawn, "\n"), "\n",
			asBefore+"\n"+blackOnWhite) + asBefore + "\n"
		// the terminal itself: what is written here steers it
		out = behind(e.stdout).(io.Writer)
	}
	_, err = fmt.Fprintf(out, "\n%s", drawn)
	return err
}

// servedView shows the links of an evening.
func servedView(t trials.Tasting, v *phones.Evening, links []phones.Link) document.View {
	table := document.Table{Columns: []document.Column{{Title: "page"}, {Title: "link"}}}
	for _, l := range links {
		table.Rows = append(table.Rows, []string{l.Taster, l.URL})
	}
	table.Rows = append(table.Rows, []string{"for all", v.JoinURL()}, []string{"the brewer", v.BrewerURL()})
	notes := []string{"one link, one taster; whoever opens the one for all chooses a name that is free",
		"the brewer's page is on this machine alone; Ctrl-C ends it all"}
	if v.LAN {
		notes = append(notes, "plain http on the home network: whoever is on it could read along")
	} else {
		notes = append(notes, "only this machine reaches the pages; --lan lets phones in")
	}
	return document.View{
		Document: document.Document{Title: "Tasting " + t.Name + " is served until " + v.Until.Format("15:04"),
			Sections: []document.Section{{Table: &table, Notes: notes}}},
		Payload: struct {
			Tasting string        `json:"tasting"`
			Until   time.Time     `json:"until"`
			Brewer  string        `json:"brewer"`
			Join    string        `json:"join"`
			Links   []phones.Link `json:"links"`
		}{t.Name, v.Until, v.BrewerURL(), v.JoinURL(), links},
	}
}
