package panel

import (
	"math"
	"strings"
	"testing"

	"hedgerow/trials/figure"

	"pgregory.net/rapid"
)

// Limits for the data of [7] as printed in the help page of the R package
// psych (values from memory).
func TestICCIntervals(t *testing.T) {
	a, err := IntraclassCorrelations(readScores(t, "icc.csv", "judge", "subject", "rating"), 0.95)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name      string
		icc       ICC
		low, high float64
		tol       float64
	}{
		{"ICC1", a.ICC1, -0.133, 0.72, 0.005},
		{"ICC2", a.ICC2, 0.019, 0.76, 0.005},
		{"ICC3", a.ICC3, 0.342, 0.95, 0.005},
		{"ICC1k", a.ICC1k, -0.884, 0.91, 0.005},
		{"ICC2k", a.ICC2k, 0.071, 0.93, 0.005},
		{"ICC3k", a.ICC3k, 0.676, 0.99, 0.005},
	} {
		near(t, c.name+" low", c.icc.Low, c.low, c.tol)
		near(t, c.name+" high", c.icc.High, c.high, c.tol)
	}
}

// A taster's level does not move ICC3; the mean of k follows from one by the
// Spearman-Brown formula for ICC1 and ICC3.
func TestICCProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, k := rapid.IntRange(2, 6).Draw(t, "n"), rapid.IntRange(2, 6).Draw(t, "k")
		rows, shifted := make([][]float64, k), make([][]float64, k)
		for i := range rows {
			for range n {
				v := float64(rapid.IntRange(0, 9).Draw(t, "v"))
				rows[i] = append(rows[i], v)
				shifted[i] = append(shifted[i], v+7*float64(i))
			}
		}
		a, err := IntraclassCorrelations(tableScores(rows), 0.9)
		if err != nil {
			return
		}
		up := float64(k) * a.ICC3.Value / (1 + float64(k-1)*a.ICC3.Value)
		if figure.Finite(up) && math.Abs(up) < 1e6 && math.Abs(up-a.ICC3k.Value) > 1e-6*(1+math.Abs(up)) {
			t.Fatalf("ICC3 %v gives %v for the mean, ICC3k is %v", a.ICC3.Value, up, a.ICC3k.Value)
		}
		if a.ICC3.Value > 1+1e-9 || a.ICC3.OK && !(a.ICC3.Low <= a.ICC3.Value+1e-9 && a.ICC3.Value <= a.ICC3.High+1e-9) {
			t.Fatalf("%+v", a.ICC3)
		}
		b, err := IntraclassCorrelations(tableScores(shifted), 0.9)
		if err == nil && math.Abs(a.ICC3.Value-b.ICC3.Value) > 1e-7 {
			t.Fatalf("level differences move ICC3 from %v to %v", a.ICC3.Value, b.ICC3.Value)
		}
	})
}

func TestICCRefuses(t *testing.T) {
	cases := map[string][]Score{
		"no scores":    nil,
		"has no score": {{"A", "x", 1}, {"A", "y", 2}, {"B", "x", 3}},
		"two or more":  {{"A", "x", 1}, {"A", "y", 2}},
		"all scores":   tableScores([][]float64{{1, 1}, {1, 1}}),
		"not differ":   tableScores([][]float64{{1, 2}, {2, 1}}),
	}
	for says, scores := range cases {
		if _, err := IntraclassCorrelations(scores, 0.95); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: error %v", says, err)
		}
	}
	if _, err := IntraclassCorrelations(tableScores([][]float64{{1, 2}, {2, 3}}), -1); err == nil {
		t.Error("level -1 accepted")
	}
	a, err := IntraclassCorrelations(tableScores([][]float64{{1, 2, 5}, {2, 2, 4}}), 0.95)
	if err != nil || !hasWarning(a.Warnings, "3 trials") {
		t.Errorf("3 trials: %v, want a warning", err)
	}
}
