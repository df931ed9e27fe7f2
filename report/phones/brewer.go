package phones

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"net/http"
	"strings"
	"time"

	"hedgerow/trials"
)

// BrewerPages is what the brewer's own machine reaches, and phones never do: who has sent
// what, the links, the close of the tasting, and the result after it.
func (v *Evening) BrewerPages() http.Handler {
	m := http.NewServeMux()
	at := "/brewer/{token}"
	m.HandleFunc("GET /style.css", asset("pages/style.css"))
	m.HandleFunc("GET /brewer.js", asset("pages/brewer.js"))
	m.HandleFunc("GET "+at, v.own(v.overview))
	m.HandleFunc("GET "+at+"/live", v.own(v.live))
	m.HandleFunc("GET "+at+"/result", v.own(v.result))
	m.HandleFunc("POST "+at+"/link", v.own(v.onLink(func(l *link) { v.renew(l) })))
	m.HandleFunc("POST "+at+"/left", v.own(v.onLink(func(l *link) { v.leave(l, true) })))
	m.HandleFunc("POST "+at+"/back", v.own(v.onLink(func(l *link) { v.leave(l, false) })))
	m.HandleFunc("POST "+at+"/join", v.own(v.late))
	m.HandleFunc("POST "+at+"/close", v.own(v.shut))
	m.HandleFunc("/", v.refuseLink)
	return guarded(v.Brewer, m)
}

// brewerPath is the address of the brewer's page without its host.
func (v *Evening) brewerPath() string { return "/brewer/" + v.brewer }

// own lets the brewer through: others may use the same machine.
func (v *Evening) own(next http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if !tokenIs(r.PathValue("token"), v.brewer) {
			v.refuseLink(w, r)
			return
		}
		next(w, r)
	}
}

// progress is how far one taster is: counts, never what was answered.
type progress struct {
	ID, Name    string
	Boxes       []box // one for each glass
	Width       int   // of all boxes
	Sent, Count int
	Last        string // when something was sent last
	Opened      string // since when a phone has the link
	Left        bool   // went home
	Shown       bool   // the link stands beside the table
}

// box is one glass as a square, full once it was sent.
type box struct {
	X    int
	Sent bool
}

// boxStep is how far the squares stand apart.
const boxStep = 18

// brewerPage is the overview.
type brewerPage struct {
	Title, Over, Lead string
	Base              string
	Rows              []progress
	Who               string // whose link is shown; empty for the common one
	ID                string // their id
	Left              bool
	URL               string
	Code              drawing
	LAN               bool
	Until             string
	Missing           int
	MissingText       string
	Blind             bool
	Name              string // of a late taster, as typed
	JoinFault         string
	CloseFault        string
}

// overview shows who has sent what; once the tasting is closed, its result.
func (v *Evening) overview(w http.ResponseWriter, r *http.Request) {
	n, err := v.book.Read()
	if err != nil {
		v.fail(w, err)
		return
	}
	if t, _ := v.tasting(n); t.ClosedAt != nil {
		http.Redirect(w, r, v.brewerPath()+"/result", http.StatusSeeOther)
		return
	}
	v.draw(w, http.StatusOK, "brewer.html", v.brewerPage(n, r.URL.Query().Get("link")))
}

// brewerPage makes the overview with the link of one taster, or the common one.
func (v *Evening) brewerPage(n *trials.Notebook, shown string) brewerPage {
	v.welcome(n)
	t, _ := v.tasting(n)
	p := brewerPage{Base: v.brewerPath(), URL: v.JoinURL(), LAN: v.LAN, Until: v.clock(v.Until), Blind: t.Blind,
		Over: fmt.Sprintf("%s, open since %s, ends by itself at %s", t.Name, v.clock(v.begun), v.clock(v.Until))}
	var waiting []string
	sent, count := 0, 0
	for _, taster := range n.Expected(t.ID) {
		row := v.progress(n, taster)
		if row.ID == shown {
			row.Shown = true
			p.Who, p.ID, p.Left = row.Name, row.ID, row.Left
			p.URL = v.address(v.linkFor(row.ID))
		}
		p.Rows = append(p.Rows, row)
		sent += row.Sent
		count += row.Count
		if missing := row.Count - row.Sent; missing > 0 && !row.Left {
			p.Missing += missing
			waiting = append(waiting, fmt.Sprintf("%s (%d)", row.Name, missing))
		}
		if row.Left {
			count -= row.Count - row.Sent
		}
	}
	p.Title = fmt.Sprintf("%d of %d glasses are in", sent, count)
	p.Lead = "Everybody has sent everything."
	if len(waiting) > 0 {
		p.Lead = "Waiting for " + listed(waiting) + "."
	}
	p.MissingText = "1 glass is missing; close without it"
	if p.Missing != 1 {
		p.MissingText = fmt.Sprintf("%d glasses are missing; close without them", p.Missing)
	}
	// an address always fits a code
	p.Code, _ = draw(p.URL)
	return p
}

