package panel

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// R 4.2.2 binom.test(7, 8, .5) and binom.test(5, 5, .5): the exact McNemar p.
func TestMcNemar(t *testing.T) {
	for _, c := range []struct {
		first, second int
		want          float64
	}{{7, 1, 0.0703125}, {1, 7, 0.0703125}, {0, 5, 0.0625}, {2, 2, 1}} {
		got, err := McNemar(c.first, c.second)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "p", got, c.want, 1e-12)
	}
	for _, c := range [][2]int{{0, 0}, {-1, 3}} {
		if _, err := McNemar(c[0], c[1]); err == nil {
			t.Errorf("%v accepted", c)
		}
	}
}

// For two trials Q is (b-c)^2/(b+c) [10], b and c the tasters who said yes to
// one only; tasters without mixed answers change nothing.
func TestCochranTwoTrials(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, c := rapid.IntRange(0, 9).Draw(t, "b"), rapid.IntRange(1, 9).Draw(t, "c")
		same := rapid.IntRange(0, 9).Draw(t, "same")
		var rows [][]bool
		for range b {
			rows = append(rows, []bool{true, false})
		}
		for range c {
			rows = append(rows, []bool{false, true})
		}
		for i := range same {
			rows = append(rows, []bool{i%2 == 0, i%2 == 0})
		}
		r, err := CochranQ(rows)
		if err != nil {
			t.Fatal(err)
		}
		want := float64((b-c)*(b-c)) / float64(b+c)
		if d := r.Q - want; d > 1e-9 || d < -1e-9 || r.Mixed != b+c {
			t.Fatalf("Q %v of %d mixed, want %v of %d", r.Q, r.Mixed, want, b+c)
		}
	})
}

func TestCochranRefuses(t *testing.T) {
	cases := map[string][][]bool{
		"no answers":  nil,
		"1 trials":    {{true}},
		"2 answers":   {{true, false, true}, {true, false}},
		"same answer": {{true, true}, {false, false}},
	}
	for says, rows := range cases {
		if _, err := CochranQ(rows); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: error %v", says, err)
		}
	}
	r, err := CochranQ([][]bool{{true, false, false}, {true, true, false}})
	if err != nil || !hasWarning(r.Warnings, "rough") {
		t.Errorf("two tasters: %+v, %v; want a warning", r, err)
	}
}
