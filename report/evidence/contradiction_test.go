package evidence

import "testing"

// spoken returns a tea with the given votes of tasters A, B, ...
func spoken(id string, dose float64, list ...int) Trial {
	t := Trial{ID: id, DoseGPerL: dose, Kind: Batch, Method: "tea"}
	for i := range list {
		t.Scores = append(t.Scores, Score{Taster: string(rune('A' + i)), Vote: &list[i]})
	}
	return t
}

// votes returns so many votes of each kind.
func votes(little, right, much int) []int {
	list := make([]int, little+right+much)
	for i := range list {
		switch {
		case i < little:
			list[i] = -1
		case i >= little+right:
			list[i] = 1
		}
	}
	return list
}

// studyOf returns a study of trials.
func studyOf(list ...Trial) Study { return Study{ID: "s", Material: "yarrow", Trials: list} }

// Two beers contradict each other from a difference of mean votes of 0.75 on; at one
// dose to the tongue when both means are half a step to either side (judgement).
func TestContradictionThresholds(t *testing.T) {
	// of 20 tasters 15 call the weaker beer too much: mean votes 0.75 apart
	clash := func(n int) Study {
		return studyOf(spoken("1", 2, votes(0, 20-n, n)...), spoken("2", 6, votes(0, 20, 0)...))
	}
	level := func(much, little int) Study {
		return studyOf(spoken("1", 3, votes(0, 10-much, much)...),
			spoken("2", 3.1, votes(little, 10-little, 0)...))
	}
	for _, tt := range []struct {
		name  string
		study Study
		want  bool
	}{
		{"mean votes 0.75 apart", clash(15), true},
		{"mean votes 0.7 apart", clash(14), false},
		{"one dose, means of 0.5 and -0.5", level(5, 5), true},
		{"one dose, means of 0.4 and -0.5", level(4, 5), false},
		{"one dose, means of 0.5 and -0.4", level(5, 4), false},
	} {
		if _, _, got := tt.study.Contradiction(); got != tt.want {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

// Trials of different methods, or a glass and a brew, do not contradict each
// other: their potencies differ.
func TestContradictionNeedsOneMethod(t *testing.T) {
	a, b := spoken("1", 2, 1, 1, 1), spoken("2", 5, -1, -1, -1)
	if stronger, weaker, ok := studyOf(a, b).Contradiction(); !ok || stronger != 0 || weaker != 1 {
		t.Error("a reversal of all votes is no contradiction")
	}
	b.Method = "contact"
	if _, _, ok := studyOf(a, b).Contradiction(); ok {
		t.Error("two methods contradict")
	}
	b.Method, b.Kind = "tea", Glass
	if _, _, ok := studyOf(a, b).Contradiction(); ok {
		t.Error("glass and brew contradict")
	}
}
