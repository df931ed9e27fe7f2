package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// lockedText collects what a command says while it still runs.
type lockedText struct {
	mu   sync.Mutex
	text bytes.Buffer
}

// Write implements io.Writer.
func (l *lockedText) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(p)
}

// String is what was said so far.
func (l *lockedText) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}

// servedEvening is a tasting while it is served.
type servedEvening struct {
	t     testing.TB
	db    string
	links map[string]string // by taster; the common one as joinPage, the brewer's as brewersPage
	end   func() int        // ends the serving and returns its exit code
}

// The names of the pages that are no taster's.
const (
	joinPage    = "for all"
	brewersPage = "the brewer"
)

// clubNight are the commands that set up the evening of the README.
const clubNight = `
batch new moor-low --volume 4L --og 1.046 --fg 1.010 --at "2026-03-01 18:00"
batch new moor-high --volume 4L --og 1.046 --fg 1.010 --at "2026-03-01 18:00"
batch new moor-plain --volume 3L --og 1.046 --fg 1.010 --at "2026-03-01 18:00"
tasting new club-night --serving moor-low --serving moor-high --serving moor-plain --attribute floral ` +
	`--attribute astringency --seed 5 --at "2026-04-10 20:00"
`

// setUp runs command lines in a notebook.
func setUp(t testing.TB, db, lines string) {
	t.Helper()
	for _, line := range strings.Split(strings.TrimSpace(lines), "\n") {
		runLine(t, exampleEnv(db, ""), line)
	}
}

// serveEvening serves a tasting as the command does, until the test is over.
func serveEvening(t testing.TB, db, tasting string, flags ...string) *servedEvening {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	out, said := &lockedText{}, &lockedText{}
	e := exampleEnv(db, "")
	e.ctx, e.stdout, e.stderr = ctx, out, said
	code := make(chan int, 1)
	go func() { code <- run(e, append([]string{"tasting", "serve", tasting, "--json"}, flags...)) }()
	s := &servedEvening{t: t, db: db, links: map[string]string{}}
	s.end = sync.OnceValue(func() int { stop(); return <-code })
	t.Cleanup(func() { s.end() })
	var told struct {
		Brewer, Join string
		Links        []struct{ Taster, Link string }
	}
	for begun := time.Now(); ; time.Sleep(5 * time.Millisecond) {
		if json.Unmarshal([]byte(out.String()), &told) == nil {
			break
		}
		if time.Since(begun) > time.Minute {
			t.Fatalf("nothing is served: %s", said)
		}
	}
	s.links[joinPage], s.links[brewersPage] = told.Join, told.Brewer
	for _, l := range told.Links {
		s.links[l.Taster] = l.Link
	}
	return s
}

// phone is a phone with its cookies; link is the page that it opened.
type phone struct {
	t      testing.TB
	link   string
	client *http.Client
	got    *bytes.Buffer // every byte that it received
}

// phone opens the link of a taster on a phone of their own.
func (s *servedEvening) phone(taster string) *phone {
	s.t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		s.t.Fatal(err)
	}
	return &phone{t: s.t, link: s.links[taster], client: &http.Client{Jar: jar}, got: &bytes.Buffer{}}
}

// get asks for a page below the link and returns its status and text.
func (p *phone) get(below string) (int, string) {
	p.t.Helper()
	r, err := p.client.Get(p.link + below)
	return p.read(r, err)
}

// post sends a form to a page below the link.
func (p *phone) post(below string, form url.Values) (int, string) {
	p.t.Helper()
	r, err := p.client.PostForm(p.link+below, form)
	return p.read(r, err)
}

// read reads an answer to its end and keeps every byte of it.
func (p *phone) read(r *http.Response, err error) (int, string) {
	p.t.Helper()
	if err != nil {
		p.t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		p.t.Fatal(err)
	}
	fmt.Fprintln(p.got, r.Status, r.Header, r.Request.URL)
	p.got.Write(body)
	return r.StatusCode, string(body)
}

// start says who it is.
func (p *phone) start() {
	p.t.Helper()
	if status, text := p.post("/start", nil); status != http.StatusOK {
		p.t.Fatalf("start: %d\n%s", status, text)
	}
}

// codeOnPage finds the code of the glass that a page asks about.
var codeOnPage = regexp.MustCompile(`<b>(\d{3})</b>`)

