package decisions

import (
	"fmt"
	"strings"
	"testing"

	"hedgerow/report/document"
	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/quantity"
)

// alsoVoted adds a taste to the evening of the series: for each glass an intensity and
// a vote of all three tasters.
func alsoVoted(n *trials.Notebook, taste string, said map[string][2]int) {
	n.Tastings[0].Attributes = append(n.Tastings[0].Attributes, taste)
	for _, v := range n.Servings {
		for k := range 3 {
			s := said[v.BatchID]
			n.Scores = append(n.Scores, trials.Score{ID: fmt.Sprint(v.ID, k, taste),
				TastingID: v.TastingID, ServingID: v.ID, TasterID: fmt.Sprint("t", k), At: invented.Day(30), Attribute: taste,
				Intensity: invented.Ptr(float64(s[0])), Vote: invented.Ptr(s[1])})
		}
	}
}

// answered is the suggestion of a notebook as JSON and as text.
func answered(t *testing.T, n *trials.Notebook, r SuggestRequest) (map[string]any, string) {
	t.Helper()
	r.VolumeL, r.Units = 12, quantity.Metric
	v, err := Suggest(n, invented.SetOf(t, n), r)
	if err != nil {
		t.Fatal(err)
	}
	var payload map[string]any
	drawing.ReadJSON(t, v, &payload)
	return payload, drawing.AsText(t, v.Document, 80)
}

// All find the single tart beer too astringent and none the plain: tartness is right
// where astringency is not. The headline says so, the window has both chances, and
// what moves the one against the other is named.
func TestTwoTastesThatPullApart(t *testing.T) {
	n := invented.Series()
	alsoVoted(n, "astringency", map[string][2]int{"plain": {1, 0}, "single": {7, 1}, "double": {9, 1}})
	payload, text := answered(t, n, SuggestRequest{Attribute: "tartness"})
	for _, want := range []string{"but astringency is too strong there.", "Both go best at", "Two tastes at once",
		"Less of it at the same acid or aroma, the likeliest first:"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	window := payload["window"].(map[string]any)
	both, within := window["p_both"].(float64), window["p_within_at_right_dose"].(float64)
	if both >= 0.6 || within >= 0.5 {
		t.Errorf("window %v", window)
	}
	if !strings.Contains(fmt.Sprint(payload["warning_codes"]), "conflict") {
		t.Errorf("codes %v", payload["warning_codes"])
	}
	// a taste that is just right where tartness is has nothing to say
	n = invented.Series()
	alsoVoted(n, "astringency", map[string][2]int{"plain": {1, 0}, "single": {3, 0}, "double": {4, 0}})
	if payload, text := answered(t, n, SuggestRequest{Attribute: "tartness"}); payload["window"] != nil ||
		strings.Contains(text, "Two tastes") {
		t.Errorf("two tastes that agree are told apart:\n%s", text)
	}
}

// Nobody misses body in the plain beer and all do in the double: more of the plant
// makes less of it, and no dose is right. There is no right dose, no recipe, and the
// tartness of the same beers has its dose as before.
func TestATasteThatFallsHasNoRightDose(t *testing.T) {
	n := invented.Series()
	alsoVoted(n, "body", map[string][2]int{"plain": {6, 0}, "single": {5, 0}, "double": {2, -1}})
	payload, text := answered(t, n, SuggestRequest{Attribute: "body"})
	if payload["right_dose_g_per_l"] != nil || !strings.Contains(text, "Body falls with the dose") ||
		!strings.Contains(text, "Too little for 0 of 3 without any, for 3 of 3 at") || strings.Contains(text, "How\n") {
		t.Errorf("right dose %v\n%s", payload["right_dose_g_per_l"], text)
	}
	if _, text := answered(t, n, SuggestRequest{Attribute: "tartness"}); !strings.Contains(text, "g/L") ||
		!strings.Contains(text, "body falls with the dose: too little for 0 of 3") {
		t.Errorf("beside tartness:\n%s", text)
	}
}

// The strength of a recipe has an interval, and what is avoided must have been
// scored.
func TestRecipeStrengthAndUnknownTaste(t *testing.T) {
	if _, text := answered(t, invented.Series(), SuggestRequest{}); !strings.Contains(text, " ±0.") {
		t.Errorf("the strength has no interval:\n%s", text)
	}
	n := invented.Series()
	_, err := Suggest(n, invented.SetOf(t, n), SuggestRequest{VolumeL: 12, Avoid: []AvoidLimit{{"tartnes", 3}}})
	if err == nil || !strings.Contains(err.Error(), `"tartnes" was not scored`) {
		t.Errorf("a taste that nobody scored: %v", err)
	}
}

// What no trial would move in the first decimal of its factor is not worth a trial.
func TestLittleLeft(t *testing.T) {
	for _, c := range []struct {
		now, after float64
		want       bool
	}{{1.37, 1.36, true}, {1.36, 1.34, false}, {1.44, 1.35, true}, {1.45, 1.34, false}} {
		list := []lessonView{{FactorNow: c.now, FactorAfter: c.now}, {FactorNow: c.now, FactorAfter: c.after}}
		if got := littleLeft(list); got != c.want {
			t.Errorf("from %g to %g: %v (printed %s, %s)", c.now, c.after, got, document.Fixed(c.now, 1),
				document.Fixed(c.after, 1))
		}
	}
	if littleLeft(nil) {
		t.Error("nothing to do is not little left to learn")
	}
}
