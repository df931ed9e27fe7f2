//go:build browser

package main

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"hedgerow/report/phones"
	"hedgerow/trials"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// These tests drive Chromium, which the variable HEDGEROW_CHROMIUM names. HEDGEROW_AXE names
// the script of axe-core, which knows rules of WCAG 2.2; HEDGEROW_SHOTS a folder for pictures, if
// they are wanted.

// slowly is how long a step may take. A machine that is busy with other tests, or one of the
// kind that is rented by the minute, needs many times what a desk needs.
const slowly = 3 * time.Minute

// browser starts Chromium with a new profile. Host names that end in .test lead to this machine:
// over plain http a browser treats a name otherwise than the address of its own machine.
func browser(t *testing.T) context.Context {
	t.Helper()
	path := os.Getenv("HEDGEROW_CHROMIUM")
	if path == "" {
		t.Fatal("HEDGEROW_CHROMIUM names no browser")
	}
	// the profile is a folder that the library makes: its last processes may still write there when
	// the test is over, which fails a test that cleans up its own
	options := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]), chromedp.ExecPath(path),
		chromedp.NoSandbox, chromedp.Flag("disable-gpu", true),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("host-resolver-rules", "MAP *.test 127.0.0.1"))
	ctx, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewContext(ctx)
	t.Cleanup(stop)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	return ctx
}

// tab is one phone, or the brewer's machine, with cookies and storage of its own.
type tab struct {
	t    *testing.T
	ctx  context.Context
	name string
}

// open makes a phone of so many pixels' width.
func open(t *testing.T, browser context.Context, name string, width int64) *tab {
	t.Helper()
	ctx, stop := chromedp.NewContext(browser, chromedp.WithNewBrowserContext())
	t.Cleanup(stop)
	b := &tab{t, ctx, name}
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 844)); err != nil {
		t.Fatal(err)
	}
	return b
}

// do runs steps that must succeed.
func (b *tab) do(what string, steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, stop := context.WithTimeout(b.ctx, slowly)
	defer stop()
	if err := chromedp.Do(ctx, steps...); err != nil {
		b.t.Fatalf("%s: %s: %v\n%s", b.name, what, err, b.text())
	}
}

// evaluate is what an expression gives in the page at present.
func evaluate[T any](b *tab, expression string, how ...chromedp.EvaluateOption) (T, error) {
	ctx, stop := context.WithTimeout(b.ctx, slowly)
	defer stop()
	return chromedp.Run(ctx, chromedp.Evaluate[T](expression, how...))
}

// text is what the page shows.
func (b *tab) text() string {
	text, err := evaluate[string](b, "location.href + '\\n' + document.body.innerText")
	if err != nil {
		return err.Error()
	}
	return text
}

// wait waits until a condition is true of a page that has loaded whole. Before that its words
// may stand there while its script, which is to act on the next step, does not run yet; and
// between two pages nothing can be said of either.
func (b *tab) wait(condition string) {
	b.t.Helper()
	for begun := time.Now(); ; time.Sleep(50 * time.Millisecond) {
		yes, err := evaluate[bool](b, "document.readyState === 'complete' && Boolean("+condition+")")
		if err == nil && yes {
			return
		}
		if time.Since(begun) > slowly {
			b.t.Fatalf("%s: it never comes that %s: %v\n%s", b.name, condition, err, b.text())
		}
	}
}

// until waits for a page whose text has some words. They must not stand on the page before:
// that one would do as well while the next one is still under way.
func (b *tab) until(words string) {
	b.t.Helper()
	b.wait(fmt.Sprintf("document.body.innerText.includes(%q)", words))
}

// gone waits for a page whose text has some words no more.
func (b *tab) gone(words string) {
	b.t.Helper()
	b.wait(fmt.Sprintf("!document.body.innerText.includes(%q)", words))
}

// ahead waits until the forms of so many glasses are fetched beforehand.
func (b *tab) ahead(count int) {
	b.t.Helper()
	b.wait(fmt.Sprintf("sessionStorage.length >= %d", count))
}

// visit opens an address.
func (b *tab) visit(url string) {
	b.t.Helper()
	b.do("open "+url, chromedp.Navigate(url))
	b.wait("true")
}

// click clicks what a selector finds.
func (b *tab) click(selector string) {
	b.t.Helper()
	b.do("click "+selector, chromedp.Click(chromedp.CSS(selector)))
}

// choose clicks the button of an answer.
func (b *tab) choose(field, value string) {
	b.t.Helper()
	selector := fmt.Sprintf(`input[name=%q][value=%q]`, field, value)
	b.click(selector)
	b.wait(fmt.Sprintf("document.querySelector(%q).checked", selector))
}

