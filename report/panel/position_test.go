package panel

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// placedTable serves trials in the given orders and scores them.
func placedTable(orders []string, values [][]float64) []PlacedScore {
	var list []PlacedScore
	for i, o := range orders {
		for p, trial := range o {
			list = append(list, PlacedScore{Score{string(rune('A' + i)), string(trial), values[i][p]}, p + 1})
		}
	}
	return list
}

// Invented scores over a square of 4: R 4.2.2, anova(lm(v ~ b + t), lm(v ~ b +
// t + factor(p))), summary and confint of the latter.
func TestPositionEffect(t *testing.T) {
	scores := placedTable([]string{"wxzy", "xywz", "yzxw", "zwyx"},
		[][]float64{{5, 6, 8, 4}, {7, 5, 3, 7}, {6, 8, 5, 2}, {9, 4, 4, 5}})
	e, err := PositionEffect(scores, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "F", e.Test.F, 46, 1e-9)
	near(t, "p", e.Test.P, 0.00015575, 1e-8)
	want := [][3]float64{{}, {-1, -1.49947379, -0.5005262099}, {-1.75, -2.24947379, -1.2505262099},
		{-2.25, -2.74947379, -1.7505262099}}
	for k, s := range e.Shifts {
		if s.OK != (k > 0) || s.Position != k+1 || s.N != 4 {
			t.Errorf("%+v", s)
		}
		near(t, "shift", s.Shift, want[k][0], 1e-9)
		near(t, "low", s.Low, want[k][1], 1e-7)
		near(t, "high", s.High, want[k][2], 1e-7)
	}
	near(t, "SE", e.Shifts[1].SE, 0.2041241452, 1e-9)
}

// A shift added to the glasses of one position comes back.
func TestPositionEffectFindsShift(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := make([][]float64, 4)
		for i := range values {
			for range 4 {
				values[i] = append(values[i], float64(rapid.IntRange(0, 10).Draw(t, "v")))
			}
		}
		orders := []string{"wxzy", "xywz", "yzxw", "zwyx"}
		before, err := PositionEffect(placedTable(orders, values), 0.95)
		if err != nil {
			return
		}
		for i := range values {
			values[i][2] += 2.5
		}
		after, err := PositionEffect(placedTable(orders, values), 0.95)
		if err != nil {
			t.Fatal(err)
		}
		for k := range after.Shifts {
			want := before.Shifts[k].Shift
			if k == 2 {
				want += 2.5
			}
			if math.Abs(after.Shifts[k].Shift-want) > 1e-9 {
				t.Fatalf("position %d: shift %v, want %v", k+1, after.Shifts[k].Shift, want)
			}
		}
	})
}

func TestPositionEffectRefuses(t *testing.T) {
	same := []string{"xyz", "xyz", "xyz", "xyz"}
	v := [][]float64{{1, 2, 4}, {2, 3, 4}, {1, 3, 6}, {2, 5, 5}}
	cases := map[string][]PlacedScore{
		"position 0":    {{Score{"A", "x", 1}, 0}},
		"no scores":     nil,
		"every glass":   {{Score{"A", "x", 1}, 2}, {Score{"B", "x", 3}, 2}, {Score{"B", "y", 3}, 2}},
		"orders that d": placedTable(same, v),
		"nothing to me": placedTable([]string{"xy", "yx"}, [][]float64{{1, 2}, {2, 5}})[:3],
		"exactly": placedTable([]string{"xyz", "yzx", "zxy", "xzy"}, [][]float64{{2, 2, 2}, {2, 2, 2}, {2, 2, 2},
			{2, 2, 2}}),
	}
	for says, scores := range cases {
		if e, err := PositionEffect(scores, 0.95); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %+v, error %v", says, e, err)
		}
	}
	if _, err := PositionEffect(nil, -1); err == nil {
		t.Error("level -1 accepted")
	}
	var many []PlacedScore
	for i, s := range manyScores(2000, 2, 400) {
		many = append(many, PlacedScore{s, i%3 + 1})
	}
	if _, err := PositionEffect(many, 0.95); err == nil || !strings.Contains(err.Error(), "at most 300") {
		t.Errorf("400 trials: %v", err)
	}
}

// Trial z always stands last: position 3 cannot be told from it, 1 and 2 can.
func TestPositionEffectPartly(t *testing.T) {
	e, err := PositionEffect(placedTable([]string{"xyz", "yxz", "xyz", "yxz"},
		[][]float64{{1, 2, 4}, {2, 3, 4}, {1, 3, 6}, {2, 5, 5}}), 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if e.Test.DFTop != 1 || e.Shifts[1].OK || !hasWarning(e.Warnings, "cannot tell 1 position") {
		t.Errorf("%+v", e)
	}
}
