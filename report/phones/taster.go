package phones

import (
	"bytes"
	"fmt"
	"maps"
	"net/http"
	"strconv"

	"hedgerow/trials"
)

// PhonePages is what phones reach: the pages of the tasters and nothing else.
func (v *Evening) PhonePages() http.Handler {
	m := http.NewServeMux()
	m.HandleFunc("GET /style.css", asset("pages/style.css"))
	m.HandleFunc("GET /phone.js", asset("pages/phone.js"))
	m.HandleFunc("GET /join/{token}", v.joining(v.names))
	m.HandleFunc("POST /join/{token}", v.joining(v.choose))
	m.HandleFunc("GET /t/{token}", v.taster(v.home))
	m.HandleFunc("POST /t/{token}/start", v.taster(v.start))
	m.HandleFunc("GET /t/{token}/{glass}", v.taster(v.onGlass(v.show)))
	m.HandleFunc("POST /t/{token}/{glass}", v.taster(v.onGlass(v.take)))
	m.HandleFunc("GET /t/{token}/{glass}/sent", v.taster(v.onGlass(v.thank)))
	m.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) { v.refuseLink(w, r) })
	return guarded(v.Phones, m)
}

// asset answers with an embedded file.
func asset(name string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) { http.ServeFileFS(w, r, files, name) }
}

// visit is one request of a taster whose link is known.
type visit struct {
	w       http.ResponseWriter
	r       *http.Request
	n       *trials.Notebook
	tasting trials.Tasting
	taster  trials.Taster
	order   []trials.Serving
	link    *link
	token   string // the link's when it was asked for; the link may have another one since
	started bool   // the link has its phone, which is this one
}

// taster finds out who asks, and answers itself where the link is wrong, the phone is
// another one or the tasting is over.
func (v *Evening) taster(next func(visit)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		token := r.PathValue("token")
		l := v.linkOf(token)
		if l == nil {
			v.refuseLink(w, r)
			return
		}
		n, err := v.book.Read()
		if err != nil {
			v.fail(w, err)
			return
		}
		x := visit{w: w, r: r, n: n, link: l, token: token, order: n.OrderOf(v.tastingID, l.tasterID)}
		var known bool
		x.tasting, known = v.tasting(n)
		for _, t := range n.Tasters {
			if t.ID == l.tasterID {
				x.taster = t
			}
		}
		alive, started, ours := v.owner(r, l, token)
		x.started = started && ours
		switch {
		// the link renewed, or the taster deleted, merged or taken out of the evening meanwhile
		case !alive || !known || x.taster.ID == "" || len(x.order) == 0:
			v.refuseLink(w, r)
		case x.tasting.ClosedAt != nil:
			v.message(w, http.StatusGone, x.closed())
		case started && !ours:
			v.message(w, http.StatusConflict, notice{Title: "This link is in use on another phone", Who: x.taster.Name,
				Text: "Each taster scores on one phone. Ask the brewer for a new link if this one is yours."})
		default:
			next(x)
		}
	}
}

// closed is what a taster sees once the tasting is closed.
func (x visit) closed() notice {
	return notice{Title: "The tasting is closed", Who: x.taster.Name, Tasting: x.tasting.Name,
		Text: "Nothing can be sent or changed any more. Thank you for tasting."}
}

// home leads to the next glass, to the start before that, and after the last one to
// all that was sent.
func (v *Evening) home(x visit) {
	if !x.started {
		v.draw(x.w, http.StatusOK, "start.html", struct {
			Taster, Tasting, Action string
			Glasses                 int
		}{x.taster.Name, x.tasting.Name, x.path("start"), len(x.order)})
		return
	}
	way := v.way(x, -1)
	if next := way.next(0); next > 0 {
		http.Redirect(x.w, x.r, x.path(strconv.Itoa(next)), http.StatusSeeOther)
		return
	}
	v.draw(x.w, http.StatusOK, "sent.html", v.sentPage(x, way, len(x.order)))
}

// start makes the phone that asks the one of the link.
func (v *Evening) start(x visit) {
	if v.bind(x.w, x.r, x.link, x.token) {
		v.changes.tell()
	}
	http.Redirect(x.w, x.r, x.path(""), http.StatusSeeOther)
}

// path is an address below the link.
func (x visit) path(below string) string {
	if below == "" {
		return "/t/" + x.token
	}
	return "/t/" + x.token + "/" + below
}

