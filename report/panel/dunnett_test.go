package panel

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// R 4.2.2, mvtnorm pmvt with GenzBretz(maxpts = 5e7, abseps = 1e-7), whose
// reported error is under 1e-7; the last is pmvnorm (df 0 there).
func TestDunnettSurvival(t *testing.T) {
	half := math.Sqrt(0.5)
	cases := []struct {
		t    float64
		b    []float64
		df   float64
		want float64
	}{
		{2.5, []float64{half, half, half}, 20, 0.054307778},
		{2.1, []float64{math.Sqrt(10.0 / 14), math.Sqrt(3.0 / 7), math.Sqrt(20.0 / 24)}, 37, 0.096187385},
		{3, []float64{half, half, half, half, half}, 8, 0.06041062},
		{1.5, []float64{0.9, -0.4, 0.3}, 12, 0.37498368},
		{2.44, []float64{half, half}, math.Inf(1), 0.027686449},
	}
	for _, c := range cases {
		got, err := dunnettSurvival(c.t, c.b, c.df)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "P(max|T| > t)", got, c.want, 2e-7)
	}
}

// One comparison is a plain t test; independent ones (b = 0, known standard
// deviation) follow 1 - (1-p)^m.
func TestDunnettLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(0.05, 10).Draw(t, "t")
		df := float64(rapid.IntRange(1, 100).Draw(t, "df"))
		b := rapid.Float64Range(-0.95, 0.95).Draw(t, "b")
		got, err := dunnettSurvival(x, []float64{b}, df)
		if err != nil {
			t.Fatal(err)
		}
		want := 2 * distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Survival(x)
		if math.Abs(got-want) > 1e-8 {
			t.Fatalf("t %v df %v b %v: %v, want %v", x, df, b, got, want)
		}
		got, _ = dunnettSurvival(x, []float64{0, 0, 0}, math.Inf(1))
		one := 2 * normalCDF(-x)
		if want := 1 - math.Pow(1-one, 3); math.Abs(got-want) > 1e-9 {
			t.Fatalf("three independent at %v: %v, want %v", x, got, want)
		}
	})
}

// The p lies between that of one comparison and the sum over all (Bonferroni),
// and is below that of all pairs.
func TestDunnettBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, err := oneWay(drawScores(t), 0.95)
		if err != nil {
			return
		}
		b, miss := productForm(m.correlations(0))
		if miss > 1e-6 {
			t.Fatalf("one-way correlations miss the product form by %v", miss)
		}
		x := rapid.Float64Range(0.1, 6).Draw(t, "t")
		p, err := dunnettSurvival(x, b, m.DF)
		if err != nil {
			t.Fatal(err)
		}
		one := 2 * distuv.StudentsT{Mu: 0, Sigma: 1, Nu: m.DF}.Survival(x)
		if p < one-1e-7 || p > float64(len(b))*one+1e-7 {
			t.Fatalf("t %v of %d: p %v outside %v and its multiple", x, len(b), p, one)
		}
		if pairs, _ := rangeSurvival(x*math.Sqrt2, len(b)+1, m.DF); p > pairs+1e-7 {
			t.Fatalf("t %v: p %v above that of all pairs %v", x, p, pairs)
		}
	})
}

// sparseWine is wine.csv less 14 of its 72 rows.
func sparseWine(t testing.TB) []Score {
	t.Helper()
	return readScores(t, "wine_gaps.csv", "judge", "treatment", "rating")
}

// R 4.2.2, multcomp 1.4-22: glht(lm(rating ~ treatment), mcp(treatment =
// "Dunnett")) with abseps 1e-6; critical value 2.3805 to its 1e-4.
func TestDunnettUnbalanced(t *testing.T) {
	m, err := oneWay(sparseWine(t), 0.95)
	if err != nil {
		t.Fatal(err)
	}
	list, warnings, err := m.Dunnett("cold plain")
	if err != nil || len(warnings) > 0 {
		t.Fatal(err, warnings)
	}
	want := map[string][2]float64{ // p, low
		"cold skins": {7.66046330926e-02, -0.0715145696077},
		"warm plain": {2.22427257914e-03, 0.4221917345051},
		"warm skins": {1.15570274462e-06, 1.1429714869472},
	}
	for _, c := range list {
		near(t, c.A+" p", c.P, want[c.A][0], 2e-6)
		near(t, c.A+" low", c.Low, want[c.A][1], 2e-4)
	}
}

