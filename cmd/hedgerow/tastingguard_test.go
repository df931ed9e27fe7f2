package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// guardedEvening is an evening with two tasters of whom the first has started, and the host
// of its pages.
func guardedEvening(t *testing.T) (s *servedEvening, a *phone, host string) {
	t.Helper()
	db := filepath.Join(t.TempDir(), "served.db")
	setUp(t, db, twoTastersNight)
	s = serveEvening(t, db, "club-night")
	a = s.phone("Taster A")
	a.start()
	u, err := url.Parse(a.link)
	if err != nil {
		t.Fatal(err)
	}
	return s, a, u.Host
}

// send sends one request as it is written, which a client would tidy up, and returns the
// answer and its text.
func send(t *testing.T, host, method, path string, head http.Header, body string) (*http.Response, string) {
	t.Helper()
	c, err := net.Dial("tcp", host)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	head = head.Clone()
	if head == nil {
		head = http.Header{}
	}
	if head.Get("Host") == "" {
		head.Set("Host", host)
	}
	head.Set("Connection", "close")
	head.Set("Content-Length", fmt.Sprint(len(body)))
	fmt.Fprintf(c, "%s %s HTTP/1.1\r\n", method, path)
	head.Write(c)
	fmt.Fprintf(c, "\r\n%s", body)
	answer, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	text, _ := io.ReadAll(answer.Body)
	return answer, string(text)
}

// cookieOf is the cookie by which a link knows its phone.
func cookieOf(t *testing.T, p *phone) string {
	t.Helper()
	u, _ := url.Parse(p.link)
	cookies := p.client.Jar.Cookies(u)
	if len(cookies) != 1 {
		t.Fatalf("cookies %v", cookies)
	}
	return cookies[0].String()
}

// What is asked in a wrong way, or from elsewhere, is refused with the status that the
// standard has for it: RFC 9110, sections 15.5 (400, 404, 405, 413) and 15.5.20 (421), the fetch metadata
// of the W3C for requests from other sites, and RFC 6585, section 4 (429), in the next test.
func TestWhatPagesRefuse(t *testing.T) {
	t.Parallel()
	s, a, host := guardedEvening(t)
	link := strings.TrimPrefix(a.link, "http://"+host)
	cookie := http.Header{"Cookie": {cookieOf(t, a)}}
	with := func(name, value string) http.Header {
		h := cookie.Clone()
		h.Set(name, value)
		h.Set("Content-Type", "application/x-www-form-urlencoded")
		return h
	}
	form := anAnswer().Encode()
	brewers := s.links[brewersPage][strings.Index(s.links[brewersPage], "/brewer/"):]
	for name, c := range map[string]struct {
		method, path string
		head         http.Header
		body         string
		want         int
	}{
		"foreign host":           {"GET", link + "/1", with("Host", "evil.example"), "", http.StatusMisdirectedRequest},
		"host, other port":       {"GET", link + "/1", with("Host", "127.0.0.1:1"), "", http.StatusMisdirectedRequest},
		"from another site":      {"POST", link + "/1", with("Sec-Fetch-Site", "cross-site"), form, http.StatusForbidden},
		"from another origin":    {"POST", link + "/1", with("Origin", "http://evil.example"), form, http.StatusForbidden},
		"from an opaque origin":  {"POST", link + "/1", with("Origin", "null"), form, http.StatusForbidden},
		"own origin":             {"POST", link + "/1", with("Origin", "http://"+host), form, http.StatusSeeOther},
		"same site said":         {"POST", link + "/1", with("Sec-Fetch-Site", "same-origin"), form, http.StatusSeeOther},
		"wrong method":           {"DELETE", link + "/1", cookie, "", http.StatusNotFound},
		"out of the folder":      {"GET", "/../../../../etc/passwd", nil, "", http.StatusTemporaryRedirect},
		"out of it, encoded":     {"GET", "/..%2f..%2fetc%2fpasswd", nil, "", http.StatusNotFound},
		"out of it, backslash":   {"GET", `/..%5c..%5cgo.mod`, nil, "", http.StatusNotFound},
		"a file of the program":  {"GET", "/pages/glass.html", nil, "", http.StatusNotFound},
		"glass out of the path":  {"GET", link + "/..%2f1", cookie, "", http.StatusNotFound},
		"no glass 0":             {"GET", link + "/0", cookie, "", http.StatusNotFound},
		"no glass 4":             {"GET", link + "/4", cookie, "", http.StatusNotFound},
		"a huge number of glass": {"GET", link + "/99999999999999999999", cookie, "", http.StatusNotFound},
		"too large a form": {"POST", link + "/1", with("X", ""), form + "&x=" + strings.Repeat("y", 20_000),
			http.StatusRequestEntityTooLarge},
		"the brewer's page": {"GET", brewers, nil, "", http.StatusNotFound},
	} {
		answer, text := send(t, host, c.method, c.path, c.head, c.body)
		if answer.StatusCode != c.want {
			t.Errorf("%s: %d, want %d\n%s", name, answer.StatusCode, c.want, text)
		}
		if strings.Contains(text, "root:") {
			t.Errorf("%s tells a file of the machine", name)
		}
	}
}

