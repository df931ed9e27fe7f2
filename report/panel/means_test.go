package panel

import (
	"fmt"
	"math"
	"testing"
)

// By hand: trials x (1, 3) and y (4, 6, 8): means 2 and 6, rss 2 + 8 = 10 with
// 3 degrees of freedom; SE of x sqrt(10/3/2), of y sqrt(10/3/3).
// t(0.975, 3) = 3.182446 (any t table).
func TestOneWay(t *testing.T) {
	m, err := OneWay([]Score{{"", "x", 1}, {"", "y", 4}, {"", "x", 3}, {"", "y", 6}, {"", "y", 8}}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	e := m.Estimates()
	near(t, "x", e[0].Mean, 2, 1e-12)
	near(t, "y", e[1].Mean, 6, 1e-12)
	near(t, "SE x", e[0].SE, math.Sqrt(10.0/6), 1e-12)
	near(t, "SE y", e[1].SE, math.Sqrt(10.0/9), 1e-12)
	near(t, "low x", e[0].Low, 2-3.182446*math.Sqrt(10.0/6), 1e-5)
	if e[0].N != 2 || e[1].N != 3 || m.DF != 3 {
		t.Errorf("n %d %d df %v, want 2 3 3", e[0].N, e[1].N, m.DF)
	}
}

func TestOneWayRefuses(t *testing.T) {
	cases := map[string][]Score{
		"nothing":    nil,
		"one trial":  {{"", "x", 1}, {"", "x", 2}},
		"no repeats": {{"", "x", 1}, {"", "y", 2}},
		"no noise":   {{"", "x", 1}, {"", "x", 1}, {"", "y", 2}},
		"no trial":   {{"", "", 1}},
	}
	for name, scores := range cases {
		if _, err := OneWay(scores, 0.95); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := OneWay([]Score{{"", "x", 1}}, 0); err == nil {
		t.Error("level 0 accepted")
	}
}

func BenchmarkOneWay(b *testing.B) {
	for _, n := range []int{50, 500, 5000, 100000} {
		scores := manyScores(n, 5, 10)
		b.Run(fmt.Sprintf("%dscores_10trials", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := OneWay(scores, 0.95); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
