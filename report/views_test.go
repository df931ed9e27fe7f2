package report

import (
	"math/rand/v2"
	"strings"
	"testing"

	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
	"hedgerow/trials/steeps"
)

// views builds every view that a notebook can be asked for.
func views(t testing.TB, n *trials.Notebook) map[string]View {
	t.Helper()
	materials, err := n.Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	hibiscus, _ := materials.Get("hibiscus")
	set := setOf(t, n)
	all := map[string]View{
		"batches": BatchList(n.Batches, quantity.Metric), "readings": ReadingList(n, nil, quantity.Metric), "additions": AdditionList(n, nil, quantity.USUnits),
		"extracts": ExtractList(n, quantity.Metric), "tasters": TasterList(n), "tastings": TastingList(n), "claims": ClaimList(n.Claims),
		"settings": SettingList(trials.KnownSettings(), n.Settings), "materials": MaterialList(materials, materials.All()), "no material": MaterialList(materials, nil),
		"hibiscus": Material(materials, hibiscus, quantity.Metric), "comparison": Comparison(n, set, quantity.Metric), "comparison us": Comparison(n, set, quantity.USUnits),
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
		all["tasting "+g.Name], all["key "+g.Name] = Tasting(n, g, false), Tasting(n, g, true)
	}
	if v, err := Suggest(n, set, SuggestRequest{VolumeL: 12, Units: quantity.Metric}); err == nil {
		all["suggestion"] = v
	}
	return all
}

// widest is a notebook with a bit of everything.
func widest() *trials.Notebook {
	n := series()
	n.Batches = append(n.Batches, trials.Batch{Record: trials.Record{ID: "jar", Name: "jar-1", CreatedAt: day(20)}, ParentID: ptr("single"), Kind: trials.KindJar, StartedAt: day(20), VolumeL: 2},
		trials.Batch{Record: trials.Record{ID: "bare", Name: "bare"}, Kind: trials.KindBatch, StartedAt: day(0), VolumeL: 5})
	week := 7.0 * 24 * 60
	n.Additions = append(n.Additions,
		trials.Addition{Record: trials.Record{ID: "d2", Name: "double.a2"}, BatchID: "double", At: day(12), Stage: trials.StageSecondary, MaterialKey: "raspberry", Method: trials.MethodContact, Form: "frozen", MassG: ptr(1500.0), Minutes: &week},
		trials.Addition{Record: trials.Record{ID: "d3", Name: "double.a3"}, BatchID: "double", At: day(20), Stage: trials.StageSecondary, LiquidKind: "spirit", VolumeL: ptr(0.2), StrengthPct: ptr(40.0)},
		trials.Addition{Record: trials.Record{ID: "d4", Name: "double.a4"}, BatchID: "double", At: day(21), Stage: trials.StagePackaging, LiquidKind: "sugar", LiquidMassG: ptr(80.0)})
	n.Losses = []trials.Loss{{Record: trials.Record{ID: "l", Name: "single.l1"}, BatchID: "single", At: day(15), Kind: trials.LossTrub, VolumeL: 0.5, Note: "yeast"}}
	n.Packagings = []trials.Packaging{{Record: trials.Record{ID: "p", Name: "double.p1"}, BatchID: "double", At: day(22)}}
	n.BatchNotes = []trials.BatchNote{{Record: trials.Record{ID: "bn", Name: "plain.n1"}, BatchID: "plain", At: day(12), Text: hostile}}
	n.TasterNotes = []trials.TasterNote{{ID: "tn", TastingID: "club", ServingID: "club/single", TasterID: "t0", Text: hostile}}
	n.Extracts = append(n.Extracts, trials.Extract{Record: trials.Record{ID: "raw", Name: "not-steeped"}, MadeAt: day(2), MaterialKey: "heather", Method: trials.MethodTea, Form: "cut", MassG: 20})
	serve(n, trials.Tasting{Record: trials.Record{Name: "waiting"}, At: day(40), Blind: true, Note: hostile},
		glass{batch: "single", tart: [3]float64{9, 9, 9}, vote: [3]int{1, 1, 1}, liking: [3]float64{1, 1, 1}},
		glass{batch: "jar", tart: [3]float64{9, 9, 9}, vote: [3]int{1, 1, 1}, liking: [3]float64{1, 1, 1}})
	return n
}

// Nothing that no reader should meet is in any view: NaN, null for a list,
// control characters, slips of formatting.
func TestEveryViewIsReadable(t *testing.T) {
	for name, n := range map[string]*trials.Notebook{"empty": {Now: day(60)}, "series": series(), "widest": widest()} {
		for view, v := range views(t, n) {
			checkView(t, name+", "+view, v)
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
		checkView(t, m.Key, v)
		text := asText(t, v.Document, 80)
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
	first := views(t, widest())
	n := widest()
	rng := rand.New(rand.NewPCG(3, 4))
	rng.Shuffle(len(n.Scores), func(i, j int) { n.Scores[i], n.Scores[j] = n.Scores[j], n.Scores[i] })
	rng.Shuffle(len(n.Servings), func(i, j int) { n.Servings[i], n.Servings[j] = n.Servings[j], n.Servings[i] })
	shuffled := views(t, n)
	for name, again := range views(t, widest()) {
		if asText(t, first[name].Document, 80) != asText(t, again.Document, 80) || jsonOf(t, first[name]) != jsonOf(t, again) {
			t.Errorf("%s differs from one run to the next", name)
		}
		if name == "suggestion" {
			continue // its draws follow the order of the scores
		}
		if got, want := asText(t, shuffled[name].Document, 80), asText(t, again.Document, 80); got != want {
			t.Errorf("%s depends on the order of the records:\n%s\n%s", name, got, want)
		}
	}
}

// No line of a view is wider than a narrow terminal, as far as columns of
// numbers allow.
func TestViewsFitEightyColumns(t *testing.T) {
	for name, v := range views(t, widest()) {
		for _, line := range strings.Split(asText(t, v.Document, 80), "\n") {
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
	for name, v := range map[string]View{"batch": BatchList(nil, quantity.Metric), "reading": ReadingList(n, nil, quantity.Metric), "addition": AdditionList(n, nil, quantity.Metric),
		"extract": ExtractList(n, quantity.Metric), "taster": TasterList(n), "tasting": TastingList(n), "claim": ClaimList(nil)} {
		text := asText(t, v.Document, 80)
		if !strings.Contains(text, "hedgerow "+name) && !strings.Contains(text, "first score") {
			t.Errorf("%s: %q", name, text)
		}
		if got := jsonOf(t, v); !strings.Contains(got, `"rows": []`) || !strings.Contains(got, `"warnings": []`) {
			t.Errorf("%s: %s", name, got)
		}
	}
}