// answer fills the form of a glass with the answers of one line of a table.
func (b *tab) answer(line map[string]string) {
	b.t.Helper()
	for _, a := range []string{"floral", "astringency"} {
		b.choose("intensity."+a, line[a])
		b.choose("vote."+a, fill(line).Get("vote."+a))
	}
	b.choose("liking", line["liking"])
}

// offline takes the network from a phone, or gives it back.
func (b *tab) offline(gone bool) {
	b.t.Helper()
	b.do("network", func(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
		// older than the command that the library has for it, and known by every Chromium
		return cdpVoid(cdp.Call(ctx, t, cdp.Command[networkState, cdp.Empty]{Method: "Network.emulateNetworkConditions"},
			networkState{Offline: gone, DownloadThroughput: -1, UploadThroughput: -1}))
	})
}

// networkState is what a browser is told about its network.
type networkState struct {
	Offline            bool    `json:"offline"`
	Latency            float64 `json:"latency"`
	DownloadThroughput float64 `json:"downloadThroughput"`
	UploadThroughput   float64 `json:"uploadThroughput"`
}

// withoutScript switches the scripts of pages off.
func (b *tab) withoutScript() {
	b.t.Helper()
	b.do("no script", func(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
		return cdpVoid(cdp.Call(ctx, t, emulation.SetScriptExecutionDisabled,
			emulation.SetScriptExecutionDisabledParams{Value: true}))
	})
}

// dark asks pages for their dark colours, or for the light ones.
func (b *tab) dark(dark bool) {
	b.t.Helper()
	scheme := map[bool]string{true: "dark", false: "light"}[dark]
	b.do("colours", func(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
		return cdpVoid(cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}}))
	})
	b.wait("matchMedia('(prefers-color-scheme: " + scheme + ")').matches")
}

// cdpVoid drops the empty result of a command.
func cdpVoid(_ cdp.Empty, err error) (chromedp.Void, error) { return chromedp.Void{}, err }

// look checks how a page stands at the widths of a small phone, a phone and a desk, in the
// light and in the dark: nothing beyond its edge, no target under 24 pixels (WCAG 2.2, 2.5.8), and
// no rule of axe-core broken. It takes pictures if they are wanted.
func (b *tab) look(page string, own int64) {
	b.t.Helper()
	axe, err := os.ReadFile(os.Getenv("HEDGEROW_AXE"))
	if err != nil {
		b.t.Fatal("HEDGEROW_AXE names no script: ", err)
	}
	for _, width := range []int64{320, 390, 1280} {
		b.do("width", chromedp.EmulateViewport(width, 844))
		b.wait(fmt.Sprintf("innerWidth === %d", width))
		b.expect(page, width, "document.documentElement.scrollWidth <= innerWidth ? '' : 'is wider than the screen'")
		b.expect(page, width, `[...document.querySelectorAll('label, button, input[type=checkbox]')].filter(e => {
			const r = e.getBoundingClientRect(); return r.width > 0 && (r.width < 24 || r.height < 24) &&
				!e.matches('.t, .late label') }).map(e => 'small target: ' + e.textContent).join()`)
		for _, dark := range []bool{false, true} {
			b.dark(dark)
			b.picture(fmt.Sprintf("%s-%d%s", page, width, map[bool]string{true: "-dark"}[dark]))
			b.expect(page, width, string(axe)+`;axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa',
				'wcag22aa', 'best-practice']}).then(r => r.violations.map(v => v.id + ': ' +
				v.nodes.map(n => n.html + ' ' + n.failureSummary).join('; ')).join('\n'))`)
		}
		b.dark(false)
	}
	b.do("width", chromedp.EmulateViewport(own, 844))
}

// expect demands that an expression finds no fault.
func (b *tab) expect(page string, width int64, expression string) {
	b.t.Helper()
	fault, err := evaluate[string](b, expression, chromedp.EvalAwaitPromise)
	if err != nil || fault != "" {
		b.t.Errorf("%s: %s at %d pixels: %v\n%s", b.name, page, width, err, fault)
	}
}

// picture takes a picture of the whole page.
func (b *tab) picture(name string) {
	b.t.Helper()
	folder := os.Getenv("HEDGEROW_SHOTS")
	if folder == "" {
		return
	}
	ctx, stop := context.WithTimeout(b.ctx, slowly)
	defer stop()
	shot, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
	if err == nil {
		err = os.WriteFile(filepath.Join(folder, name+".png"), shot, 0o644)
	}
	if err != nil {
		b.t.Error(err)
	}
}