// fill makes the form of a glass out of the answers of one line of a table.
func fill(line map[string]string) url.Values {
	votes := map[string]string{"too little": "-1", "just right": "0", "too much": "1", "?": "?"}
	form := url.Values{"liking": {line["liking"]}, "note": {line["note"]}}
	for _, a := range []string{"floral", "astringency"} {
		form.Set("intensity."+a, line[a])
		form.Set("vote."+a, votes[line[a+" vote"]])
	}
	return form
}

// readmeScores are the scores of the README's evening, those typed as a command first.
func readmeScores(t *testing.T) []map[string]string {
	t.Helper()
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(fenced(string(readme), "csv")[0])).ReadAll()
	if err != nil || len(rows) != 12 {
		t.Fatalf("%d lines, %v", len(rows), err)
	}
	list := []map[string]string{{"serving": "847", "taster": "Taster A", "floral": "3", "floral vote": "too little",
		"astringency": "1", "astringency vote": "just right", "liking": "6"}}
	for _, row := range rows[1:] {
		line := map[string]string{}
		for i, title := range rows[0] {
			line[title] = row[i]
		}
		list = append(list, line)
	}
	return list
}

// scoresKept lists the scores of a closed tasting, a line each, in order.
func scoresKept(t *testing.T, db string) []string {
	t.Helper()
	e := exampleEnv(db, "")
	runLine(t, e, "tasting show club-night --json")
	var shown struct {
		Scores []struct {
			Code, Taster, Attribute string
			Intensity, Liking       *float64
			Vote                    *string
		}
	}
	if err := json.Unmarshal([]byte(e.stdout.(*strings.Builder).String()), &shown); err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, s := range shown.Scores {
		text, _ := json.Marshal(s)
		lines = append(lines, string(text))
	}
	slices.Sort(lines)
	return lines
}

// The README's club night on four phones keeps the very scores that the README types.
// What it is compared with is what tasting score kept of the table.
func TestClubNightOnPhones(t *testing.T) {
	t.Parallel()
	lines := readmeScores(t)
	typed, served := filepath.Join(t.TempDir(), "typed.db"), filepath.Join(t.TempDir(), "served.db")
	setUp(t, typed, clubNight+`tasting score club-night --taster "Taster A" --serving 847 floral=3/little `+
		`astringency=1/right liking=6`)
	readme, _ := os.ReadFile(filepath.Join("..", "..", "README.md"))
	table := fenced(string(readme), "csv")[0]
	runWords(t, exampleEnv(typed, table), "score", []string{"tasting", "score", "club-night", "-"})
	setUp(t, served, clubNight+`tasting join club-night "Taster A" "Taster B" "Taster C" "Taster D"`)

	s := serveEvening(t, served, "club-night")
	for _, taster := range []string{"Taster A", "Taster B", "Taster C", "Taster D"} {
		p := s.phone(taster)
		p.start()
		for glass := 1; glass <= 3; glass++ {
			status, page := p.get("")
			m := codeOnPage.FindStringSubmatch(page)
			if status != http.StatusOK || m == nil || !strings.Contains(page, fmt.Sprintf("Glass %d of 3", glass)) {
				t.Fatalf("%s, glass %d: %d\n%s", taster, glass, status, page)
			}
			i := slices.IndexFunc(lines, func(l map[string]string) bool {
				return l["taster"] == taster && l["serving"] == m[1]
			})
			status, page = p.post(fmt.Sprintf("/%d", glass), fill(lines[i]))
			if want := fmt.Sprintf("%d of 3 sent", glass); status != http.StatusOK || !strings.Contains(page, want) {
				t.Fatalf("%s, glass %d: %d\n%s", taster, glass, status, page)
			}
		}
	}
	if code := s.end(); code != exitDone {
		t.Errorf("exit %d", code)
	}
	for _, db := range []string{typed, served} {
		runLine(t, exampleEnv(db, ""), "tasting close club-night")
	}
	want, got := scoresKept(t, typed), scoresKept(t, served)
	if len(want) != 36 || !slices.Equal(want, got) {
		t.Errorf("typed:\n%s\nserved:\n%s", strings.Join(want, "\n"), strings.Join(got, "\n"))
	}
}
