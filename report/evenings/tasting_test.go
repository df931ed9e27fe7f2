package evenings

import (
	"strings"
	"testing"

	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
)

// tastingView shows a tasting and its JSON.
func tastingView(t testing.TB, n *trials.Notebook, name string, key bool) (string, string) {
	t.Helper()
	g, err := n.Tasting(name)
	if err != nil {
		t.Fatal(err)
	}
	v := Tasting(n, g, key)
	return drawing.AsText(t, v.Document, 80) + drawing.AsMarkdown(t, v.Document) +
		drawing.AsCSV(t, v.Document), drawing.JsonOf(t, v)
}

// While a tasting is sealed no format tells what is in a glass or how it was
// scored; who has scored is told.
func TestSealedTastingTellsNothing(t *testing.T) {
	n := invented.Widest()
	n.TasterNotes = append(n.TasterNotes, trials.TasterNote{ID: "t2", TastingID: "waiting", ServingID: "waiting/single",
		TasterID: "t0", Text: "tastes of single"})
	text, json := tastingView(t, n, "waiting", false)
	for _, secret := range []string{"single", "jar-1", "9.0", "tastes of"} {
		if strings.Contains(text, secret) || strings.Contains(json, secret) {
			t.Errorf("%q is told:\n%s\n%s", secret, text, json)
		}
	}
	for _, want := range []string{"sealed", "417", "528", "Taster A, Taster B, Taster C"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not told:\n%s", want, text)
		}
	}
	if !strings.Contains(json, `"batch": null`) || !strings.Contains(json, `"scores": []`) ||
		!strings.Contains(json, `"sealed": true`) {
		t.Error(json)
	}
}

// The key tells the beers, still not the scores.
func TestKeyOfASealedTasting(t *testing.T) {
	text, json := tastingView(t, invented.Widest(), "waiting", true)
	if !strings.Contains(text, "single") || !strings.Contains(text, "jar-1") || strings.Contains(text, "9.0") ||
		!strings.Contains(json, `"scores": []`) {
		t.Errorf("%s\n%s", text, json)
	}
}

// Every answer of a closed tasting, votes as signs that are explained.
func TestClosedTasting(t *testing.T) {
	text, json := tastingView(t, invented.Widest(), "club", false)
	for _, want := range []string{"7.0 =", "6.0 +", "1.0 -", "- too little, = just right, + too much",
		"Taster A on 639: "} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	if got := strings.Count(json, `"vote": "too little"`); got != 4 {
		t.Errorf("%d votes of too little, want 4", got)
	}
}

// A hidden repeat stands under its own code and is marked once revealed.
func TestRepeatInATasting(t *testing.T) {
	n := invented.Series()
	n.Servings = append(n.Servings, trials.Serving{ID: "again", TastingID: "club", BatchID: "single", Code: "902",
		Repeat: true})
	n.Scores = append(n.Scores, trials.Score{ID: "again", TastingID: "club", ServingID: "again", TasterID: "t0",
		Attribute: "tartness", Intensity: invented.Ptr(5.5)})
	text, _ := tastingView(t, n, "club", false)
	if !strings.Contains(text, "single (repeat)") || !strings.Contains(text, "5.5") {
		t.Errorf("\n%s", text)
	}
}

func TestStatesOfTastings(t *testing.T) {
	at := invented.Ptr(invented.Day(1))
	for _, c := range []struct {
		g    trials.Tasting
		want string
	}{
		{trials.Tasting{Blind: true}, "sealed"},
		{trials.Tasting{Blind: true, PeekedAt: at}, "sealed, but the key was looked at"},
		{trials.Tasting{Blind: true, ClosedAt: at}, "closed"},
		{trials.Tasting{Blind: true, ClosedAt: at, PeekedAt: at}, "closed; the key was looked at before"},
		{trials.Tasting{}, "not blind"},
	} {
		if got := tastingState(c.g); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// Codes are three different digits each, all different, the same for a seed;
// their order does not follow that of the beers.
func TestCodesOfServings(t *testing.T) {
	var batches []trials.Batch
	for _, name := range strings.Fields("a b c d e") {
		batches = append(batches, trials.Batch{Record: trials.Record{ID: name, Name: name}})
	}
	sorted := 0
	for seed := range int64(200) {
		g := trials.Tasting{Record: trials.Record{ID: "g"}, Seed: seed}
		list, err := planServings(g, batches, batches[:1])
		again, _ := planServings(g, batches, batches[:1])
		if err != nil || len(list) != 6 {
			t.Fatal(list, err)
		}
		seen := map[string]bool{}
		ascending := true
		for i, s := range list {
			c := s.Code
			if len(c) != 3 || c[0] == c[1] || c[1] == c[2] || c[0] == c[2] || seen[c] || s.TastingID != "g" {
				t.Fatalf("code %q", c)
			}
			if again[i] != s {
				t.Fatalf("seed %d gives %+v and %+v", seed, s, again[i])
			}
			ascending = ascending && (i == 0 || list[i-1].Code < c)
			seen[c] = true
		}
		if ascending {
			sorted++
		}
		if !list[5].Repeat || list[5].BatchID != "a" || list[4].Repeat {
			t.Fatalf("repeat %+v", list[5])
		}
	}
	// One order in 720 is ascending by chance: 200 seeds give 0.3 on average.
	if sorted > 3 {
		t.Errorf("codes follow the beers in %d of 200 tastings", sorted)
	}
}

func TestServingsThatCannotBe(t *testing.T) {
	one := trials.Batch{Record: trials.Record{ID: "a", Name: "a"}}
	many := make([]trials.Batch, MostServings+1)
	for what, c := range map[string][2][]trials.Batch{"one glass": {{one}, nil}, "none": {nil, nil},
		"too many": {many, nil}, "a repeat of a beer that is not served": {{one},
			{{Record: trials.Record{ID: "b", Name: "b"}}}}} {
		if _, err := planServings(trials.Tasting{Blind: true}, c[0], c[1]); trials.CodeOf(err) != trials.Invalid {
			t.Errorf("%s: %v", what, err)
		}
	}
}