// Every answer says that nothing else may frame it, run in it or learn where it was, and no
// page keeps anything in a cache.
func TestHeadersOfPages(t *testing.T) {
	t.Parallel()
	_, a, host := guardedEvening(t)
	link := strings.TrimPrefix(a.link, "http://"+host)
	for _, path := range []string{link, link + "/1", "/style.css", "/phone.js", "/nothing"} {
		answer, text := send(t, host, "GET", path, http.Header{"Cookie": {cookieOf(t, a)}}, "")
		policy := answer.Header.Get("Content-Security-Policy")
		for _, want := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'",
			"frame-ancestors 'none'", "form-action 'self'", "base-uri 'none'"} {
			if !strings.Contains(policy, want) {
				t.Errorf("%s: the policy lacks %s: %s", path, want, policy)
			}
		}
		for name, want := range map[string]string{"X-Content-Type-Options": "nosniff", "X-Frame-Options": "DENY",
			"Referrer-Policy": "same-origin", "Cache-Control": "no-store"} {
			if got := answer.Header.Get(name); got != want {
				t.Errorf("%s: %s is %q", path, name, got)
			}
		}
		if strings.Contains(text, "<style") || strings.Contains(text, " style=") || strings.Contains(text, "onclick") {
			t.Errorf("%s has a style or script within it, which its policy forbids", path)
		}
	}
	if c := a.client.Jar.Cookies(&url.URL{Scheme: "http", Host: host, Path: "/"}); len(c) != 0 {
		t.Errorf("the cookie goes to other pages: %v", c)
	}
}

// Ten thousand requests from one address, most of them for links that do not exist, are
// told to wait; a taster behind the same address still scores.
func TestFloodOfRequests(t *testing.T) {
	t.Parallel()
	s, a, host := guardedEvening(t)
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 50}}
	count := 10_000
	if testing.Short() {
		count = 500
	}
	var told [600]atomic.Int64
	var work sync.WaitGroup
	for worker := range 20 {
		work.Go(func() {
			for i := worker; i < count; i += 20 {
				r, err := client.Get(fmt.Sprintf("http://%s/t/WRONG%d", host, i))
				if err != nil {
					t.Error(err)
					return
				}
				io.Copy(io.Discard, r.Body)
				r.Body.Close()
				told[r.StatusCode].Add(1)
			}
		})
	}
	if status, text := a.post("/1", anAnswer()); status != http.StatusOK || !strings.Contains(text, "1 of 3 sent") {
		t.Errorf("in the flood: %d\n%s", status, text)
	}
	work.Wait()
	// 20 a minute are answered; the flood may last for some minutes on a slow machine
	if wrong, wait := told[404].Load(), told[429].Load(); wrong > 20*5 || wrong+wait != int64(count) {
		t.Errorf("%d told that there is nothing, %d to wait", wrong, wait)
	}
	b := s.phone("Taster B")
	b.start()
	if status, text := b.post("/1", anAnswer()); status != http.StatusOK || !strings.Contains(text, "1 of 3 sent") {
		t.Errorf("after the flood: %d\n%s", status, text)
	}
}

