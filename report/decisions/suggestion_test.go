package decisions

import (
	"reflect"
	"strings"
	"testing"

	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// suggestion is what the tests read from the JSON of a suggestion.
type suggestion struct {
	Right struct {
		Value, Low, High, Level float64
	} `json:"right_dose_g_per_l"`
	Next struct {
		Dose      float64 `json:"dose_g_per_l"`
		TooLittle float64 `json:"p_too_little"`
		Right     float64 `json:"p_right"`
		TooMuch   float64 `json:"p_too_much"`
	} `json:"next"`
	Spread    []float64    `json:"spread_g_per_l"`
	Glasses   []float64    `json:"glasses_g_per_l"`
	Verdict   string       `json:"verdict"`
	Attribute string       `json:"attribute"`
	Method    string       `json:"method"`
	Recipe    *recipeView  `json:"recipe"`
	RestsOn   []string     `json:"rests_on"`
	Votes     []voteRow    `json:"votes_by_dose"`
	Claims    [][2]float64 `json:"claims_effective_g_per_l"`
	Warnings  []string     `json:"warnings"`
}

// suggested asks for the next dose of hibiscus in 12 L.
func suggested(t testing.TB, n *trials.Notebook) (suggestion, string) {
	t.Helper()
	v, err := Suggest(n, invented.SetOf(t, n), SuggestRequest{VolumeL: 12, Units: quantity.Metric})
	if err != nil {
		t.Fatal(err)
	}
	var s suggestion
	drawing.ReadJSON(t, v, &s)
	return s, drawing.AsText(t, v.Document, 80)
}

// At 2.03 g/L one of three finds too little, at 3.83 g/L two of three too much,
// nobody the other way: the right dose lies between the two.
func TestSuggestionLiesBetweenTheVotes(t *testing.T) {
	s, text := suggested(t, invented.Series())
	if s.Next.Dose < 2.03 || s.Next.Dose > 3.83 || s.Right.Value < 2.03 || s.Right.Value > 3.83 {
		t.Errorf("next %g, right %g", s.Next.Dose, s.Right.Value)
	}
	if !(s.Right.Low < s.Right.Value && s.Right.Value < s.Right.High) || s.Right.Level != 0.9 {
		t.Errorf("right dose %+v", s.Right)
	}
	invented.Near(t, "all votes", s.Next.TooLittle+s.Next.Right+s.Next.TooMuch, 1, 1e-9)
	if len(s.Spread) != 4 || len(s.Glasses) == 0 || s.Attribute != "tartness" || s.Method != trials.MethodTea {
		t.Errorf("%+v", s)
	}
	if strings.Join(s.RestsOn, " ") != "plain single double" || !strings.Contains(text, "scores from closed tastings") {
		t.Errorf("rests on %v\n%s", s.RestsOn, text)
	}
	// The votes as entered; the claim of 2 to 4 g/L dry at 0.934151 effective
	// grams of acid, what tartness is a taste of, per gram (case A with the ceiling of
	// acid: 0.95 x 0.983317).
	want := []votes{{3, 0, 0}, {1, 2, 0}, {0, 1, 2}}
	for i, r := range s.Votes {
		if r.votes != want[i] {
			t.Errorf("%s: %+v", r.Trial, r.votes)
		}
	}
	invented.Near(t, "claim, low", s.Claims[0][0], 2*0.934151, 1e-3)
	invented.Near(t, "claim, high", s.Claims[0][1], 4*0.934151, 1e-3)
}

// The recipe gives the dose in 12 L and its own liquid. As it was made before, case A of
// the page on extraction, the tea would be 8 % of the beer, so it is made in 70 % of the
// water. By hand, at equilibrium, of 36 g with 3.6 mL of their own water in 315, 245 and
// 175 mL, 129.6 mL held when drained and 84.24 when squeezed: 189/318.6 = 0.59322 comes
// out, then 245/374.6 and 220.36/304.6 of what is left, in all 0.96108, in 654.4 mL and
// 12.2 mL of what dissolves.
func TestRecipeOfTheSuggestion(t *testing.T) {
	s, text := suggested(t, invented.Series())
	r := s.Recipe
	if r == nil {
		t.Fatal("no recipe")
	}
	invented.Near(t, "dose of the recipe", r.MassG*0.95*0.96108/r.AfterL, s.Next.Dose, 3e-3*s.Next.Dose)
	invented.Near(t, "liquid", r.LiquidL, r.MassG*0.6666/36, 2e-4)
	invented.Near(t, "volume after", r.AfterL, 12+r.LiquidL, 1e-9)
	invented.Near(t, "passes", r.Passes[0].VolumeL, r.MassG*0.7*0.45/36, 1e-4)
	if r.Like != "double" && r.Like != "single" || r.Form != "crushed" || len(r.Passes) != 3 {
		t.Errorf("%+v", r)
	}
	// Water thins: ABV times volume is kept.
	invented.Near(t, "strength after", r.ABVAfter.Value, r.ABVBefore.Value*12/r.AfterL, 0.01)
	for _, want := range []string{"For 12 L of beer:", "Pass 1:", "Pass 2:", "of liquid goes in; the beer goes from",
		"Chosen: the tea in 70 % of the liquid, since the same tea as before would add"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
}

// A sealed tasting changes nothing but the warning that it is not counted.
func TestSuggestionIgnoresSealedTastings(t *testing.T) {
	before, _ := suggested(t, invented.Series())
	n := invented.Series()
	wild := func(batch string) invented.Glass {
		return invented.Glass{Batch: batch, Tart: [3]float64{10, 10, 10}, Vote: [3]int{1, 1, 1}, Liking: [3]float64{1, 1, 1}}
	}
	invented.Serve(n, trials.Tasting{Record: trials.Record{Name: "waiting"}, At: invented.Day(33), Blind: true},
		wild("plain"), wild("single"))
	after, text := suggested(t, n)
	if !drawing.HoldsAll(after.Warnings, "still sealed: waiting") || !strings.Contains(text, "still sealed: waiting") {
		t.Errorf("warnings %q\n%s", after.Warnings, text)
	}
	after.Warnings, before.Warnings = nil, nil
	if !reflect.DeepEqual(before, after) {
		t.Errorf("without\n%+v\nwith\n%+v", before, after)
	}
	n.Tastings[len(n.Tastings)-1].ClosedAt = invented.Ptr(invented.Day(34))
	if closed, _ := suggested(t, n); closed.Next.Dose >= after.Next.Dose {
		t.Errorf("six votes of too much, once open, left the dose at %g (%g before)", closed.Next.Dose, after.Next.Dose)
	}
}

// Sealed scores of another material teach nothing about the tasters either.
func TestSealedScoresOfOthersAreNotRemembered(t *testing.T) {
	n := invented.Series()
	for i, name := range []string{"elder-1", "elder-2"} {
		invented.Brew(n, name)
		invented.Pour(n, name, float64(i+1))
		n.Extracts[len(n.Extracts)-1].MaterialKey = "elderflower"
	}
	before, _ := suggested(t, n)
	invented.Serve(n, trials.Tasting{Record: trials.Record{Name: "waiting"}, At: invented.Day(33), Blind: true},
		invented.Glass{Batch: "elder-1", Tart: [3]float64{9, 1, 1}, Vote: [3]int{1, -1, -1}, Liking: [3]float64{1, 5, 5}},
		invented.Glass{Batch: "elder-2", Tart: [3]float64{9, 2, 2}, Vote: [3]int{1, 0, 0}, Liking: [3]float64{1, 5, 5}})
	if after, _ := suggested(t, n); !reflect.DeepEqual(before, after) {
		t.Errorf("without\n%+v\nwith\n%+v", before, after)
	}
}

// Scores of a beer with two materials teach in one study alone: what the double,
// with raspberries in it too, was given is not remembered beside itself. Scores
// of another brew with raspberries are.
func TestNothingIsRememberedTwice(t *testing.T) {
	n := invented.Series()
	berries := trials.Addition{At: invented.Day(12), Stage: trials.StageSecondary, MaterialKey: "raspberry",
		Method: trials.MethodContact, Form: "frozen", MassG: invented.Ptr(1500.0), Minutes: invented.Ptr(7 * 24 * 60.0)}
	add := func(batch string) {
		a := berries
		a.Record, a.BatchID = trials.Record{ID: batch + ".b", Name: batch + ".b"}, batch
		n.Additions = append(n.Additions, a)
	}
	add("double")
	taught := func() []string {
		v, err := Suggest(n, invented.SetOf(t, n), SuggestRequest{VolumeL: 12})
		if err != nil {
			t.Fatal(err)
		}
		var p struct {
			Taught []string `json:"tasters_remembered_from"`
		}
		drawing.ReadJSON(t, v, &p)
		return p.Taught
	}
	if got := taught(); got == nil || len(got) != 0 {
		t.Errorf("remembered from %v", got)
	}
	for i, name := range []string{"rasp-1", "rasp-2"} {
		invented.Brew(n, name)
		add(name)
		n.Additions[len(n.Additions)-1].MassG = invented.Ptr(1000.0 * float64(i+1))
	}
	invented.Serve(n, trials.Tasting{Record: trials.Record{Name: "berries"}, At: invented.Day(35), Blind: true,
		ClosedAt: invented.Ptr(invented.Day(36))},
		invented.Glass{Batch: "rasp-1", Tart: [3]float64{2, 3, 3}, Vote: [3]int{-1, -1, 0}, Liking: [3]float64{5, 5, 5}},
		invented.Glass{Batch: "rasp-2", Tart: [3]float64{6, 7, 7}, Vote: [3]int{0, 1, 1}, Liking: [3]float64{5, 5, 5}})
	if got := taught(); len(got) != 1 || got[0] != "raspberry" {
		t.Errorf("remembered from %v", got)
	}
}

// A second method is compared with the first, a taste to avoid and a target are
// taken in: with tartness to stay at or below 3 the dose is lower than without,
// since the single has 4 and the double 7.
func TestSuggestionWithWishes(t *testing.T) {
	n := invented.Series()
	n.Extracts[1].Method = trials.MethodColdTea
	for i := range n.Extracts[1].Passes {
		n.Extracts[1].Passes[i].StartC, n.Extracts[1].Passes[i].EndC, n.Extracts[1].Passes[i].Minutes = 20, nil, 720
	}
	set := invented.SetOf(t, n)
	ask := func(r SuggestRequest) (suggestion, string) {
		r.VolumeL = 12
		v, err := Suggest(n, set, r)
		if err != nil {
			t.Fatal(err)
		}
		drawing.CheckView(t, "suggestion", v)
		var s suggestion
		drawing.ReadJSON(t, v, &s)
		return s, drawing.AsText(t, v.Document, 80)
	}
	plain, text := ask(SuggestRequest{})
	if !strings.Contains(text, "Methods, beside ") || !strings.Contains(text, "cold-tea") {
		t.Errorf("the two methods are not compared:\n%s", text)
	}
	mild, _ := ask(SuggestRequest{Avoid: []AvoidLimit{{Attribute: "tartness", AtMost: 3}}})
	if mild.Next.Dose >= plain.Next.Dose {
		t.Errorf("%g g/L with tartness to stay at 3, %g without", mild.Next.Dose, plain.Next.Dose)
	}
	if s, _ := ask(SuggestRequest{Method: trials.MethodColdTea}); s.Method != trials.MethodColdTea || s.Recipe == nil ||
		s.Recipe.Method != trials.MethodColdTea {
		t.Errorf("asked for cold tea: %+v", s)
	}
}

func TestSuggestionMarksPeekedAndOpen(t *testing.T) {
	n := invented.Series()
	same := invented.Glass{Batch: "single", Tart: [3]float64{4, 5, 3}, Vote: [3]int{-1, 0, 0}, Liking: [3]float64{6, 7, 5}}
	invented.Serve(n, trials.Tasting{Record: trials.Record{Name: "looked"}, At: invented.Day(33), Blind: true,
		PeekedAt: invented.Ptr(invented.Day(33)), ClosedAt: invented.Ptr(invented.Day(34))}, same)
	invented.Serve(n, trials.Tasting{Record: trials.Record{Name: "seen"}, At: invented.Day(35)}, same)
	s, text := suggested(t, n)
	if !drawing.HoldsAll(s.Warnings, "before the end of looked", "not blind: seen") ||
		!strings.Contains(text, "not blind: seen") {
		t.Errorf("warnings %q", s.Warnings)
	}
}

// Nothing known, in the catalogue neither: not an answer but what to do. Scores that
// are sealed are not known. Advice alone is an answer, without a null in it.
func TestSuggestionNeedsAdviceOrScores(t *testing.T) {
	n := invented.Series()
	n.Claims = nil
	n.Tastings[0].ClosedAt = nil
	sealed, _ := suggested(t, n)
	if !drawing.HoldsAll(sealed.Warnings, "this starts from the catalogue", "of the dry plant") {
		t.Errorf("warnings %q", sealed.Warnings)
	}
	set := invented.SetOf(t, n)
	set.Material.DoseLowGPerL = nil
	if _, err := Suggest(n, set, SuggestRequest{VolumeL: 12}); trials.CodeOf(err) != trials.NotEnough {
		t.Errorf("%v", err)
	}
	n.Tastings[0].ClosedAt = invented.Ptr(invented.Day(31))
	scores, _ := suggested(t, n)
	if scores.Claims == nil {
		t.Error("no claim is null, want an empty list")
	}
	only := &trials.Notebook{Now: invented.Day(60), Claims: invented.Series().Claims}
	s, text := suggested(t, only)
	if len(s.RestsOn) != 0 || s.RestsOn == nil || s.Recipe == nil || s.Recipe.Like != "" ||
		!strings.Contains(text, "No trial yet") {
		t.Errorf("%+v\n%s", s, text)
	}
	// 2 to 4 g/L dry at 0.85 that beer can carry.
	invented.Near(t, "claim alone", s.Claims[0][1], 3.4, 1e-9)
	if s.Next.Dose < 1 || s.Next.Dose > 8 {
		t.Errorf("advice of 1.7 to 3.4 g/L leads to %g", s.Next.Dose)
	}
}

// A material that no dose is suggested for (sassafras: safrole) is refused.
func TestNoDoseIsRefused(t *testing.T) {
	n := &trials.Notebook{Now: invented.Day(60)}
	materials, _ := n.Catalogue()
	m, err := materials.Find("sassafras")
	if err != nil {
		t.Fatal(err)
	}
	set, err := ledger.Gather(n, m)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Suggest(n, set, SuggestRequest{VolumeL: 12}); trials.CodeOf(err) != trials.Invalid ||
		!strings.Contains(err.Error(), "sassafras") {
		t.Errorf("%v", err)
	}
}

// Two significant digits, whatever the size: a scale shows no more.
func TestRoundedAmounts(t *testing.T) {
	for v, want := range map[float64]float64{20.376: 20, 0.5454: 0.55, 1234: 1200, 9.96: 10, 0: 0, -3.3: -3.3} {
		invented.Near(t, "rounded", Rounded(v), want, 1e-9*max(want, 1))
	}
}
