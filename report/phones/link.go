package phones

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"net/http"
	"slices"
	"strings"
	"time"

	"hedgerow/trials"
)

// link is the page of one taster: the token in its address, and the phone that it
// belongs to once its taster has started. Opening the address alone starts nothing:
// chats and cameras open links to show what is behind them.
type link struct {
	tasterID string
	token    string
	device   [sha256.Size]byte // digest of the cookie of the phone; zero before the start
	openedAt time.Time         // when the taster started; zero before
	left     bool              // the taster went home: what is missing of theirs is not waited for
	sent     map[string]answers
	done     []string // keys of the forms that were kept, the last ones
}

// answers is what a taster sent of a glass, as the form had it: a choice of "cannot
// tell" is kept nowhere else.
type answers map[string]string

// newLink makes a link for a taster. The token has 128 bits of chance.
func newLink(tasterID string) *link {
	return &link{tasterID: tasterID, token: rand.Text(), sent: map[string]answers{}}
}

// mostKeys is how many forms a link remembers: many times the glasses of an evening.
const mostKeys = 64

// kept reports whether the form with this key was kept already.
func (l *link) kept(key string) bool { return key != "" && slices.Contains(l.done, key) }

// keep remembers the form with this key.
func (l *link) keep(key string) {
	if l.done = append(l.done, key); len(l.done) > mostKeys {
		l.done = l.done[1:]
	}
}

// linkOf finds the link with a token, in a time that tells nothing of the others.
func (v *Evening) linkOf(token string) *link {
	v.mu.Lock()
	defer v.mu.Unlock()
	given := sha256.Sum256([]byte(token))
	var found *link
	for _, l := range v.links {
		own := sha256.Sum256([]byte(l.token))
		if subtle.ConstantTimeCompare(given[:], own[:]) == 1 {
			found = l
		}
	}
	return found
}

// linkFor finds the link of a taster, nil for none.
func (v *Evening) linkFor(tasterID string) *link {
	v.mu.Lock()
	defer v.mu.Unlock()
	for _, l := range v.links {
		if l.tasterID == tasterID {
			return l
		}
	}
	return nil
}

// address is where the page of a link is.
func (v *Evening) address(l *link) string {
	v.mu.Lock()
	defer v.mu.Unlock()
	return "http://" + v.Phones + "/t/" + l.token
}

// renew gives a taster another link, free for any phone; the one before dies.
func (v *Evening) renew(l *link) {
	v.mu.Lock()
	defer v.mu.Unlock()
	l.token, l.device, l.openedAt = rand.Text(), [sha256.Size]byte{}, time.Time{}
}

// leave notes that a taster has left, or is back.
func (v *Evening) leave(l *link, left bool) {
	v.mu.Lock()
	defer v.mu.Unlock()
	l.left = left
}

// cookieName is the name of the cookie of a phone; with the port, since browsers send a
// cookie to every port of a host.
func (v *Evening) cookieName() string {
	_, port, _ := strings.Cut(v.Phones, ":")
	return "taster" + port
}

// bind makes the phone that asks with a token the one of a link, and reports whether it is: a
// link that has its phone keeps it, and one that has another token by now is not to be had.
func (v *Evening) bind(w http.ResponseWriter, r *http.Request, l *link, token string) bool {
	v.mu.Lock()
	defer v.mu.Unlock()
	if l.token != token {
		return false
	}
	if !l.openedAt.IsZero() {
		return v.holds(r, l)
	}
	secret := rand.Text()
	l.device, l.openedAt = sha256.Sum256([]byte(secret)), v.Now()
	http.SetCookie(w, &http.Cookie{Name: v.cookieName(), Value: secret, Path: "/t/" + l.token, HttpOnly: true,
		SameSite: http.SameSiteLaxMode})
	return true
}

// holds reports whether the phone that asks is the one of a link.
func (v *Evening) holds(r *http.Request, l *link) bool {
	c, err := r.Cookie(v.cookieName())
	if err != nil {
		return false
	}
	own := sha256.Sum256([]byte(c.Value))
	return subtle.ConstantTimeCompare(own[:], l.device[:]) == 1
}

// owner says whether a link still has the token it was asked for by, and whose phone asks:
// nobody's yet, this one, or another one.
func (v *Evening) owner(r *http.Request, l *link, token string) (alive, started, ours bool) {
	v.mu.Lock()
	defer v.mu.Unlock()
	return l.token == token, !l.openedAt.IsZero(), v.holds(r, l)
}

// sentGlasses lists when each serving was first known to be scored by a taster, on a phone or
// in the terminal; the zero time where only the link knows.
func (v *Evening) sentGlasses(n *trials.Notebook, tasterID string) map[string]time.Time {
	sent := map[string]time.Time{}
	for _, s := range n.Scores {
		if s.TastingID == v.tastingID && s.TasterID == tasterID && sent[s.ServingID].Before(s.At) {
			sent[s.ServingID] = s.At
		}
	}
	for _, x := range n.TasterNotes {
		if x.TastingID == v.tastingID && x.TasterID == tasterID && sent[x.ServingID].Before(x.At) {
			sent[x.ServingID] = x.At
		}
	}
	v.mu.Lock()
	defer v.mu.Unlock()
	for _, l := range v.links {
		for id := range l.sent {
			if _, known := sent[id]; !known && l.tasterID == tasterID {
				sent[id] = time.Time{}
			}
		}
	}
	return sent
}
