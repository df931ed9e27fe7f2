package doseresponse

import (
	"encoding/json"
	"math/rand/v2"
	"slices"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/testdata/properties"

	"pgregory.net/rapid"
)

// shuffled returns the study with all its lists in another order.
func shuffled(s evidence.Study, seed uint64) evidence.Study {
	rng := rand.New(rand.NewPCG(seed, 1))
	s.ClaimsGPerL = slices.Clone(s.ClaimsGPerL)
	rng.Shuffle(len(s.ClaimsGPerL), func(i, j int) { swap(s.ClaimsGPerL, i, j) })
	s.Trials = slices.Clone(s.Trials)
	rng.Shuffle(len(s.Trials), func(i, j int) { swap(s.Trials, i, j) })
	for k := range s.Trials {
		scores := slices.Clone(s.Trials[k].Scores)
		rng.Shuffle(len(scores), func(i, j int) { swap(scores, i, j) })
		s.Trials[k].Scores = scores
	}
	return s
}

func swap[T any](list []T, i, j int) { list[i], list[j] = list[j], list[i] }

// printed is everything that a study is answered with.
func printed(t testing.TB, s evidence.Study) string {
	return printedOf(t, mustFit(t, s, Options{}))
}

// printedOf is printed of a study that was fitted.
func printedOf(t testing.TB, p *Posterior) string {
	t.Helper()
	text, err := json.Marshal([]any{p.Answer(), p.Teach(evidence.Used), p.Tasters(), p.Memory()})
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// The order of claims, trials and scores carries no information: the answer is
// the same to the last digit. Doses on a coarse grid make ties, of doses, of
// methods and of the lowest and highest of them.
func TestOrderChangesNothing(t *testing.T) {
	properties.CheckFew(t, func(rt *rapid.T) {
		s := drawStudy(rt)
		s.ClaimsGPerL = rapid.SampledFrom([][][2]float64{nil, {{1, 8}}, {{1, 8}, {2, 3}, {0.7, 5}}}).Draw(rt, "claims")
		for k := range s.Trials {
			s.Trials[k].DoseGPerL = rapid.SampledFrom([]float64{0, 2, 3, 6}).Draw(rt, "dose")
			for i := range s.Trials[k].Scores {
				like := float64(rapid.IntRange(1, 9).Draw(rt, "liking"))
				s.Trials[k].Scores[i].Liking = &like
			}
		}
		p, err := Fit(s, Options{})
		if err != nil {
			rt.Skip(err)
		}
		want := printedOf(t, p)
		if got := printed(t, shuffled(s, rapid.Uint64().Draw(rt, "seed"))); got != want {
			rt.Fatalf("%s\nin another order\n%s", want, got)
		}
	})
}

// A nameless trial keeps the number of its place in the record.
func TestNamelessTrialKeepsItsNumber(t *testing.T) {
	a, b := trial("", 4, 0, 0), trial("", 2, -1, 0)
	a.DoseSDLn, b.DoseSDLn = 0.4, 0.4
	got := texts(mustFit(t, eightfold(a, b), Options{}).warnings())
	want := "the effective dose itself is vague: #2 (a factor of 1.9 either way), #1 (a factor of 1.9 either way)"
	if !slices.Contains(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Two beers at the top dose, of which one alone scores far below the weaker one:
// the mean of both does not, so the intensities stay, whichever was logged first.
// The limit for one score against two is 3*1.4*sqrt(1/2+1/2) = 4.2 points (hand
// calculation); the falls are 7 for the one, 3.5 for both.
func TestTopDoseIsPooled(t *testing.T) {
	at := func(id string, dose float64, intensities ...float64) evidence.Trial {
		tr := evidence.Trial{ID: id, DoseGPerL: dose, Method: "tea"}
		for i, y := range intensities {
			tr.Scores = append(tr.Scores, score(string(rune('A'+i)), 0, y))
		}
		return tr
	}
	low, weak := at("low", 1, 1, 1), at("weak", 3, 8, 8)
	harsh, strong := at("harsh", 6, 1, 1), at("strong", 6, 8, 8)
	for _, s := range []evidence.Study{eightfold(low, weak, harsh, strong), eightfold(low, weak, strong, harsh)} {
		if mustFit(t, s, Options{}).prob.Folded {
			t.Errorf("%s before %s: the intensities are left out", s.Trials[2].ID, s.Trials[3].ID)
		}
	}
	if !mustFit(t, eightfold(low, weak, harsh), Options{}).prob.Folded {
		t.Error("harsh alone: the intensities stay")
	}
	// what is weaker is pooled as well: one high beer of two at 3 g/L is no fall
	high, modest := at("high", 3, 9, 9), at("modest", 3, 2, 2)
	if mustFit(t, eightfold(low, modest, high, at("top", 6, 4, 4)), Options{}).prob.Folded {
		t.Error("one high beer of two at a weaker dose: the intensities are left out")
	}
}
