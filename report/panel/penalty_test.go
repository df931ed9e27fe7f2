package panel

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// By hand: right 8 and 6 (mean 7), too little 4 (drop 3), too much 5, 5, 2
// (mean 4, drop 3); weights 1/6 and 3/6.
func TestPenalty(t *testing.T) {
	p, err := Penalty([]Liking{{0, 8}, {0, 6}, {-1, 4}, {1, 5}, {1, 5}, {1, 2}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "right", p.MeanRight, 7, 1e-12)
	near(t, "low drop", p.TooLittle.Drop, 3, 1e-12)
	near(t, "low weighted", p.TooLittle.Weighted, 0.5, 1e-12)
	near(t, "high weighted", p.TooMuch.Weighted, 1.5, 1e-12)
	if p.TooLittle.Mention || !p.TooMuch.Mention {
		t.Errorf("mention %v %v, want only the side with three votes", p.TooLittle.Mention, p.TooMuch.Mention)
	}
}

func TestPenaltyGaps(t *testing.T) {
	p, err := Penalty([]Liking{{-1, 4}, {1, 5}})
	if err != nil {
		t.Fatal(err)
	}
	if p.TooLittle.OK || !hasWarning(p.Warnings, "nobody") || !hasWarning(p.Warnings, "2 votes") {
		t.Errorf("%+v: want no drop, said in words", p)
	}
	p, _ = Penalty([]Liking{{0, 4}})
	if p.TooMuch.OK || p.TooMuch.N != 0 {
		t.Errorf("%+v: want no drop without votes", p)
	}
}

func TestPenaltyCountsAdd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 30).Draw(t, "n")
		answers := make([]Liking, n)
		for i := range answers {
			answers[i] = Liking{rapid.IntRange(-1, 1).Draw(t, "vote"), float64(rapid.IntRange(1, 9).Draw(t, "liking"))}
		}
		p, err := Penalty(answers)
		if err != nil {
			t.Fatal(err)
		}
		if p.Right+p.TooLittle.N+p.TooMuch.N != n {
			t.Fatalf("%+v does not add up to %d", p, n)
		}
		if math.Abs(p.TooLittle.Weighted) > math.Abs(p.TooLittle.Drop) {
			t.Fatalf("%+v: weight above one", p.TooLittle)
		}
	})
}

func TestPenaltyRefuses(t *testing.T) {
	for says, answers := range map[string][]Liking{
		"no votes": nil, "vote 2": {{2, 5}}, "liking NaN": {{0, math.NaN()}},
	} {
		if _, err := Penalty(answers); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: error %v", says, err)
		}
	}
}
