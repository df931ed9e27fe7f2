package doseresponse

import (
	"testing"

	"hedgerow/report/evidence"
)

func TestVerdict(t *testing.T) {
	var many []evidence.Trial
	for k, d := range []float64{1.5, 2, 2.5, 3, 3.5, 4, 5, 6, 3, 3.2, 2.8, 3.1} {
		vote := 0
		if d < 2.4 {
			vote = -1
		} else if d > 4.5 {
			vote = 1
		}
		many = append(many, trial(string(rune('a'+k)), d, vote, vote, vote, vote, vote, vote, vote, vote))
	}
	tests := []struct {
		name  string
		study evidence.Study
		want  Verdict
	}{
		{"claims alone", eightfold(), Try},
		{"one brew, too little", eightfold(trial("1", 2, -1, -1)), Try},
		{"right at the middle of the claims", eightfold(trial("1", 2.83, 0, 0, 0)), Repeat},
		{"claims 25-fold apart in two clusters",
			evidence.Study{ID: "s", ClaimsGPerL: [][2]float64{{0.2, 0.4}, {5, 10}}}, Bench},
		{"many brews of one mind", eightfold(many...), Settled},
		{"disliked at two doses", eightfold(liked(trial("1", 2, -1, -1), 2, 2), liked(trial("2", 4, 1, 1), 2, 1)), Try},
		{"disliked at one dose", eightfold(liked(trial("1", 2, -1, -1), 2, 2)), Try},
		{"disliked at one dose that was right", eightfold(liked(trial("1", 2.8, 0, 0), 2, 2)), Change},
		{"disliked where it was right, by three ways", eightfold(liked(trial("1", 2.8, 0, 0, 0), 2, 2, 2),
			liked(with(trial("2", 2.8, 0, 0, 0), func(t *evidence.Trial) { t.Method = contact }), 2, 2, 2),
			liked(with(trial("3", 2.8, 0, 0, 0), func(t *evidence.Trial) { t.Method = "tincture" }), 2, 2, 2)), Drop},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := mustFit(t, tt.study, Options{})
			if got := p.verdict(); got != tt.want {
				t.Errorf("verdict %q, want %q (next %+v)", got, tt.want, p.NextDose())
			}
		})
	}
}

// Brews of one dose contradict each other when most votes lie on opposite
// sides, not when some taste a little more; and the reader is told which.
func TestContradictionAtOneDose(t *testing.T) {
	a, b := trial("weak", 3, -1, -1, 0), trial("strong", 3.1, 1, 1, 0)
	p := mustFit(t, eightfold(a, b), Options{Approximate: true})
	want := "weak at 3.0 g/L was judged weaker than strong at 3.1 g/L: something other than the dose differs; " +
		"pour both again, blind, before brewing"
	if got := p.warnContradicted(); got != want {
		t.Errorf("warning %q", got)
	}
	c := trial("alike", 3.1, 1, 0, 0)
	p = mustFit(t, eightfold(trial("other", 3, 0, 0, 0), c), Options{Approximate: true})
	if got := p.warnContradicted(); got != "" {
		t.Errorf("one vote of difference is a contradiction: %q", got)
	}
}

// Nobody misses body in the undosed beer, all do at the highest dose: a taste that
// falls has no right dose, and another way is what is left.
func TestFallingTasteIsChanged(t *testing.T) {
	body := eightfold(spoken("0", 0, 0, 0, 0, 0, 0), spoken("1", 2, 0, 0, 0, -1, 0), spoken("2", 3, -1, -1, 0, 0, 0),
		spoken("3", 5, -1, -1, -1, -1, -1))
	if v := mustFit(t, body, Options{Approximate: true}).verdict(); v != Change {
		t.Errorf("verdict %s for a taste that falls", v)
	}
}