// serveNamed serves a tasting as the command does, but under a host name for its phones.
func serveNamed(t *testing.T, db, tasting, name string) (*phones.Evening, *desk) {
	t.Helper()
	return serveBook(t, db, tasting, name, func(*phones.Book) {})
}

// serveBook does so with a notebook that a test alters.
func serveBook(t *testing.T, db, tasting, name string, alter func(*phones.Book)) (*phones.Evening, *desk) {
	t.Helper()
	e := exampleEnv(db, "")
	e.now = time.Now
	n, err := e.readingScores()
	if err != nil {
		t.Fatal(err)
	}
	g, err := servable(n, tasting)
	if err != nil {
		t.Fatal(err)
	}
	var at [2]net.Listener
	for i := range at {
		if at[i], err = net.Listen("tcp", "127.0.0.1:0"); err != nil {
			t.Fatal(err)
		}
	}
	_, port, _ := net.SplitHostPort(at[0].Addr().String())
	d := &desk{e: e, tastingID: g.ID, closed: func() {}}
	book := d.book()
	alter(&book)
	v, err := phones.New(n, g, book, phones.Setting{Phones: net.JoinHostPort(name, port), LAN: true,
		Brewer: at[1].Addr().String(), Until: time.Now().Add(time.Hour), Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error)
	go func() { ended <- v.Serve(ctx, at[0], at[1]) }()
	t.Cleanup(func() { stop(); <-ended; e.close() })
	return v, d
}

// The whole evening of the README on three phones at once, one offline for a while, one
// without script, one that comes late, and a fourth taster on paper. What it is held against is
// what tasting score keeps of the README's table.
func TestEveningInTheBrowser(t *testing.T) {
	for _, host := range []string{"127.0.0.1", "evening.test"} {
		t.Run(host, func(t *testing.T) { eveningInTheBrowser(t, host) })
	}
}

// line is what the README's table has of a taster and a glass.
func lineOf(t *testing.T, lines []map[string]string, taster, code string) map[string]string {
	t.Helper()
	i := slices.IndexFunc(lines, func(l map[string]string) bool { return l["taster"] == taster && l["serving"] == code })
	if i < 0 {
		t.Fatalf("the table has no line of %s and %q", taster, code)
	}
	return lines[i]
}

// code is the code of the glass that the page asks about.
func (b *tab) code() string {
	b.t.Helper()
	code, err := evaluate[string](b, "document.querySelector('.code b').textContent")
	if err != nil {
		b.t.Fatal(b.name, err, b.text())
	}
	return code
}

// eveningInTheBrowser is the evening with phones that know the server by one name.
func eveningInTheBrowser(t *testing.T, host string) {
	lines := readmeScores(t)
	db := filepath.Join(t.TempDir(), "served.db")
	setUp(t, db, clubNight+`tasting join club-night "Taster A" "Taster B" "Taster C"`)
	v, d := serveNamed(t, db, "club-night", host)
	n, err := d.read()
	if err != nil {
		t.Fatal(err)
	}
	links := map[string]string{}
	for _, l := range v.Links(n) {
		links[l.Taster] = l.URL
	}
	chromium := browser(t)
	brewer := open(t, chromium, "brewer", 1280)
	brewer.visit(v.BrewerURL())
	brewer.until("0 of 9 glasses are in")

	a, b := open(t, chromium, "Taster A", 390), open(t, chromium, "Taster B", 320)
	late := open(t, chromium, "Taster D", 390)
	b.withoutScript()
	for taster, phone := range map[string]*tab{"Taster A": a, "Taster B": b} {
		phone.visit(links[taster])
		phone.until("You are " + taster)
		phone.click("button.send")
		phone.until("Glass 1 of 3")
	}
	scoreOffline(t, a, lines)
	brewer.until("3 of 9 glasses are in")
	scoreAll(t, b, "Taster B", lines)
	brewer.until("6 of 9 glasses are in")

	late.visit(v.JoinURL())
	late.until("My name is not here")
	late.do("type", chromedp.SendKeys(chromedp.CSS("#name"), "Taster D"+kb.Enter))
	late.until("You are Taster D")
	late.click("button.send")
	scoreAll(t, late, "Taster D", lines)
	brewer.until("9 of 12 glasses are in")
	for _, l := range lines {
		if l["taster"] == "Taster C" {
			setUp(t, db, fmt.Sprintf(`tasting score club-night --taster "Taster C" --serving %s floral=%s/%s `+
				`astringency=%s/%s liking=%s`, l["serving"], l["floral"], strings.Fields(l["floral vote"])[1],
				l["astringency"], strings.Fields(l["astringency vote"])[1], l["liking"]))
		}
	}
	brewer.until("12 of 12 glasses are in")
	brewer.until("Everybody has sent everything.")
	brewer.gone("close without")
	brewer.click(".close .btn")
	brewer.until("moor-high")
	a.visit(links["Taster A"] + "/1")
	a.until("The tasting is closed")

	typed := filepath.Join(t.TempDir(), "typed.db")
	setUp(t, typed, clubNight+`tasting score club-night --taster "Taster A" --serving 847 floral=3/little `+
		`astringency=1/right liking=6`)
	readme, _ := os.ReadFile(filepath.Join("..", "..", "README.md"))
	table := fenced(string(readme), "csv")[0]
	runWords(t, exampleEnv(typed, table), "score", []string{"tasting", "score", "club-night", "-"})
	runLine(t, exampleEnv(typed, ""), "tasting close club-night")
	if want, got := scoresKept(t, typed), scoresKept(t, db); !slices.Equal(want, got) {
		t.Errorf("typed:\n%s\nserved:\n%s", strings.Join(want, "\n"), strings.Join(got, "\n"))
	}
}

// scoreAll scores three glasses with the network there.
func scoreAll(t *testing.T, b *tab, taster string, lines []map[string]string) {
	t.Helper()
	for glass := 1; glass <= 3; glass++ {
		b.until(fmt.Sprintf("Glass %d of 3", glass))
		b.answer(lineOf(t, lines, taster, b.code()))
		b.click("button.send")
		b.until(fmt.Sprintf("%d of 3 sent", glass))
		if glass < 3 {
			b.click("a.send")
		}
	}
}

// scoreOffline scores three glasses on a phone that loses the network after the first one was
// sent, goes on through the others, and gets it back at the end.
func scoreOffline(t *testing.T, b *tab, lines []map[string]string) {
	t.Helper()
	b.answer(lineOf(t, lines, "Taster A", b.code()))
	b.click("button.send")
	b.until("1 of 3 sent")
	b.click("a.send")
	b.until("Glass 2 of 3")
	b.ahead(2)
	b.offline(true)
	b.answer(lineOf(t, lines, "Taster A", b.code()))
	b.until("Kept on this phone, not sent yet")
	b.click("button[type=submit]")
	b.until("Go on to glass 3")
	b.click("#on button")
	b.until("Glass 3 of 3")
	b.click("button[type=submit]")
	b.until("Not kept: 5 of the questions still want an answer")
	// another try to send glass 2 says nothing of this one
	b.do("try again", chromedp.Evaluate[chromedp.Void]("dispatchEvent(new Event('online'))"))
	time.Sleep(time.Second)
	b.until("Not kept: 5 of the questions still want an answer")
	b.answer(lineOf(t, lines, "Taster A", b.code()))
	b.click("button[type=submit]")
	b.until("Glasses 2, 3 are kept on this phone, not sent yet")
	b.until("Leave this page open")
	b.offline(false)
	b.until("3 of 3 sent")
}

// Every page, with what it looks like when something is wrong, passes at every width.
func TestPagesInTheBrowser(t *testing.T) {
	db := filepath.Join(t.TempDir(), "served.db")
	setUp(t, db, twoTastersNight)
	v, d := serveNamed(t, db, "club-night", "pages.test")
	n, _ := d.read()
	chromium := browser(t)
	brewer, a, late := open(t, chromium, "brewer", 1280), open(t, chromium, "Taster A", 390),
		open(t, chromium, "late", 390)
	a.visit(v.Links(n)[0].URL)
	a.look("start", 390)
	a.click("button.send")
	a.until("Glass 1 of 3")
	a.look("glass", 390)
	a.choose("intensity.astringency", "6")
	a.click("button.send")
	a.until("Not sent: 4 things to look at")
	a.look("faults", 390)
	a.answer(map[string]string{"floral": "6", "floral vote": "just right", "astringency": "?", "astringency vote": "?",
		"liking": "7"})
	a.look("answered", 390)
	a.ahead(2)
	a.offline(true)
	a.click("button[type=submit]")
	a.until("Go on to glass 2")
	a.look("kept", 390)
	a.offline(false)
	a.until("Glass 2 of 3")
	a.visit(v.Links(n)[0].URL + "/1/sent")
	a.look("sent", 390)
	late.visit(v.JoinURL())
	late.look("join", 390)
	late.visit(v.JoinURL() + "x")
	late.look("no-such-link", 390)
	brewer.visit(v.BrewerURL())
	brewer.look("brewer", 1280)
	brewer.click("td a")
	brewer.until("Link for Taster")
	brewer.click(".close .btn")
	brewer.until("Tick that you close without what is missing")
	brewer.look("brewer-fault", 1280)
	brewer.click("input[name=missing]")
	brewer.click(".close .btn")
	brewer.until("moor-high")
	brewer.look("result", 1280)
	a.visit(v.Links(n)[0].URL)
	a.until("The tasting is closed")
	a.look("closed", 390)
}

// What a phone could not send by its link any more goes by the taster's new one.
func TestNewLinkInTheBrowser(t *testing.T) {
	db := filepath.Join(t.TempDir(), "served.db")
	setUp(t, db, twoTastersNight)
	v, d := serveNamed(t, db, "club-night", "links.test")
	n, _ := d.read()
	chromium := browser(t)
	brewer, a := open(t, chromium, "brewer", 1280), open(t, chromium, "Taster A", 390)
	a.visit(v.Links(n)[0].URL)
	a.click("button.send")
	a.until("Glass 1 of 3")
	a.ahead(2)
	a.offline(true)
	a.answer(map[string]string{"floral": "6", "floral vote": "just right", "astringency": "2",
		"astringency vote": "just right", "liking": "7"})
	a.click("button[type=submit]")
	a.until("Go on to glass 2")
	brewer.visit(v.BrewerURL())
	brewer.click("td a")
	brewer.until("Link for Taster A")
	old := v.Links(n)[0].URL
	brewer.click("form[action$=link] button")
	brewer.gone(old)
	brewer.until("Link for Taster A")
	a.offline(false)
	a.until("Not sent: this link has ended")
	a.visit(v.Links(n)[0].URL)
	a.until("You are Taster A")
	a.click("button.send")
	a.until("Glass 2 of 3")
	brewer.until("1 of 6 glasses are in")
}

// A glass that was kept is told to be sent, also where the link or the tasting ended before
// the phone could hear of it, and is kept once.
func TestEndedMeanwhileInTheBrowser(t *testing.T) {
	chromium := browser(t)
	for _, c := range []struct {
		name, below string
		form        url.Values
		offline     bool
		want        string
	}{
		{"link", "/link", nil, false, "Sent. This link has ended since"},
		{"link, sent later", "/link", nil, true, "Sent. This link has ended since"},
		{"tasting", "/close", url.Values{"missing": {"on"}}, false, "Sent. The tasting is closed now"},
		{"tasting, sent later", "/close", url.Values{"missing": {"on"}}, true, "Sent. The tasting is closed now"},
	} {
		t.Run(c.name, func(t *testing.T) {
			db := filepath.Join(t.TempDir(), "served.db")
			setUp(t, db, twoTastersNight)
			var v *phones.Evening
			var ended sync.Once
			v, d := serveBook(t, db, "club-night", "ended.test", func(b *phones.Book) {
				enter := b.Enter
				b.Enter = func(m trials.Marks) error {
					defer ended.Do(func() { postForm(t, v.BrewerURL()+c.below, c.form) })
					return enter(m)
				}
			})
			n, _ := d.read()
			if c.form == nil {
				c.form = url.Values{"taster": {n.Expected(n.Tastings[0].ID)[0].ID}}
			}
			a := open(t, chromium, "Taster A", 390)
			a.visit(v.Links(n)[0].URL)
			a.click("button.send")
			a.until("Glass 1 of 3")
			a.ahead(2)
			a.answer(map[string]string{"floral": "6", "floral vote": "just right", "astringency": "2",
				"astringency vote": "just right", "liking": "7"})
			a.offline(c.offline)
			a.click("button[type=submit]")
			if c.offline {
				a.until("Go on to glass 2")
				a.offline(false)
			}
			a.until(c.want)
			if c.below == "/link" {
				a.visit(v.Links(n)[0].URL)
				a.click("button.send")
				a.until("Glass 2 of 3")
			}
			if n, err := d.read(); err != nil || len(n.Scores) != 3 {
				t.Errorf("kept %v, %v", n.Scores, err)
			}
		})
	}
}

// postForm sends a form that must be taken.
func postForm(t *testing.T, address string, form url.Values) {
	t.Helper()
	r, err := http.PostForm(address, form)
	if err != nil {
		t.Error(err)
		return
	}
	defer r.Body.Close()
	if r.StatusCode != http.StatusOK {
		t.Errorf("%s: %s", address, r.Status)
	}
}
