package doseresponse

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"hedgerow/report/evidence"
)

// marked sets the intensities of a trial.
func marked(t evidence.Trial, ys ...float64) evidence.Trial {
	for i := range ys {
		t.Scores[i].Intensity = &ys[i]
	}
	return t
}

// unmarked takes the intensities out of a trial.
func unmarked(t evidence.Trial) evidence.Trial {
	for i := range t.Scores {
		t.Scores[i].Intensity = nil
	}
	return t
}

// with changes a trial in place of a long literal.
func with(t evidence.Trial, change func(*evidence.Trial)) evidence.Trial {
	change(&t)
	return t
}

// Every failure mode that doc.go lists, and the bad inputs that still have an
// answer, in words. The studies are made by hand for one sentence each.
func TestWarnings(t *testing.T) {
	contact := func(t *evidence.Trial) { t.Method = "contact" }
	tests := []struct {
		name  string
		study evidence.Study
		want  string
	}{
		{"no scores", eightfold(), "rests on the claims alone"},
		{"no claims", evidence.Study{ID: "s", Trials: []evidence.Trial{trial("1", 3, 0, -1)}}, "no claims"},
		{"one taster", eightfold(trial("1", 3, 0)), "the right dose is that of A alone"},
		{"one beer", eightfold(trial("1", 3, 0, -1)), "one dosed beer"},
		{"one dose level", eightfold(trial("1", 3, 0, -1), trial("2", 3.2, 0, 1)), "within x1.3"},
		{"all too little", csvStudy(t, "four_tasters_all_too_little"), "times 2.8 g/L is needed"},
		{"one too little", csvStudy(t, "one_taster_one_trial_low"), "only the direction is sure"},
		{"all too much", eightfold(trial("1", 4, 1, 1, 1, 1)), "every vote says too much"},
		{"contradiction", eightfold(trial("1", 2, 1, 1, 1), trial("2", 4, -1, -1, -1)),
			"2 at 4.0 g/L was judged weaker than 1 at 2.0 g/L"},
		{"two camps", csvStudy(t, "contradictory"), "the panel disagrees"},
		{"beyond the claims", eightfold(trial("1", 8, -1, -1, -1, -1), trial("2", 14, -1, -1, 0, -1)),
			"above every claim"},
		{"short of the claims", eightfold(trial("1", 1, 1, 1, 1, 1), trial("2", 0.6, 1, 1, 0, 1)), "below every claim"},
		{"no votes", evidence.Study{ID: "s", ClaimsGPerL: [][2]float64{{1, 8}},
			Trials: []evidence.Trial{with(trial("1", 3, 0), func(t *evidence.Trial) { t.Scores[0].Vote = nil })}},
			"no votes"},
		{"harsh at the top", eightfold(marked(trial("1", 2, -1, -1, 0), 6, 7, 6), marked(trial("2", 6, 1, 1, 1), 1, 2, 1)),
			"only the votes are used"},
		{"saturated", eightfold(marked(trial("1", 2, -1, -1, 0), 0, 0, 3)), "2 of 3 intensities stand at an end"},
		{"constant taster", bySteps(map[string][3]int{"A": {-1, 0, 1}, "C": {0, 0, 0}}),
			"the same score for all doses from C"},
		{"random taster", bySteps(map[string][3]int{"A": {-1, 0, 1}, "B": {1, 0, -1}, "C": {-1, 0, 1}}),
			"hardly follow the dose from B"},
		{"control as strong", eightfold(marked(trial("0", 0, 0, 0), 5, 6), marked(trial("1", 3, 0, 0), 5, 5)),
			"may not taste the dose"},
		{"control not missed", eightfold(marked(trial("0", 0, 0, 0, -1), 1, 1, 1), trial("1", 3, 0, 1, 0)),
			"it may need no dose"},
		{"glasses only", eightfold(with(trial("1", 3, 0, -1), func(t *evidence.Trial) { t.Kind = evidence.Glass })),
			"dosed glasses only"},
		{"methods apart", eightfold(trial("1", 3, 0, 0), with(trial("2", 3, 0, 0), contact)),
			"never brewed side by side with contact: tea"},
		{"vague dose", eightfold(with(trial("1", 3, 0, 0), func(t *evidence.Trial) { t.DoseSDLn = 0.4 })),
			"dose itself is vague: 1 (a factor of 1.9 either way)"},
		{"right but not liked",
			eightfold(liked(trial("1", 2.8, 0, 0, 0), 2, 3, 2), liked(trial("2", 8, 1, 1, 1), 3, 3, 2)),
			"change the method or the beer, not the dose"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := texts(mustFit(t, tt.study, Options{}).warnings())
			if !slices.ContainsFunc(got, func(w string) bool { return strings.Contains(w, tt.want) }) {
				t.Errorf("no warning holds %q:\n%s", tt.want, strings.Join(got, "\n"))
			}
			for _, w := range got {
				if strings.Contains(w, "NaN") || strings.Contains(w, "Inf") || strings.HasSuffix(w, ".") {
					t.Errorf("warning %q", w)
				}
			}
		})
	}
}

