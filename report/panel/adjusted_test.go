package panel

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.10g, want %.10g ± %g", what, got, want, tol)
	}
}

func mustAdjust(t *testing.T, scores []Score) *Adjustment {
	t.Helper()
	a, err := Adjusted(scores, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// pair is the difference of the adjusted means of two trials with its standard
// error.
func (a *Adjustment) pair(t rapid.TB, first, second string) (value, se float64) {
	t.Helper()
	i, ok := a.fit.trials.find(first)
	j, known := a.fit.trials.find(second)
	if !ok || !known {
		t.Fatalf("no trial %q or %q", first, second)
	}
	return a.fit.mean(i) - a.fit.mean(j), a.ResidualSD * math.Sqrt(a.fit.differenceVariance(i, j))
}

func hasWarning(warnings []string, part string) bool {
	for _, w := range warnings {
		if strings.Contains(w, part) {
			return true
		}
	}
	return false
}

// Complete 2 x 3 layout worked by hand: taster means 4 and 6, trial means 3, 5
// and 7; residuals ±1 ∓1 0: rss 4 with 2 degrees of freedom, sd sqrt(2).
// SE of a mean with the taster levels fixed is sd/sqrt(2) = 1, of a difference
// sqrt(2). The 97.5 % point of t with 2 df is 4.302653 (any t table).
func TestAdjustedComplete(t *testing.T) {
	scores := []Score{
		{"A", "x", 3}, {"A", "y", 3}, {"A", "z", 6},
		{"B", "x", 3}, {"B", "y", 7}, {"B", "z", 8},
	}
	a := mustAdjust(t, scores)
	near(t, "sd", a.ResidualSD, math.Sqrt2, 1e-12)
	if a.DF != 2 {
		t.Fatalf("df = %d, want 2", a.DF)
	}
	for i, want := range []float64{3, 5, 7} {
		near(t, "mean", a.Trials[i].Mean, want, 1e-12)
		near(t, "raw", a.Trials[i].Raw, want, 1e-12)
		near(t, "low", a.Trials[i].Low, want-4.302653, 1e-5)
		near(t, "high", a.Trials[i].High, want+4.302653, 1e-5)
	}
	value, se := a.pair(t, "z", "x")
	near(t, "difference", value, 4, 1e-12)
	near(t, "SE", se, math.Sqrt2, 1e-12)
	near(t, "smallest", a.SmallestSeen, 4.302653*math.Sqrt2, 1e-5)
	near(t, "offset", a.Tasters[1].Offset, 1, 1e-12)
}

// A missing cell, by hand: A scored x=2 y=4, B scored y=6. The additive fit
// gives trial y = x + 2, B = A + 2, so x adjusted for both tasters is 3, y is 5.
func TestAdjustedMissingCell(t *testing.T) {
	a := mustAdjust(t, []Score{{"A", "x", 2}, {"A", "y", 4}, {"B", "y", 6}})
	near(t, "x", a.Trials[0].Mean, 3, 1e-12)
	near(t, "y", a.Trials[1].Mean, 5, 1e-12)
	if a.Trials[0].OK || a.DF != 0 || !hasWarning(a.Warnings, "no interval") {
		t.Errorf("df %d, OK %v, warnings %q: want none left and said so", a.DF, a.Trials[0].OK, a.Warnings)
	}
}

// wine.csv less 14 rows, R 4.2.2: lm(rating ~ treatment + judge), each treatment
// predicted for every judge and averaged, t limits with 46 df; confint() of the
// differences from cold plain; judge effects with sum contrasts.
func TestAdjustedUnbalanced(t *testing.T) {
	a := mustAdjust(t, sparseWine(t))
	near(t, "sd", a.ResidualSD, 0.743236798045, 1e-10)
	want := map[string][4]float64{ // mean, low, high, raw
		"cold plain": {2.02424768873, 1.50779322816, 2.54070214929, 1.88888888889},
		"cold skins": {2.70348028065, 2.29232632328, 3.11463423801, 2.71428571429},
		"warm plain": {3.16301955313, 2.79858295677, 3.52745614948, 3.17647058824},
		"warm skins": {3.88888888889, 3.53626461781, 4.24151315997, 3.88888888889},
	}
	for _, m := range a.Trials {
		near(t, m.Trial+" mean", m.Mean, want[m.Trial][0], 1e-9)
		near(t, m.Trial+" low", m.Low, want[m.Trial][1], 1e-8)
		near(t, m.Trial+" high", m.High, want[m.Trial][2], 1e-8)
		near(t, m.Trial+" raw", m.Raw, want[m.Trial][3], 1e-9)
	}
	differences := map[string][2]float64{ // value, SE
		"cold skins": {0.679232591921, 0.325855800760},
		"warm plain": {1.138771864402, 0.314200775931},
		"warm skins": {1.864641200162, 0.310674417754},
	}
	for name, w := range differences {
		value, se := a.pair(t, name, "cold plain")
		near(t, name+" value", value, w[0], 1e-9)
		near(t, name+" SE", se, w[1], 1e-9)
	}
	offsets := map[string]float64{"1": 1.0385405670638, "2": -0.3621464477221, "7": -1.0256129145521}
	for _, p := range a.Tasters {
		if w, ok := offsets[p.Taster]; ok {
			near(t, "judge "+p.Taster, p.Offset, w, 1e-9)
		}
	}
}

func TestAdjustedSaysWhatItCannot(t *testing.T) {
	cases := []struct {
		name   string
		scores []Score
		warn   string
		ok     bool
	}{
		{"one score", []Score{{"A", "x", 2}}, "one taster", false},
		{"one taster with repeats", []Score{{"A", "x", 2}, {"A", "x", 3}, {"A", "y", 5}}, "one taster", true},
		{"one trial", []Score{{"A", "x", 2}, {"B", "x", 3}}, "one trial", false},
		{"exact", []Score{{"A", "x", 1}, {"A", "y", 2}, {"B", "x", 3}, {"B", "y", 4}}, "exactly", false},
		{"all equal", []Score{{"A", "x", 5}, {"A", "y", 5}, {"B", "x", 5}, {"B", "y", 5}}, "exactly", false},
		{"little noise left", []Score{{"A", "x", 1}, {"A", "y", 2}, {"B", "x", 3}, {"B", "y", 5}}, "very wide", true},
		{"apart", []Score{{"A", "x", 1}, {"A", "x", 2}, {"B", "y", 3}}, "share no taster", true},
	}
	for _, c := range cases {
		a := mustAdjust(t, c.scores)
		if !hasWarning(a.Warnings, c.warn) {
			t.Errorf("%s: warnings %q lack %q", c.name, a.Warnings, c.warn)
		}
		if a.Trials[0].OK != c.ok {
			t.Errorf("%s: OK = %v, want %v", c.name, a.Trials[0].OK, c.ok)
		}
	}
}

func TestAdjustedGroups(t *testing.T) {
	a := mustAdjust(t, []Score{{"A", "x", 1}, {"A", "y", 2}, {"B", "p", 7}, {"B", "q", 9}, {"B", "q", 8}, {"C", "p", 7}})
	if a.Groups != 2 || a.Trials[0].Group == a.Trials[2].Group {
		t.Fatalf("groups = %d of %+v, want x y apart from p q", a.Groups, a.Trials)
	}
}

func TestAdjustedRefuses(t *testing.T) {
	good := []Score{{"A", "x", 1}}
	cases := []struct {
		name   string
		scores []Score
		level  float64
		says   string
	}{
		{"nothing", nil, 0.95, "no scores"},
		{"no taster", []Score{{"", "x", 1}}, 0.95, "no taster"},
		{"no trial", []Score{{"A", "", 1}}, 0.95, "no trial"},
		{"not a number", []Score{{"A", "x", math.NaN()}}, 0.95, "NaN"},
		{"infinite", []Score{{"A", "x", math.Inf(1)}}, 0.95, "Inf"},
		{"level in per cent", good, 95, "95"},
		{"level not a number", good, math.NaN(), "NaN"},
	}
	for _, c := range cases {
		if _, err := Adjusted(c.scores, c.level); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: error %v, want it to name %q", c.name, err, c.says)
		}
	}
}

// drawScores makes a random unbalanced table with repeats and gaps.
func drawScores(t *rapid.T) []Score {
	tasters := rapid.IntRange(1, 6).Draw(t, "tasters")
	trials := rapid.IntRange(1, 6).Draw(t, "trials")
	n := rapid.IntRange(1, 40).Draw(t, "n")
	scores := make([]Score, n)
	for i := range scores {
		scores[i] = Score{
			Taster: fmt.Sprint("T", rapid.IntRange(1, tasters).Draw(t, "taster")),
			Trial:  fmt.Sprint("b", rapid.IntRange(1, trials).Draw(t, "trial")),
			Value:  float64(rapid.IntRange(0, 10).Draw(t, "value")),
		}
	}
	return scores
}

// Dense reference: minimum-norm least squares by singular values on the full
// dummy-variable matrix; the adjusted mean of a trial is estimable, so any
// least-squares solution gives it, and its variance is x' (X'X)^+ x.
func denseReference(scores []Score, a *Adjustment, trial int) (mean, variance float64) {
	trials, tasters := len(a.Trials), len(a.Tasters)
	x := mat.NewDense(len(scores), trials+tasters, nil)
	y := mat.NewVecDense(len(scores), nil)
	at := make(map[string]int)
	for i, m := range a.Trials {
		at["t"+m.Trial] = i
	}
	for i, m := range a.Tasters {
		at["p"+m.Taster] = trials + i
	}
	for i, s := range scores {
		x.Set(i, at["t"+s.Trial], 1)
		x.Set(i, at["p"+s.Taster], 1)
		y.SetVec(i, s.Value)
	}
	l := mat.NewVecDense(trials+tasters, nil)
	l.SetVec(trial, 1)
	var same float64
	for _, p := range a.Tasters {
		if p.Group == a.Trials[trial].Group {
			same++
		}
	}
	for i, p := range a.Tasters {
		if p.Group == a.Trials[trial].Group {
			l.SetVec(trials+i, 1/same)
		}
	}
	var svd mat.SVD
	svd.Factorize(x, mat.SVDThin)
	var u, v mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	for k, s := range svd.Values(nil) {
		if s > 1e-9 {
			c := mat.Dot(l, v.ColView(k)) / s
			mean += c * mat.Dot(u.ColView(k), y)
			variance += c * c
		}
	}
	return mean, variance
}

func TestAdjustedAgreesWithDenseLeastSquares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		scores := drawScores(t)
		a, err := Adjusted(scores, 0.9)
		if err != nil {
			t.Fatal(err)
		}
		for k, m := range a.Trials {
			mean, variance := denseReference(scores, a, k)
			if math.Abs(m.Mean-mean) > 1e-8 || math.Abs(a.fit.variance(k)-variance) > 1e-8 {
				t.Fatalf("trial %s: mean %v variance %v, dense %v %v", m.Trial, m.Mean, a.fit.variance(k), mean, variance)
			}
		}
	})
}

func TestAdjustedProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		scores := drawScores(t)
		a, err := Adjusted(scores, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		strict := make([]Score, len(scores))
		for i, s := range scores {
			strict[i] = s
			if s.Taster == "T1" {
				strict[i].Value -= 3
			}
		}
		b, err := Adjusted(strict, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		for i, x := range a.Trials {
			for j, y := range a.Trials {
				if i == j || x.Group != y.Group {
					continue
				}
				d, se := a.pair(t, x.Trial, y.Trial)
				e, _ := b.pair(t, x.Trial, y.Trial)
				if math.Abs(d-e) > 1e-8 {
					t.Fatalf("a strict taster moves %s - %s from %v to %v", x.Trial, y.Trial, d, e)
				}
				if a.SmallestOK && a.SmallestSeen > a.quantile()*se+1e-9 {
					t.Fatalf("smallest %v above the half-width for %s and %s", a.SmallestSeen, x.Trial, y.Trial)
				}
			}
		}
	})
}

// manyScores is a table of n random scores with gaps and repeats.
func manyScores(n, tasters, trials int) []Score {
	r := rand.New(rand.NewPCG(1, 2))
	scores := make([]Score, n)
	for i := range scores {
		p, b := r.IntN(tasters), r.IntN(trials)
		scores[i] = Score{fmt.Sprint("T", p), fmt.Sprint("b", b), float64(b%5) + float64(p%3) + r.NormFloat64()}
	}
	return scores
}

// BenchmarkComparison is all that a comparison of trials asks for at once.
func BenchmarkComparison(b *testing.B) {
	scores := manyScores(100000, 500, 20)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Adjusted(scores, 0.95); err != nil {
			b.Fatal(err)
		}
		m, err := MixedModel(scores, 0.95)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := m.Tukey(); err != nil {
			b.Fatal(err)
		}
		if _, err := TasterTable(scores, 0.95); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAdjusted(b *testing.B) {
	for _, c := range []struct{ n, tasters, trials int }{
		{50, 5, 10}, {5000, 20, 50}, {100000, 10, 2000}, {100000, 2000, 20}, {100000, 316, 316},
	} {
		scores := manyScores(c.n, c.tasters, c.trials)
		b.Run(fmt.Sprintf("%dscores_%dtasters_%dtrials", c.n, c.tasters, c.trials), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Adjusted(scores, 0.95); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