// The unbalanced mixed model: R 4.2.2, lme4 1.1-31 lmer(rating ~ treatment +
// (1 | judge)) with tightened optimizer, multcomp glht with df = 46, error 1e-6.
func TestMixedUnbalanced(t *testing.T) {
	scores := sparseWine(t)
	m, err := fitMixed(scores, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "sd taster", math.Sqrt(m.ratio*m.variance), 0.516964853390, 1e-6)
	near(t, "sigma", math.Sqrt(m.variance), 0.746063156052, 1e-6)
	near(t, "reml", deviance(m.profile, m.ratio), 143.290040586, 1e-8)
	near(t, "df", m.DF, 46, 0)
	want := map[string][2]float64{
		"cold plain": {1.98489191818, 0.308012266377},
		"cold skins": {2.70963695781, 0.266616103170},
		"warm plain": {3.16665588920, 0.250298351241},
		"warm skins": {3.88888888889, 0.246206276671},
	}
	for i, name := range m.Names {
		near(t, name, m.Mean[i], want[name][0], 1e-6)
		near(t, name+" SE", math.Sqrt(m.cov.At(i, i)), want[name][1], 1e-6)
	}
	list, _, err := m.Dunnett("cold plain")
	if err != nil {
		t.Fatal(err)
	}
	p := map[string]float64{"cold skins": 7.12586128574e-02, "warm plain": 1.24808201399e-03,
		"warm skins": 4.20959673564e-07}
	for _, c := range list {
		near(t, c.A+" p", c.P, p[c.A], 1e-5)
	}
	set, err := newScoreSet(scores)
	if err != nil {
		t.Fatal(err)
	}
	f, err := set.fitTwoWay()
	if err != nil {
		t.Fatal(err)
	}
	// R anova(lm(rating ~ judge), lm(rating ~ treatment + judge)).
	near(t, "residual", f.rss, 25.41044315, 1e-8)
}

func TestDunnettRefuses(t *testing.T) {
	m, err := oneWay(sparseWine(t), 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := m.Dunnett("water"); err == nil || !strings.Contains(err.Error(), `"water"`) {
		t.Errorf("unknown control: %v", err)
	}
	for _, c := range []struct {
		t, df float64
		b     []float64
	}{{1, 5, nil}, {1, 5, []float64{1}}, {1, 0, []float64{0.5}}, {math.NaN(), 5, []float64{0.5}}} {
		if _, err := dunnettSurvival(c.t, c.b, c.df); err == nil {
			t.Errorf("%+v accepted", c)
		}
	}
	if _, err := dunnettQuantile(1, []float64{0.5}, 5); err == nil {
		t.Error("chance 1 accepted")
	}
	if _, err := dunnettQuantile(0.05, nil, 5); err == nil {
		t.Error("no comparison accepted")
	}
}

func TestProductForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 6).Draw(t, "n")
		b := make([]float64, n)
		for i := range b {
			b[i] = rapid.Float64Range(0.2, 0.9).Draw(t, "b")
		}
		r := make([][]float64, n)
		for i := range r {
			r[i] = make([]float64, n)
			for j := range r[i] {
				r[i][j] = b[i] * b[j]
			}
		}
		if _, miss := productForm(r); miss > 1e-4 {
			t.Fatalf("product form of %v is missed by %v", b, miss)
		}
	})
	if _, miss := productForm([][]float64{{1, 0.9, -0.9}, {0.9, 1, 0.9}, {-0.9, 0.9, 1}}); miss < 0.1 {
		t.Errorf("a form that is no product is missed by %v only", miss)
	}
}

// BenchmarkDunnett compares 40 and 100 trials of 5 tasters with a control, with
// complete scores and with gaps.
func BenchmarkDunnett(b *testing.B) {
	for _, trials := range []int{40, 100} {
		for _, gaps := range []bool{false, true} {
			scores := manyScores(5*trials, 5, trials)
			for i := range scores {
				if !gaps {
					scores[i].Taster, scores[i].Trial = fmt.Sprint("T", i%5), fmt.Sprint("b", i/5)
				}
			}
			m, err := MixedModel(scores, 0.95)
			if err != nil {
				b.Fatal(err)
			}
			b.Run(fmt.Sprintf("%dtrials_gaps=%t", trials, gaps), func(b *testing.B) {
				for b.Loop() {
					if _, _, err := m.Dunnett(m.Names[0]); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// Factors that share their mean give the joint chance of the factors one by one
// within 1e-4; that of the factors themselves is integrated here in full.
func TestManyFactorsShareTheirMean(t *testing.T) {
	b := make([]float64, 60)
	for i := range b {
		b[i] = 0.45 + 0.4*float64(i)/59
	}
	for _, x := range []float64{0.5, 2, 3, 5} {
		got, err := dunnettSurvival(x, b, 30)
		if err != nil {
			t.Fatal(err)
		}
		want := chiMean(30, func(s float64) float64 { return maxTail(x*s, 0.1, factorsWithin(0, b)) })
		near(t, "P(max|T| > t)", got, want, 1e-4)
	}
}