// listed joins words as a sentence does.
func listed(words []string) string {
	last := len(words) - 1
	if last == 0 {
		return words[0]
	}
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// progress counts what a taster has sent.
func (v *Evening) progress(n *trials.Notebook, taster trials.Taster) progress {
	row := progress{ID: taster.ID, Name: taster.Name, Last: "nothing yet", Opened: "not opened yet"}
	sent := v.sentGlasses(n, taster.ID)
	var last time.Time
	for i, s := range n.OrderOf(v.tastingID, taster.ID) {
		at, done := sent[s.ID]
		row.Boxes = append(row.Boxes, box{i * boxStep, done})
		row.Count++
		if done {
			row.Sent++
		}
		if at.After(last) {
			last, row.Last = at, "last at "+v.clock(at)
		}
	}
	row.Width = row.Count * boxStep
	if l := v.linkFor(taster.ID); l != nil {
		v.mu.Lock()
		defer v.mu.Unlock()
		row.Left = l.left
		if !l.openedAt.IsZero() {
			row.Opened = "opened " + v.clock(l.openedAt)
		}
	}
	return row
}

// onLink does something with the link of the taster that the form names, and shows it.
func (v *Evening) onLink(do func(*link)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		id := r.PostFormValue("taster")
		if l := v.linkFor(id); l != nil {
			do(l)
			v.changes.tell()
		}
		http.Redirect(w, r, v.brewerPath()+"?link="+id, http.StatusSeeOther)
	}
}

// late takes a taster who came late.
func (v *Evening) late(w http.ResponseWriter, r *http.Request) {
	name := r.PostFormValue("name")
	n, err := v.book.Read()
	if err != nil {
		v.fail(w, err)
		return
	}
	id, err := v.admit(n, name)
	if err != nil {
		p := v.brewerPage(n, "")
		p.Name, p.JoinFault = name, faultText(err)
		v.draw(w, http.StatusUnprocessableEntity, "brewer.html", p)
		return
	}
	http.Redirect(w, r, v.brewerPath()+"?link="+id, http.StatusSeeOther)
}

// shut closes the tasting. Glasses that are missing want a tick.
func (v *Evening) shut(w http.ResponseWriter, r *http.Request) {
	n, err := v.book.Read()
	if err != nil {
		v.fail(w, err)
		return
	}
	p := v.brewerPage(n, "")
	if p.Missing > 0 && r.PostFormValue("missing") == "" {
		p.CloseFault = "tick that you close without what is missing"
	} else if err := v.book.Close(); err != nil {
		p.CloseFault = faultText(err)
	}
	if p.CloseFault != "" {
		v.draw(w, http.StatusUnprocessableEntity, "brewer.html", p)
		return
	}
	v.changes.tell()
	http.Redirect(w, r, v.brewerPath()+"/result", http.StatusSeeOther)
}

// result shows what came out, once nothing is hidden any more.
func (v *Evening) result(w http.ResponseWriter, r *http.Request) {
	n, err := v.book.Read()
	if err != nil {
		v.fail(w, err)
		return
	}
	if t, known := v.tasting(n); !known || t.Sealed() {
		http.Redirect(w, r, v.brewerPath(), http.StatusSeeOther)
		return
	}
	var page bytes.Buffer
	if err := v.book.Result(&page); err != nil {
		v.fail(w, err)
		return
	}
	// such a page carries its style within itself, so that it can be kept as a file
	if style, ok := between(page.String(), "<style>", "</style>"); ok {
		sum := sha256.Sum256([]byte(style))
		w.Header().Set("Content-Security-Policy", strings.Replace(contentPolicy, "style-src 'self'",
			"style-src 'sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"'", 1))
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Write(page.Bytes())
}

// between returns what stands between two words of a text.
func between(text, from, to string) (string, bool) {
	_, rest, begins := strings.Cut(text, from)
	inner, _, ends := strings.Cut(rest, to)
	return inner, begins && ends
}
