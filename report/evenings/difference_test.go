package evenings

import (
	"strings"
	"testing"

	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
)

// Every test reads well with and without answers, and refuses what cannot be.
func TestDifferenceViews(t *testing.T) {
	five, nine := 5, 9
	for test := range testWords {
		for _, r := range []DifferenceRequest{
			{}, {Answers: 2}, {Answers: 12}, {Answers: 12, Correct: &five}, {Answers: 9, Correct: &nine}, {Answers: 12,
				Correct: &nine, Orders: 5, About: []string{"plain", invented.Hostile}},
		} {
			r.Test, r.Alpha, r.Difference, r.Power, r.Seed = string(test), 0.05, 1.5, 0.8, 3
			v, outcome, err := Difference(r)
			if err != nil {
				t.Fatal(err)
			}
			drawing.CheckView(t, r.Test, v)
			if (outcome != "") != (r.Answers > 0) {
				t.Errorf("%+v: outcome %q", r, outcome)
			}
		}
	}
	for what, r := range map[string]DifferenceRequest{
		"no such test": {Test: "squares"}, "too many right": {Test: "triangle", Answers: 4, Correct: &five, Alpha: 0.05,
			Power: 0.8},
		"no alpha": {Test: "triangle", Answers: 4, Power: 0.8}, "below zero": {Test: "triangle", Difference: -1,
			Alpha: 0.05, Power: 0.8},
	} {
		if _, _, err := Difference(r); trials.CodeOf(err) != trials.Invalid {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// "No difference shown" is never told as "no difference".
func TestOutcomeOfADifferenceTest(t *testing.T) {
	five, nine := 5, 9
	_, few, _ := Difference(DifferenceRequest{Test: "triangle", Answers: 12, Correct: &five, Alpha: 0.05, Difference: 1,
		Power: 0.8})
	_, many, _ := Difference(DifferenceRequest{Test: "triangle", Answers: 12, Correct: &nine, Alpha: 0.05,
		Difference: 1, Power: 0.8})
	if !strings.Contains(few, "no difference shown, which is not the same as none (8 were needed)") ||
		!strings.Contains(many, "a difference was tasted (8 were needed)") {
		t.Errorf("%q, %q", few, many)
	}
}
