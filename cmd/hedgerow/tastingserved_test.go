package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// twoTastersNight is the evening of the README with two tasters, none of whom has scored.
const twoTastersNight = clubNight + `tasting join club-night "Taster A" "Taster B"`

// anAnswer is a form whose answers stand nowhere else: a note and a strength to look for.
func anAnswer() url.Values {
	return url.Values{"intensity.floral": {"9"}, "vote.floral": {"1"}, "intensity.astringency": {"?"},
		"liking": {"4"}, "note": {"zqnote"}}
}

// The brewer sees who has sent how much, never what, closes with a tick for what is missing, and
// then sees the result, while the phones are told that it is over.
func TestBrewersPage(t *testing.T) {
	t.Parallel()
	db := filepath.Join(t.TempDir(), "served.db")
	setUp(t, db, twoTastersNight)
	s := serveEvening(t, db, "club-night")
	a, brewer := s.phone("Taster A"), s.phone(brewersPage)
	a.start()
	for glass := range 3 {
		if _, text := brewer.get(""); !strings.Contains(text, fmt.Sprintf("%d of 6 glasses are in", glass)) ||
			!strings.Contains(text, fmt.Sprintf("Waiting for Taster A (%d) and Taster B (3).", 3-glass)) {
			t.Errorf("after %d glasses the brewer sees\n%s", glass, text)
		}
		a.post(fmt.Sprintf("/%d", glass+1), anAnswer())
	}
	if status, text := brewer.post("/close", nil); status != http.StatusUnprocessableEntity ||
		!strings.Contains(text, "tick that you close without what is missing") {
		t.Errorf("closed without a tick: %d\n%s", status, text)
	}
	if status, _ := brewer.get("/result"); status != http.StatusOK {
		t.Errorf("the result before the close: %d", status)
	}
	seen := brewer.got.String()
	for _, secret := range []string{"moor-", "zqnote", "847", "251", "723", `value="9"`} {
		if strings.Contains(seen, secret) {
			t.Errorf("before the close the brewer's pages tell %q", secret)
		}
	}
	status, text := brewer.post("/close", url.Values{"missing": {"on"}})
	for _, want := range []string{"moor-low", "moor-high", "moor-plain", "zqnote"} {
		if status != http.StatusOK || !strings.Contains(text, want) {
			t.Errorf("the result, %d, does not tell %q:\n%s", status, want, text)
		}
	}
	for _, below := range []string{"", "/1", "/1/sent"} {
		if status, text := a.get(below); status != http.StatusGone || !strings.Contains(text, "The tasting is closed") {
			t.Errorf("%s after the close: %d\n%s", below, status, text)
		}
	}
	if status, _ := a.post("/1", anAnswer()); status != http.StatusGone {
		t.Errorf("sent after the close: %d", status)
	}
}

// Whoever comes late gets an order by the common link, whoever leaves is not waited for.
func TestLateAndEarly(t *testing.T) {
	t.Parallel()
	db := filepath.Join(t.TempDir(), "served.db")
	setUp(t, db, twoTastersNight)
	s := serveEvening(t, db, "club-night")
	late, brewer := s.phone(joinPage), s.phone(brewersPage)
	s.phone("Taster A").start()
	if _, text := late.get(""); strings.Contains(text, ">Taster A<") || !strings.Contains(text, ">Taster B<") {
		t.Errorf("names to choose from:\n%s", text)
	}
	for name, want := range map[string]string{"": "cannot be used", "a,b": "cannot be used",
		"taster a": "scores on another phone", strings.Repeat("x", 41): "cannot be used"} {
		status, text := late.post("", url.Values{"name": {name}})
		if status != http.StatusUnprocessableEntity || !strings.Contains(text, want) {
			t.Errorf("name %q: %d\n%s", name, status, text)
		}
	}
	status, text := late.post("", url.Values{"name": {"Taster L"}})
	if status != http.StatusOK || !strings.Contains(text, "You are Taster L") {
		t.Fatalf("late: %d\n%s", status, text)
	}
	action := regexp.MustCompile(`action="(/t/[A-Z2-7]{26})/start"`).FindStringSubmatch(text)
	base, _ := url.Parse(late.link)
	late.link = "http://" + base.Host + action[1]
	late.start()
	if status, text := late.post("/1", anAnswer()); status != http.StatusOK || !strings.Contains(text, "1 of 3 sent") {
		t.Errorf("late, glass 1: %d\n%s", status, text)
	}
	_, text = brewer.get("")
	if !strings.Contains(text, "Waiting for Taster A (3), Taster B (3) and Taster L (2).") {
		t.Errorf("with the late one:\n%s", text)
	}
	for _, m := range regexp.MustCompile(`link=([a-z2-7]{26})"`).FindAllStringSubmatch(text, -1)[:2] {
		brewer.post("/left", url.Values{"taster": {m[1]}})
	}
	if _, text = brewer.get(""); !strings.Contains(text, "1 of 3 glasses are in") ||
		!strings.Contains(text, "Waiting for Taster L (2).") {
		t.Errorf("after two have left:\n%s", text)
	}
	if status, text := brewer.post("/join", url.Values{"name": {"Taster M"}}); status != http.StatusOK ||
		!strings.Contains(text, "Link for Taster M") {
		t.Errorf("let in by the brewer: %d\n%s", status, text)
	}
}