// A good study has nothing to warn of.
func TestNoWarnings(t *testing.T) {
	s := eightfold(trial("1", 2, -1, -1, 0, -1), trial("2", 3, 0, 0, 0, -1), trial("3", 4.5, 0, 1, 1, 0))
	if got := mustFit(t, s, Options{}).warnings(); len(got) != 0 || got == nil {
		t.Errorf("warnings %q", got)
	}
}

// The votes alone decide when the intensities fold: the same study without
// them has the same answer.
func TestFoldedIntensities(t *testing.T) {
	a := marked(trial("1", 2, -1, -1, 0), 6, 7, 6)
	b := marked(trial("2", 6, 1, 1, 1), 1, 2, 1)
	folded := mustFit(t, eightfold(a, b), Options{}).NextDose()
	a2, b2 := unmarked(trial("1", 2, -1, -1, 0)), unmarked(trial("2", 6, 1, 1, 1))
	plain := mustFit(t, eightfold(a2, b2), Options{}).NextDose()
	if folded != plain {
		t.Errorf("folded %+v, votes alone %+v", folded, plain)
	}
	rising := mustFit(t, eightfold(trial("1", 2, -1, -1, 0), trial("2", 6, 1, 1, 1)), Options{})
	if rising.prob.Folded || len(rising.prob.Marks) == 0 {
		t.Error("rising intensities left out")
	}
	alone := eightfold(a, b)
	for k := range alone.Trials {
		for i := range alone.Trials[k].Scores {
			alone.Trials[k].Scores[i].Vote = nil
		}
	}
	if mustFit(t, alone, Options{}).prob.Folded {
		t.Error("intensities left out although there is nothing else")
	}
}

// Intensities that rise to the middle and collapse at the top fold although
// the straight line through them does not fall; a small dip does not.
func TestTopFolds(t *testing.T) {
	folds := func(top float64) bool {
		s := eightfold(
			marked(trial("1", 1, -1, -1, -1, -1), 1, 1, 1, 1),
			marked(trial("2", 3, 0, 0, 0, 0), 8, 8, 8, 8),
			marked(trial("3", 5, 1, 1, 1, 1), top, top, top, top))
		return mustFit(t, s, Options{Approximate: true}).prob.Folded
	}
	if !folds(4) || folds(6.5) {
		t.Errorf("8 then 4 folds: %v, want true; 8 then 6.5 folds: %v, want false", folds(4), folds(6.5))
	}
}

func TestNumber(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 0.0123: "0.012", 0.95: "0.95", 2.83: "2.8",
		9.96: "10.0", 12.3: "12", 345: "345"} {
		if got := number(x); got != want {
			t.Errorf("number(%g) = %q, want %q", x, got, want)
		}
	}
	if got := percent(0.001); got != "less than 1 %" {
		t.Errorf("percent(0.001) = %q", got)
	}
}

// Shares of the evidence that a message quotes: by hand exp(1.645*0.4) = 1.93.
func TestGlassStepInWords(t *testing.T) {
	s := eightfold(with(trial("1", 3, 0, -1), func(t *evidence.Trial) { t.Kind = evidence.Glass }))
	text := strings.Join(texts(mustFit(t, s, Options{Approximate: true}).warnings()), "\n")
	if want := fmt.Sprintf("a factor of %.1f either way", math.Exp(1.645*0.4)); !strings.Contains(text, want) {
		t.Errorf("warnings do not hold %q:\n%s", want, text)
	}
}

// A code stays with its warning whatever the text says, and no two share one;
// JSON holds the text alone.
func TestWarningCodes(t *testing.T) {
	a, b := trial("weak", 3, -1, -1, 0), trial("strong", 3.1, 1, 1, 0)
	list := mustFit(t, eightfold(a, b), Options{Approximate: true}).warnings()
	seen := map[string]bool{}
	for _, w := range list {
		if w.Code == "" || seen[w.Code] {
			t.Errorf("code %q of %q", w.Code, w.Text)
		}
		seen[w.Code] = true
	}
	if list[0].Code != Contradicted || !strings.HasPrefix(list[0].Text, "weak at 3.0 g/L") {
		t.Errorf("first %+v", list[0])
	}
	if text, err := json.Marshal(list[:1]); err != nil || !strings.HasPrefix(string(text), `["weak at 3.0 g/L`) {
		t.Errorf("%s, %v", text, err)
	}
}