// A hundred connections that begin a request and never end it keep nobody waiting, and are
// hung up on.
func TestSlowRequests(t *testing.T) {
	if testing.Short() {
		t.Skip("waits for the patience of the server")
	}
	t.Parallel()
	_, a, host := guardedEvening(t)
	var slow []net.Conn
	beside := false
	// a machine so busy that the patience is over before the answer gets another chance
	for try := 0; try < 3 && !beside; try++ {
		slow = append(slow, neverEnding(t, host, 100)...)
		if status, text := a.get("/1"); status != http.StatusOK {
			t.Errorf("beside slow requests: %d\n%s", status, text)
		}
		last := slow[len(slow)-1]
		last.SetReadDeadline(time.Now().Add(time.Millisecond))
		_, err := last.Read(make([]byte, 1))
		beside = errors.Is(err, os.ErrDeadlineExceeded)
	}
	if !beside {
		t.Error("answered only when the slow requests were hung up on")
	}
	// the header must be whole in 5 seconds; many times that for a busy machine
	for _, c := range slow {
		c.SetReadDeadline(time.Now().Add(time.Minute))
		if _, err := bufio.NewReader(c).ReadString('\x00'); err != io.EOF && !strings.Contains(fmt.Sprint(err), "reset") {
			t.Fatalf("a request that never ends is still waited for: %v", err)
		}
	}
}

// neverEnding begins so many requests and leaves them at that.
func neverEnding(t *testing.T, host string, count int) (list []net.Conn) {
	t.Helper()
	for range count {
		c, err := net.Dial("tcp", host)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { c.Close() })
		fmt.Fprintf(c, "POST /t/x/1 HTTP/1.1\r\nHost: %s\r\n", host)
		list = append(list, c)
	}
	return list
}

// One link belongs to one phone, until the brewer gives the taster a new one.
func TestTwoPhonesWithOneLink(t *testing.T) {
	t.Parallel()
	s, a, _ := guardedEvening(t)
	other := s.phone("Taster A")
	for _, below := range []string{"", "/1", "/1/sent"} {
		if status, text := other.get(below); status != http.StatusConflict ||
			!strings.Contains(text, "in use on another phone") || codeOnPage.MatchString(text) {
			t.Errorf("a second phone at %q: %d\n%s", below, status, text)
		}
	}
	for _, below := range []string{"/start", "/1"} {
		if status, _ := other.post(below, anAnswer()); status != http.StatusConflict {
			t.Errorf("a second phone sends to %q: %d", below, status)
		}
	}
	brewer := s.phone(brewersPage)
	_, text := brewer.get("")
	_, rest, _ := strings.Cut(text, "?link=")
	_, text = brewer.post("/link", url.Values{"taster": {rest[:26]}})
	if status, _ := a.get("/1"); status != http.StatusNotFound {
		t.Errorf("the old link still lives: %d", status)
	}
	_, rest, _ = strings.Cut(text, "<code>")
	other.link, _, _ = strings.Cut(rest, "</code>")
	other.start()
	if status, text := other.get(""); status != http.StatusOK || !strings.Contains(text, "Glass 1 of 3") {
		t.Errorf("the new link: %d\n%s", status, text)
	}
}

// What people type is shown as they typed it and never becomes a part of a page.
func TestMarkupInNamesAndNotes(t *testing.T) {
	t.Parallel()
	s, a, _ := guardedEvening(t)
	const markup = `</textarea><script>alert(1)</script><b onclick=x>'"&`
	form := anAnswer()
	form.Set("note", markup)
	form.Set("liking", "")
	if _, text := a.post("/1", form); !strings.Contains(text, "&lt;/textarea&gt;&lt;script&gt;") {
		t.Errorf("a note that is shown again:\n%s", text)
	}
	form.Set("liking", "5")
	a.post("/1", form)
	a.get("/1")
	late := s.phone(joinPage)
	late.post("", url.Values{"name": {"<img src=x onerror=1>"}}) // an equals sign is refused, and shown
	late.post("", url.Values{"name": {"<i>x</i>"}})
	brewer := s.phone(brewersPage)
	brewer.get("")
	brewer.post("/join", url.Values{"name": {"<u>=</u>"}})
	_, result := brewer.post("/close", url.Values{"missing": {"on"}})
	for _, got := range []string{a.got.String(), late.got.String(), brewer.got.String()} {
		for _, live := range []string{"<script>alert", "<b onclick", "<img src=x", "<i>x", "<u>"} {
			if strings.Contains(got, live) {
				t.Errorf("%q stands in a page as it is", live)
			}
		}
	}
	if !strings.Contains(result, "&lt;script&gt;alert(1)") {
		t.Errorf("the note is not in the result:\n%s", result)
	}
}