// A phone and the terminal score in one evening, and a form that comes twice is kept once.
func TestPhoneAndTerminalInOneEvening(t *testing.T) {
	t.Parallel()
	db := filepath.Join(t.TempDir(), "served.db")
	setUp(t, db, twoTastersNight)
	s := serveEvening(t, db, "club-night")
	a := s.phone("Taster A")
	a.start()
	_, page := a.get("/1")
	code := codeOnPage.FindStringSubmatch(page)[1]
	setUp(t, db, `tasting score club-night --taster "Taster A" --serving `+code+` floral=2/little liking=5`)
	time.Sleep(2 * fresh)
	if _, page = a.get(""); !strings.Contains(page, "Glass 2 of 3") {
		t.Errorf("a glass scored in the terminal is asked about again:\n%s", page)
	}
	if _, page = a.get("/1"); !strings.Contains(page, `name="intensity.floral" value="2" checked`) ||
		strings.Count(page, " checked") != 3 {
		t.Errorf("what the terminal kept is not what the page shows:\n%s", page)
	}
	form := anAnswer()
	form.Set("key", "onekey")
	a.post("/2", form)
	_, page = a.get("/2")
	code = codeOnPage.FindStringSubmatch(page)[1]
	// corrected on paper, while the phone has not heard that its form came
	setUp(t, db, `tasting score club-night --replace --taster "Taster A" --serving `+code+` floral=8/much`)
	time.Sleep(2 * fresh)
	if status, text := a.post("/2", form); status != http.StatusOK || !strings.Contains(text, "2 of 3 sent") {
		t.Errorf("sent twice: %d\n%s", status, text)
	}
	setUp(t, db, "tasting close club-night")
	e := exampleEnv(db, "")
	runLine(t, e, "tasting show club-night --json")
	var shown struct {
		Scores []struct{ Intensity *float64 }
		Notes  []struct{ Text string }
	}
	if err := json.Unmarshal([]byte(e.stdout.(*strings.Builder).String()), &shown); err != nil {
		t.Fatal(err)
	}
	// two of the terminal, and of the phone floral and liking; the correction stays
	if text := e.stdout.(*strings.Builder).String(); len(shown.Scores) != 4 || len(shown.Notes) != 1 ||
		!strings.Contains(text, `"intensity": 8,`) {
		t.Errorf("kept %+v", shown)
	}
}

// Only addresses of a home network are served at, and of several one has to be named.
func TestLANAddress(t *testing.T) {
	at := func(list ...string) (addrs []net.Addr) {
		for _, text := range list {
			ip, n, err := net.ParseCIDR(text)
			if err != nil {
				t.Fatal(err)
			}
			addrs = append(addrs, &net.IPNet{IP: ip, Mask: n.Mask})
		}
		return addrs
	}
	// the private ranges are those of RFC 1918, section 3; 203.0.113.0/24 is for documentation, RFC 5737
	home := at("127.0.0.1/8", "203.0.113.7/24", "192.168.0.20/24", "fe80::1/64")
	two := append(home, at("10.1.2.3/8")...)
	for _, c := range []struct {
		typed string
		all   []net.Addr
		want  string
	}{
		{anyAddress, home, "192.168.0.20"}, {"10.1.2.3", two, "10.1.2.3"}, {anyAddress, two, ""}, {"203.0.113.7", home, ""},
		{"0.0.0.0", home, ""}, {"127.0.0.1", home, ""}, {anyAddress, at("127.0.0.1/8"), ""}, {"192.168.0.2", home, ""},
	} {
		got, err := lanAddress(c.typed, c.all)
		if got != c.want || (err == nil) != (c.want != "") {
			t.Errorf("%s of %v: %q, %v", c.typed, c.all, got, err)
		}
	}
}

// The overview is told of each change while it is open, and an open overview does not keep the
// serving from its end.
func TestOverviewIsToldOfChanges(t *testing.T) {
	t.Parallel()
	db := filepath.Join(t.TempDir(), "served.db")
	setUp(t, db, twoTastersNight)
	s := serveEvening(t, db, "club-night")
	r, err := http.Get(s.links[brewersPage] + "/live")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	told, cut := make(chan string, 100), error(nil)
	go func() {
		lines := bufio.NewScanner(r.Body)
		for lines.Scan() {
			if data, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				told <- data
			}
		}
		cut = lines.Err()
		close(told)
	}()
	expect := func(what string) {
		t.Helper()
		select {
		case <-told:
		case <-time.After(time.Minute):
			t.Fatalf("not told of %s", what)
		}
	}
	expect("how it stands")
	a := s.phone("Taster A")
	a.start()
	expect("the start of a phone")
	a.post("/1", anAnswer())
	expect("a glass")
	if code := s.end(); code != exitDone {
		t.Errorf("exit %d", code)
	}
	for range told {
	}
	// where the server had to wait for it, and lost its patience, the answer has no end
	if cut != nil {
		t.Errorf("the overview was cut off: %v", cut)
	}
}
