package phones

import (
	"crypto/sha256"
	"crypto/subtle"
	"net/http"

	"hedgerow/trials"
)

// mostTasters is how many links there may be: one for each letter.
const mostTasters = 26

// tokenIs reports whether a token is the one expected, in a time that tells nothing.
func tokenIs(given, want string) bool {
	a, b := sha256.Sum256([]byte(given)), sha256.Sum256([]byte(want))
	return subtle.ConstantTimeCompare(a[:], b[:]) == 1
}

// joining lets whoever has the common link on to the choice of a name.
func (v *Evening) joining(next func(http.ResponseWriter, *http.Request, *trials.Notebook,
	trials.Tasting)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if !tokenIs(r.PathValue("token"), v.join) {
			v.refuseLink(w, r)
			return
		}
		n, err := v.book.Read()
		if err != nil {
			v.fail(w, err)
			return
		}
		t, known := v.tasting(n)
		switch {
		case !known:
			v.refuseLink(w, r)
		case t.ClosedAt != nil:
			v.message(w, http.StatusGone, visit{tasting: t}.closed())
		default:
			v.welcome(n)
			next(w, r, n, t)
		}
	}
}

// joinPage is the choice of a name.
type joinPage struct {
	Title   string
	Tasting string
	Action  string
	Free    []trials.Taster // whose links no phone has yet
	Name    string          // as typed
	Fault   string
}

// names shows the names that nobody has taken yet.
func (v *Evening) names(w http.ResponseWriter, _ *http.Request, n *trials.Notebook, t trials.Tasting) {
	v.draw(w, http.StatusOK, "join.html", v.joinPage(n, t))
}

// joinPage makes the choice of a name.
func (v *Evening) joinPage(n *trials.Notebook, t trials.Tasting) joinPage {
	p := joinPage{Title: "Who are you?", Tasting: t.Name, Action: "/join/" + v.join}
	for _, taster := range n.Expected(t.ID) {
		if l := v.linkFor(taster.ID); l != nil && !v.opened(l) {
			p.Free = append(p.Free, taster)
		}
	}
	return p
}

// opened reports whether a phone has a link.
func (v *Evening) opened(l *link) bool {
	v.mu.Lock()
	defer v.mu.Unlock()
	return !l.openedAt.IsZero()
}

// choose leads to the page of the name that was chosen, or of a taster who is new.
func (v *Evening) choose(w http.ResponseWriter, r *http.Request, n *trials.Notebook, t trials.Tasting) {
	if r.ParseForm() != nil {
		http.Error(w, "that is too much", http.StatusRequestEntityTooLarge)
		return
	}
	p := v.joinPage(n, t)
	for _, taster := range p.Free {
		if taster.ID == r.PostForm.Get("taster") {
			http.Redirect(w, r, v.path(taster.ID), http.StatusSeeOther)
			return
		}
	}
	p.Name = r.PostForm.Get("name")
	id, err := v.admit(n, p.Name)
	if err != nil {
		p.Title, p.Fault = "Not joined: "+p.Title, faultText(err)
		if r.PostForm.Has("taster") {
			p.Fault = "that name was taken meanwhile; choose another, or ask the brewer"
		}
		v.draw(w, http.StatusUnprocessableEntity, "join.html", p)
		return
	}
	http.Redirect(w, r, v.path(id), http.StatusSeeOther)
}

// path is the address of a taster's page without its host.
func (v *Evening) path(tasterID string) string {
	l := v.linkFor(tasterID)
	if l == nil {
		return "/"
	}
	v.mu.Lock()
	defer v.mu.Unlock()
	return "/t/" + l.token
}

// admit gives someone who came late an order and a link, and returns their id. Whoever
// has an order, and no phone yet, is let on.
func (v *Evening) admit(n *trials.Notebook, name string) (string, error) {
	known, fresh, err := n.TastersNamed([]string{name})
	if err != nil {
		return "", err
	}
	if l := v.linkFor(known[0].ID); len(fresh) == 0 && l != nil {
		if v.opened(l) {
			return "", trials.Refuse("ask the brewer for a new link", "%s scores on another phone", known[0].Name)
		}
		return known[0].ID, nil
	}
	if len(n.Expected(v.tastingID)) >= mostTasters {
		return "", trials.Refuse("score on paper", "there are %d tasters, which is the most", mostTasters)
	}
	if err := v.book.Join(name); err != nil {
		return "", err
	}
	if n, err = v.book.Read(); err != nil {
		return "", err
	}
	v.welcome(n)
	v.changes.tell()
	joined, err := n.Taster(known[0].Name)
	return joined.ID, err
}

// faultText is an error as it stands beside a field.
func faultText(err error) string {
	if p, ok := trials.ProblemOf(err).(*trials.Problem); ok && p.Hint != "" {
		return p.Message + "; " + p.Hint
	}
	return err.Error()
}
