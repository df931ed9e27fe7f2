package doseresponse

import (
	"fmt"
	"math"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/report/field"

	"pgregory.net/rapid"
)

// score builds a vote with an intensity.
func score(who string, vote int, intensity float64) evidence.Score {
	return evidence.Score{Taster: who, Vote: &vote, Intensity: &intensity}
}

// trial builds a brew of its own with one score for each vote, all of
// intensity 5.5 + 2.5 vote.
func trial(id string, dose float64, votes ...int) evidence.Trial {
	t := evidence.Trial{ID: id, DoseGPerL: dose, Kind: evidence.Batch, Method: "tea"}
	for i, v := range votes {
		t.Scores = append(t.Scores, score(string(rune('A'+i)), v, 5.5+2.5*float64(v)))
	}
	return t
}

// eightfold returns a study with the claim 1 to 8 g/L.
func eightfold(trials ...evidence.Trial) evidence.Study {
	return evidence.Study{ID: "s", Material: "yarrow", ClaimsGPerL: [][2]float64{{1, 8}}, Trials: trials}
}

// liked gives every score of a trial a liking.
func liked(t evidence.Trial, likings ...float64) evidence.Trial {
	for i := range likings {
		t.Scores[i].Liking = &likings[i]
	}
	return t
}

// wordless is a headline for tests that look at the numbers.
func wordless(Answer) []string { return []string{} }

// texts returns the sentences of warnings.
func texts(list []Warning) []string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = w.Text
	}
	return out
}

// mustFit fits a study that is known to be good.
func mustFit(t testing.TB, s evidence.Study, o Options) *Posterior {
	t.Helper()
	p, err := Fit(s, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// drawStudy draws a small study with every kind of trial.
func drawStudy(t *rapid.T) evidence.Study {
	s := evidence.Study{ID: "r", ClaimsGPerL: [][2]float64{{1, 8}}}
	n := rapid.IntRange(1, 4).Draw(t, "trials")
	for k := range n {
		tr := evidence.Trial{
			ID:        fmt.Sprint("T", k),
			DoseGPerL: math.Exp(rapid.Float64Range(-0.5, 2.5).Draw(t, "x")),
			DoseSDLn:  rapid.SampledFrom([]float64{0, 0.1, 0.3}).Draw(t, "sd"),
			Kind:      rapid.SampledFrom([]evidence.Kind{evidence.Batch, evidence.Jar, evidence.Glass}).Draw(t, "kind"),
			Group:     rapid.SampledFrom([]string{"", "B1", "B2"}).Draw(t, "group"),
			Method:    rapid.SampledFrom([]string{"tea", "contact"}).Draw(t, "method"),
		}
		for i := range rapid.IntRange(1, 3).Draw(t, "tasters") {
			vote := rapid.IntRange(-1, 1).Draw(t, "vote")
			y := float64(rapid.IntRange(0, 10).Draw(t, "intensity"))
			tr.Scores = append(tr.Scores, score(string(rune('A'+i)), vote, y))
		}
		s.Trials = append(s.Trials, tr)
	}
	return s
}

// problemOf lays out a study with the prior that its claims give.
func problemOf(s evidence.Study, reference *string) (*field.Problem, error) {
	prior, ok := field.ClaimPrior(s)
	if !ok {
		return nil, evidence.ErrNotEnough
	}
	return field.NewProblem(s, prior, reference), nil
}