// A note that is too long, and a choice that was never offered, come back beside the
// field with everything that was typed.
func TestFaultsStayBesideTheirFields(t *testing.T) {
	t.Parallel()
	s, a, _ := guardedEvening(t)
	note := strings.Repeat("ä", 501)
	for field, c := range map[string]struct{ value, at, text string }{
		"note":             {note, `id="note-e"`, "shorten it: 501 letters, and 500 are the most"},
		"liking":           {"10", `id="liking-e"`, "choose a number"},
		"intensity.floral": {"NaN", `id="strength-1-e"`, "choose a number"},
		"vote.floral":      {"2", `id="amount-1-e"`, "say whether it is the right amount"},
	} {
		form := anAnswer()
		form.Set(field, c.value)
		status, text := a.post("/1", form)
		if status != http.StatusUnprocessableEntity || !strings.Contains(text, c.at) || !strings.Contains(text, c.text) ||
			!strings.Contains(text, `href="#`) || !strings.Contains(text, "Not sent: one thing to look at") {
			t.Errorf("%s: %d\n%s", field, status, text)
		}
		if field != "note" && !strings.Contains(text, "zqnote") || field == "note" && !strings.Contains(text, note) {
			t.Errorf("%s: what was typed is gone", field)
		}
	}
	e := exampleEnv(s.db, "")
	runLine(t, e, "tasting show club-night")
	if text := e.stdout.(*strings.Builder).String(); strings.Contains(text, "sealed  Taster A") {
		t.Errorf("a refused form left something:\n%s", text)
	}
}

// Nothing that a phone receives before the close tells what is behind a code: neither the
// names of the beers, nor ids, nor the seed, nor the codes' own order.
func TestPhonesLearnNoKey(t *testing.T) {
	t.Parallel()
	s, a, _ := guardedEvening(t)
	late := s.phone(joinPage)
	late.get("")
	late.post("", url.Values{"name": {"Taster L"}})
	for glass := range 3 {
		a.get("")
		a.get(fmt.Sprintf("/%d", glass+1))
		a.post(fmt.Sprintf("/%d", glass+1), url.Values{"liking": {"x"}})
		a.post(fmt.Sprintf("/%d", glass+1), anAnswer())
	}
	a.get("")
	a.get("/9")
	host := strings.TrimSuffix(a.link, "/t/"+a.link[len(a.link)-26:])
	for _, path := range []string{"/style.css", "/phone.js", "/", "/brewer.js"} {
		a.link = host + path
		a.get("")
	}
	got := a.got.String() + late.got.String()
	if !strings.Contains(got, "847") || len(got) < 20_000 {
		t.Fatalf("%d bytes were looked at", len(got))
	}
	secrets := append([]string{"moor", "batch", "seed", "serving_id"}, idsOf(t, s.db)...)
	if len(secrets) < 10 {
		t.Fatalf("secrets %v", secrets)
	}
	for _, secret := range secrets {
		if strings.Contains(strings.ToLower(got), secret) {
			t.Errorf("a phone received %q", secret)
		}
	}
}

// idsOf lists the ids of the tasting, its beers and its servings.
func idsOf(t *testing.T, db string) []string {
	t.Helper()
	e := exampleEnv(db, "")
	defer e.close()
	n, err := e.reading()
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, b := range n.Batches {
		list = append(list, b.ID)
	}
	for _, x := range n.Tastings {
		list = append(list, x.ID)
	}
	for _, x := range n.Servings {
		list = append(list, x.ID)
	}
	return list
}