// onGlass reads the number of the glass; a phone that has not started goes to the start.
func (v *Evening) onGlass(next func(visit, int)) func(visit) {
	return func(x visit) {
		number, err := strconv.Atoi(x.r.PathValue("glass"))
		switch {
		case err != nil || number < 1 || number > len(x.order):
			v.message(x.w, http.StatusNotFound, notice{Title: "There is no such glass", Who: x.taster.Name,
				Text: fmt.Sprintf("Your glasses are 1 to %d.", len(x.order)), Link: x.path(""), LinkText: "Go to the next glass"})
		case !x.started:
			http.Redirect(x.w, x.r, x.path(""), http.StatusSeeOther)
		default:
			next(x, number-1)
		}
	}
}

// show asks about a glass.
func (v *Evening) show(x visit, glass int) {
	v.draw(x.w, http.StatusOK, "glass.html", v.glassPage(x, glass, v.before(x, glass), nil))
}

// thank tells that a glass was sent, and what is next.
func (v *Evening) thank(x visit, glass int) {
	way := v.way(x, -1)
	if way[glass].State != stepSent {
		http.Redirect(x.w, x.r, x.path(strconv.Itoa(glass+1)), http.StatusSeeOther)
		return
	}
	v.draw(x.w, http.StatusOK, "sent.html", v.sentPage(x, way, glass+1))
}

// take keeps the answers about a glass, or shows them again with what is at fault.
func (v *Evening) take(x visit, glass int) {
	if err := x.r.ParseForm(); err != nil {
		v.message(x.w, http.StatusRequestEntityTooLarge, notice{Title: "Not sent: that is too much", Who: x.taster.Name,
			Text: "Go back, shorten the note and send it again."})
		return
	}
	given := answersIn(x.r.PostForm, x.tasting)
	faults := given.faults(x.tasting)
	key := x.r.PostForm.Get("key")
	if len(faults) == 0 {
		if err := v.enter(x, glass, given, key); err != nil {
			if trials.CodeOf(err) != trials.Invalid {
				v.fail(x.w, err)
				return
			}
			faults = append(faults, fault{Anchor: "top", Text: err.Error()})
		}
	}
	if len(faults) > 0 {
		v.draw(x.w, http.StatusUnprocessableEntity, "glass.html", v.glassPage(x, glass, given, faults))
		return
	}
	http.Redirect(x.w, x.r, x.path(strconv.Itoa(glass+1)+"/sent"), http.StatusSeeOther)
}

// enter keeps answers. A form that comes again as it was, since its phone never heard that it
// had come, changes nothing, whatever was corrected elsewhere meanwhile.
func (v *Evening) enter(x visit, glass int, given answers, key string) error {
	v.mu.Lock()
	again := x.link.kept(key) && maps.Equal(x.link.sent[x.order[glass].ID], given)
	v.mu.Unlock()
	if again {
		return nil
	}
	m, err := given.marks(x.tasting)
	if err != nil {
		return err
	}
	m.Taster, m.Serving = x.taster.Name, x.order[glass].Code
	if err := v.book.Enter(m); err != nil {
		return err
	}
	v.mu.Lock()
	defer v.mu.Unlock()
	x.link.sent[x.order[glass].ID] = given
	x.link.keep(key)
	v.changes.tell()
	return nil
}

// notice is a page that says one thing.
type notice struct{ Title, Who, Tasting, Text, Link, LinkText string }

// message answers with a page that says one thing.
func (v *Evening) message(w http.ResponseWriter, status int, n notice) {
	v.draw(w, status, "notice.html", n)
}

// refuseLink answers a wrong link. The link is looked at before the count: whoever is
// refused too often still reaches their own.
func (v *Evening) refuseLink(w http.ResponseWriter, r *http.Request) {
	if v.failures.add(r, v.Now()) {
		w.Header().Set("Retry-After", strconv.Itoa(int(failureWindow.Seconds())))
		http.Error(w, "too many wrong links; wait a minute", http.StatusTooManyRequests)
		return
	}
	v.message(w, http.StatusNotFound, notice{Title: "There is nothing behind this link",
		Text: "Links end with the tasting, and a new one ends the one before. Ask the brewer for yours."})
}

// fail tells that the notebook could not be read or written. What is wrong with it is
// for the brewer alone.
func (v *Evening) fail(w http.ResponseWriter, err error) {
	status := http.StatusInternalServerError
	if trials.CodeOf(err) == trials.Busy {
		status = http.StatusServiceUnavailable
	}
	v.message(w, status, notice{Title: "Not sent: the notebook cannot be reached",
		Text: "Go back and send it again in a moment. If it stays so, tell the brewer."})
}

// draw answers with a page. It is made whole first: half a page would look like a whole one.
func (v *Evening) draw(w http.ResponseWriter, status int, page string, data any) {
	var b bytes.Buffer
	if err := v.pages.ExecuteTemplate(&b, page, data); err != nil {
		http.Error(w, "the page could not be made", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	w.Write(b.Bytes())
}
