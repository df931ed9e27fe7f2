package report

import (
	"math/rand/v2"
	"strings"
	"testing"

	"hedgerow/report/decisions"
	"hedgerow/report/document"
	"hedgerow/report/evenings"
	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
	"hedgerow/trials/steeps"
)

// views builds every view that a notebook can be asked for.
func views(t testing.TB, n *trials.Notebook) map[string]document.View {
	t.Helper()
	materials, err := n.Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	hibiscus, _ := materials.Get("hibiscus")
	set := invented.SetOf(t, n)
	all := map[string]document.View{
		"readings": ReadingList(n, nil, quantity.Metric), "additions": AdditionList(n, nil, quantity.USUnits),
		"extracts": ExtractList(n, quantity.Metric), "tasters": TasterList(n), "tastings": evenings.TastingList(n),
		"claims":   ClaimList(n.Claims),
		"settings": SettingList(trials.KnownSettings(), n.Settings), "materials": MaterialList(materials,
			materials.All()), "no material": MaterialList(materials, nil),
		"hibiscus": Material(materials, hibiscus, quantity.Metric), "comparison": decisions.Comparison(n, set, "",
			quantity.Metric), "comparison us": decisions.Comparison(n, set, "", quantity.USUnits),
	}
	for _, b := range n.Batches {
		all["history "+b.Name] = BatchHistory(n, b, quantity.Metric)
		if l, err := ledger.Of(n, b); err == nil {
			all["ledger "+b.Name] = Ledger(n, l, quantity.Metric)
			all["ledger us "+b.Name] = Ledger(n, l, quantity.USUnits)
			for _, a := range n.Additions {
				if a.BatchID == b.ID {
					all["effect "+a.Name] = AdditionEffect(n, l, a, quantity.Metric, nil)
				}
			}
		}
	}
	for _, x := range n.Extracts {
		if story, err := steeps.StoryOf(n, materials, x); err == nil {
			more, _ := steeps.GainsOf(n, materials, x, story.Yield.Class)
			all["extract "+x.Name] = Extract(story, ExtractStyle{Units: quantity.Metric, Explain: true, More: more})
		}
	}
	for what, v := range steepViews(materials) {
		all[what] = v
	}
	for _, g := range n.Tastings {
		all["tasting "+g.Name], all["key "+g.Name] = evenings.Tasting(n, g, false), evenings.Tasting(n, g, true)
	}
	if v, err := decisions.Suggest(n, set, decisions.SuggestRequest{VolumeL: 12, Units: quantity.Metric}); err == nil {
		all["suggestion"] = v
	}
	return all
}

// widestKept are the views of the widest notebook, made once for the tests that look at
// them.
var widestKept map[string]document.View

func widest(t testing.TB) map[string]document.View {
	if widestKept == nil {
		widestKept = views(t, invented.Widest())
	}
	return widestKept
}

// Nothing that no reader should meet is in any view: NaN, null for a list,
// control characters, slips of formatting.
func TestEveryViewIsReadable(t *testing.T) {
	for name, all := range map[string]map[string]document.View{
		"empty":  views(t, &trials.Notebook{Now: invented.Day(60)}),
		"series": views(t, invented.Series()),
		"widest": widest(t),
	} {
		for view, v := range all {
			drawing.CheckView(t, name+", "+view, v)
		}
	}
}

// The page of every material, too: readable, within the page, and with the
// disclaimer wherever there are cautions.
func TestEveryMaterialIsReadable(t *testing.T) {
	materials, err := (&trials.Notebook{}).Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range materials.All() {
		v := Material(materials, m, quantity.Metric)
		drawing.CheckView(t, m.Key, v)
		text := drawing.AsText(t, v.Document, 80)
		for _, line := range strings.Split(text, "\n") {
			if n := len([]rune(line)); n > 80 {
				t.Errorf("%s has a line of %d: %q", m.Key, n, line)
			}
		}
		if len(materials.Cautions(m)) > 0 && !strings.Contains(text, "no medical or legal advice") {
			t.Errorf("%s comes without the disclaimer", m.Key)
		}
		if len(materials.Limits(m)) > 0 && !strings.Contains(text, "check the current local code") {
			t.Errorf("%s quotes limits without saying to check the local code", m.Key)
		}
	}
}

// The same notebook gives the same bytes each time, and whatever order its
// records have.
func TestViewsDoNotDependOnMapsOrRuns(t *testing.T) {
	first := widest(t)
	n := invented.Widest()
	rng := rand.New(rand.NewPCG(3, 4))
	rng.Shuffle(len(n.Scores), func(i, j int) { n.Scores[i], n.Scores[j] = n.Scores[j], n.Scores[i] })
	rng.Shuffle(len(n.Servings), func(i, j int) { n.Servings[i], n.Servings[j] = n.Servings[j], n.Servings[i] })
	shuffled := views(t, n)
	for name, again := range views(t, invented.Widest()) {
		if drawing.AsText(t, first[name].Document, 80) != drawing.AsText(t, again.Document, 80) ||
			drawing.JsonOf(t, first[name]) != drawing.JsonOf(t, again) {
			t.Errorf("%s differs from one run to the next", name)
		}
		if name == "suggestion" {
			continue // its draws follow the order of the scores
		}
		if got, want := drawing.AsText(t, shuffled[name].Document, 80), drawing.AsText(t, again.Document, 80); got != want {
			t.Errorf("%s depends on the order of the records:\n%s\n%s", name, got, want)
		}
	}
}

// No line of a view is wider than a narrow terminal, as far as columns of
// numbers allow.
func TestViewsFitEightyColumns(t *testing.T) {
	for name, v := range widest(t) {
		for _, line := range strings.Split(drawing.AsText(t, v.Document, 80), "\n") {
			if n := len([]rune(line)); n > 80 {
				t.Errorf("%s has a line of %d: %q", name, n, line)
			}
		}
	}
}

// An empty notebook says in each list what to type first, and its JSON has an
// empty list.
func TestEmptyListsSayWhatToDo(t *testing.T) {
	n := &trials.Notebook{}
	for name, v := range map[string]document.View{
		"reading": ReadingList(n, nil, quantity.Metric), "addition": AdditionList(n, nil, quantity.Metric),
		"extract": ExtractList(n, quantity.Metric), "taster": TasterList(n), "tasting": evenings.TastingList(n),
		"claim": ClaimList(nil)} {
		text := drawing.AsText(t, v.Document, 80)
		if !strings.Contains(text, "hedgerow "+name) && !strings.Contains(text, "first score") {
			t.Errorf("%s: %q", name, text)
		}
		if got := drawing.JsonOf(t, v); !strings.Contains(got, `"rows": []`) || !strings.Contains(got, `"warnings": []`) {
			t.Errorf("%s: %s", name, got)
		}
	}
}
