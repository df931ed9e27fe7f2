package panel

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// readScores reads columns of a CSV in testdata as scores.
func readScores(t testing.TB, file, taster, trial, value string) []Score {
	t.Helper()
	tab := readTable(openTestdata, file)
	scores := tab.scores(value, trial, taster)
	if tab.err != nil {
		t.Fatal(tab.err)
	}
	return scores
}

// Balanced data have closed-form REML estimates, the analysis of variance [14]:
// variance = residual mean square, that of tasters = (taster mean square - residual)
// / scores per taster, when that is positive.
func TestMixedModelBalanced(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tasters := rapid.IntRange(2, 7).Draw(t, "tasters")
		trials := rapid.IntRange(2, 7).Draw(t, "trials")
		var scores []Score
		var sum float64
		tasterSum, trialSum := make([]float64, tasters), make([]float64, trials)
		for i := range tasters {
			for j := range trials {
				v := float64(rapid.IntRange(0, 20).Draw(t, "v")) + 3*float64(i)
				scores = append(scores, Score{fmt.Sprint(i), fmt.Sprint(j), v})
				sum += v
				tasterSum[i] += v
				trialSum[j] += v
			}
		}
		a, b := float64(tasters), float64(trials)
		var ssTaster, rss float64
		for i, s := range scores {
			e := s.Value - tasterSum[i/trials]/b - trialSum[i%trials]/a + sum/(a*b)
			rss += e * e
		}
		for _, s := range tasterSum {
			ssTaster += (s/b - sum/(a*b)) * (s/b - sum/(a*b)) * b
		}
		m, err := fitMixed(scores, 0.95)
		if rss < 1e-9 {
			if err == nil {
				t.Fatal("scores without noise are not refused")
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		ms := rss / ((a - 1) * (b - 1))
		between := (ssTaster/(a-1) - ms) / b
		if between <= 1e-5*ms || between > 1e5*ms {
			return
		}
		if math.Abs(m.variance/ms-1) > 1e-9 || math.Abs(m.ratio*m.variance/between-1) > 1e-7 {
			t.Fatalf("variances %v %v, want %v %v", m.ratio*m.variance, m.variance, between, ms)
		}
		for j, mean := range m.Mean {
			if math.Abs(mean-trialSum[j]/a) > 1e-8 || math.Abs(m.cov.At(j, j)*a/(between+ms)-1) > 1e-8 {
				t.Fatalf("mean %v, want %v with variance %v", mean, trialSum[j]/a, (between+ms)/a)
			}
		}
	})
}

// Randall 1989, wine bitterness, 9 judges: R 4.2.2, lme4 1.1-31, lmer(rating ~
// treatment + (1 | judge)).
func TestMixedModelWine(t *testing.T) {
	m, err := fitMixed(readScores(t, "wine.csv", "judge", "treatment", "rating"), 0.95)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]float64{"cold plain": 2.055555555556, "warm plain": 3.111111111111, "cold skins": 2.611111111111,
		"warm skins": 3.888888888889}
	for i, name := range m.Names {
		near(t, name, m.Mean[i], want[name], 1e-4)
		near(t, name+" SE", math.Sqrt(m.cov.At(i, i)), 0.2271162481741, 1e-4)
	}
	near(t, "sd between tasters", math.Sqrt(m.ratio*m.variance), 0.4465661170851, 1e-4)
	near(t, "sd of a score", math.Sqrt(m.variance), 0.7277565729466, 1e-4)
	near(t, "-2 log restricted likelihood", deviance(m.profile, m.ratio), 172.432662242123, 1e-4)
}

// The two forms of the likelihood, sweeping out trials or tasters, are the same
// function; neither is used to check the other anywhere else.
func TestProfilesAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		scores := drawScores(t)
		s, err := newScoreSet(scores)
		if err != nil {
			t.Fatal(err)
		}
		few, many := newFewTasters(s.tasters, s.trials, s.y), newManyTasters(s.tasters, s.trials, s.y)
		for _, r := range []float64{0, 0.01, 1, 300} {
			d1, s1 := few.terms(r)
			d2, s2 := many.terms(r)
			if math.Abs(d1-d2) > 1e-8 || math.Abs(s1-s2) > 1e-7 {
				t.Fatalf("ratio %v: log det %v or %v, rss %v or %v", r, d1, d2, s1, s2)
			}
			e1, f1 := few.slopes(r)
			e2, f2 := many.slopes(r)
			if math.Abs(e1-e2) > 1e-7*(1+math.Abs(e1)) || math.Abs(f1-f2) > 1e-7*(1+math.Abs(f1)) {
				t.Fatalf("ratio %v: slopes %v %v or %v %v", r, e1, f1, e2, f2)
			}
			m1, c1 := few.solution(r)
			m2, c2 := many.solution(r)
			for i := range m1 {
				if math.Abs(m1[i]-m2[i]) > 1e-7 || math.Abs(c1.At(i, 0)-c2.At(i, 0)) > 1e-7 {
					t.Fatalf("ratio %v trial %d: mean %v or %v, covariance %v or %v", r, i, m1[i], m2[i], c1.At(i, 0), c2.At(i, 0))
				}
			}
		}
	})
}

func TestMixedModelRefuses(t *testing.T) {
	cases := []struct {
		name   string
		scores []Score
		says   string
	}{
		{"one taster", []Score{{"A", "x", 1}, {"A", "y", 2}, {"A", "y", 3}}, "one taster"},
		{"one trial", []Score{{"A", "x", 1}, {"B", "x", 2}, {"B", "x", 3}}, "one trial"},
		{"nothing left", []Score{{"A", "x", 1}, {"A", "y", 2}, {"B", "x", 3}}, "nothing to measure"},
		{"exact", []Score{{"A", "x", 1}, {"A", "y", 2}, {"B", "x", 3}, {"B", "y", 4}}, "exactly"},
		{"none", nil, "no scores"},
		{"too many trials", manyScores(2000, 3, 1000), "at most 500"},
	}
	for _, c := range cases {
		if _, err := MixedModel(c.scores, 0.95); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: error %v, want %q", c.name, err, c.says)
		}
	}
	if _, err := MixedModel(manyScores(50, 3, 3), 1.5); err == nil {
		t.Error("level 1.5 accepted")
	}
}

func TestMixedModelWarns(t *testing.T) {
	m, err := MixedModel([]Score{{"A", "x", 1}, {"A", "y", 4}, {"B", "x", 3}, {"B", "y", 1}, {"C", "z", 2}, {"C", "z",
		3}}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range []string{"2 groups", "share no taster"} {
		if !hasWarning(m.Warnings, part) {
			t.Errorf("warnings %q lack %q", m.Warnings, part)
		}
	}
}

func BenchmarkMixedModel(b *testing.B) {
	for _, c := range []struct{ n, tasters, trials int }{
		{50, 5, 5}, {500, 20, 10}, {5000, 200, 10}, {100000, 4000, 10}, {100000, 10, 400}, {100000, 500, 100},
	} {
		scores := manyScores(c.n, c.tasters, c.trials)
		b.Run(fmt.Sprintf("%dscores_%dtasters_%dtrials", c.n, c.tasters, c.trials), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := MixedModel(scores, 0.95); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
