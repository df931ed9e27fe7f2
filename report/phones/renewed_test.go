package phones

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"hedgerow/trials"
)

// A link that is renewed while a request by its old token is under way tells that request
// nothing of the new token, takes nothing by it, and keeps itself free for the right phone.
func TestRenewedMeanwhile(t *testing.T) {
	n := &trials.Notebook{
		Tastings: []trials.Tasting{{Record: trials.Record{ID: "evening", Name: "club-night"},
			Attributes: []string{"floral"}}},
		Tasters:  []trials.Taster{{Record: trials.Record{ID: "a", Name: "Taster A"}}},
		Servings: []trials.Serving{{ID: "glass", TastingID: "evening", Code: "847"}},
		Places:   []trials.Place{{TastingID: "evening", TasterID: "a", ServingID: "glass"}},
	}
	for _, path := range []string{"", "/1", "/1/sent"} {
		v, l, phone := begun(t, n)
		old := l.token
		v.book.Read = func() (*trials.Notebook, error) { v.renew(l); return n, nil }
		refused(t, v, l, request(http.MethodGet, old, path, phone))
	}
	for _, path := range []string{"/start", "/1"} {
		v, l, phone := begun(t, n)
		old := l.token
		v.book.Read = func() (*trials.Notebook, error) { v.renew(l); return n, nil }
		refused(t, v, l, request(http.MethodPost, old, path, phone))
		if v.opened(l) {
			t.Errorf("POST %s took the new link", path)
		}
	}
}

// begun is an evening whose only taster has started on a phone with a cookie.
func begun(t *testing.T, n *trials.Notebook) (*Evening, *link, *http.Cookie) {
	t.Helper()
	now := func() time.Time { return time.Date(2026, 4, 10, 20, 0, 0, 0, time.UTC) }
	v, err := New(n, n.Tastings[0], Book{Enter: func(trials.Marks) error { t.Error("kept"); return nil }},
		Setting{Phones: "phones.test:80", Now: now})
	if err != nil {
		t.Fatal(err)
	}
	l, w := v.links[0], httptest.NewRecorder()
	if !v.bind(w, request(http.MethodPost, l.token, "/start", nil), l, l.token) {
		t.Fatal("not started")
	}
	return v, l, w.Result().Cookies()[0]
}

// request asks for a page below a token.
func request(method, token, path string, phone *http.Cookie) *http.Request {
	r := httptest.NewRequest(method, "http://phones.test:80/t/"+token+path, nil)
	if phone != nil {
		r.AddCookie(phone)
	}
	return r
}

// refused demands that a request finds nothing, and hears nothing of the link's token.
func refused(t *testing.T, v *Evening, l *link, r *http.Request) {
	t.Helper()
	w := httptest.NewRecorder()
	v.PhonePages().ServeHTTP(w, r)
	if w.Code != http.StatusNotFound {
		t.Errorf("%s %s: %d %v", r.Method, r.URL, w.Code, w.Header())
	}
	if strings.Contains(w.Body.String()+w.Header().Get("Location"), l.token) {
		t.Errorf("%s %s tells the new token", r.Method, r.URL)
	}
}
