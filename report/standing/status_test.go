package standing

import (
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"hedgerow/report/document"
	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/quantity"
)

// statusOf is where things stand in a notebook.
func statusOf(t *testing.T, n *trials.Notebook) document.View {
	t.Helper()
	v, err := Status(n, NotebookFile{Path: "/home/x/n.db", By: "--db"}, quantity.Metric)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// views are the views of a notebook.
func views(t *testing.T, n *trials.Notebook) map[string]document.View {
	t.Helper()
	list, err := BatchList(n, quantity.USUnits)
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]document.View{"status": statusOf(t, n), "batches": list,
		"found": Find(n, []string{"HIB"}, quantity.Metric), "all": Find(n, []string{"a"}, quantity.USUnits)}
	for _, b := range n.Batches {
		all["recipe of "+b.Name] = Recipe(n, b, 20, quantity.Metric)
	}
	return all
}

// In every format, at 80 columns, nothing meets a reader that should not; the same
// records in another order give the same text.
func TestViewsAreReadable(t *testing.T) {
	empty := func() *trials.Notebook { return &trials.Notebook{Now: invented.Day(60)} }
	for name, make := range map[string]func() *trials.Notebook{"empty": empty, "series": invented.Series,
		"widest": invented.Widest} {
		n := make()
		rng := rand.New(rand.NewPCG(3, 4))
		rng.Shuffle(len(n.Readings), func(i, j int) { n.Readings[i], n.Readings[j] = n.Readings[j], n.Readings[i] })
		rng.Shuffle(len(n.Additions), func(i, j int) { n.Additions[i], n.Additions[j] = n.Additions[j], n.Additions[i] })
		shuffled := views(t, n)
		for view, v := range views(t, make()) {
			drawing.CheckView(t, name+", "+view, v)
			text := drawing.AsText(t, v.Document, 80)
			for line := range strings.SplitSeq(text, "\n") {
				if w := len([]rune(line)); w > 80 {
					t.Errorf("%s, %s has a line of %d: %q", name, view, w, line)
				}
			}
			if again := drawing.AsText(t, shuffled[view].Document, 80); again != text {
				t.Errorf("%s, %s depends on the order of the records:\n%s\n%s", name, view, text, again)
			}
		}
	}
}

// A suggestion is told as it was given; once a tasting with its material was closed, it
// says to ask again, and a material that was never asked for says so too.
func TestSuggestionsAreToldAgain(t *testing.T) {
	n := invented.Series()
	volume := 10.0
	n.Suggestions = []trials.Suggestion{{MaterialKey: "hibiscus", At: invented.Day(50),
		Text: "Next for hibiscus: 2.9 g/L, as tea.", VolumeL: &volume}}
	for i := range n.Tastings {
		n.Tastings[i].ClosedAt = invented.Ptr(invented.Day(40))
	}
	text := drawing.AsText(t, statusOf(t, n).Document, 80)
	if !strings.Contains(text, "Next for hibiscus: 2.9 g/L, as tea.") || strings.Contains(text, "ask again") ||
		!strings.Contains(text, "hedgerow suggest hibiscus --volume 10L") {
		t.Errorf("told\n%s", text)
	}
	n.Tastings[0].ClosedAt = invented.Ptr(invented.Day(51))
	if text = drawing.AsText(t, statusOf(t, n).Document, 80); !strings.Contains(text, "was closed since: ask again") {
		t.Errorf("after a tasting\n%s", text)
	}
	n.Suggestions = nil
	if text = drawing.AsText(t, statusOf(t, n).Document, 80); !strings.Contains(text, "not asked yet") {
		t.Errorf("never asked\n%s", text)
	}
}

// Beers that nothing happened to for half a year are not in hand, glasses never are, and
// of more than fit a page the rest are counted.
func TestWhatIsInHand(t *testing.T) {
	n := &trials.Notebook{Now: invented.Day(0).AddDate(1, 0, 0)}
	begin := func(name, kind string, daysAgo int) {
		n.Batches = append(n.Batches, trials.Batch{Record: trials.Record{ID: name, Name: name}, Kind: kind, VolumeL: 12,
			OG: invented.Ptr(1.048), StartedAt: n.Now.Add(-time.Duration(daysAgo) * 24 * time.Hour)})
	}
	begin("old", trials.KindBatch, 181)
	begin("glass", trials.KindGlass, 1)
	for i := range 17 {
		begin("moor-"+string(rune('a'+i)), trials.KindBatch, 20-i)
	}
	p := statusOf(t, n).Payload.(statusPayload)
	if len(p.Vessels) != mostVessels || p.Older != 2 || p.Vessels[0].Batch != "moor-q" {
		t.Errorf("%d shown, %d more, first %s", len(p.Vessels), p.Older, p.Vessels[0].Batch)
	}
}
