package panel

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// Expected tails: R 4.2.2 ptukey(q, k, df, lower = FALSE), whose own error is
// near 1e-9 for these. The last two, where R is less exact, come from plain
// Simpson integration over z and s in double precision, computed independently.
func TestRangeSurvival(t *testing.T) {
	cases := []struct {
		q    float64
		k    int
		df   float64
		want float64
		tol  float64
	}{
		{3.877, 3, 10, 0.04998708875, 1e-9},
		{5.294, 3, 20, 0.00350628849, 1e-9},
		{1.2, 4, 7, 0.8302981752, 1e-9},
		{4.474, 10, math.Inf(1), 0.05001324158, 1e-9},
		{8, 5, 40, 1.372906208e-05, 1e-10},
		{3.5, 2, 5, 0.05619320674, 1e-9},
		{9, 6, 2, 0.08288700366, 1e-9},
		{12, 20, 60, 1.36205123e-09, 1e-15},
		{0, 3, 10, 1, 0},
		{-1, 3, 10, 1, 0},
	}
	for _, c := range cases {
		got, err := rangeSurvival(c.q, c.k, c.df)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "P(Q > q)", got, c.want, c.tol)
	}
}

// R 4.2.2 qtukey(p, k, df, lower = FALSE); the first, 3.88, and 4.64, 5.01,
// 5.22 are the entries of the printed tables.
func TestRangeQuantile(t *testing.T) {
	cases := []struct {
		p    float64
		k    int
		df   float64
		want float64
	}{
		{0.05, 3, 10, 3.876776749},
		{0.01, 3, 20, 4.639220078},
		{0.05, 10, 20, 5.007882655},
		{0.05, 4, 5, 5.218324875},
		{0.05, 2, 60, 2.828848309},
		{0.01, 6, 8, 6.959422679},
	}
	for _, c := range cases {
		got, err := rangeQuantile(c.p, c.k, c.df)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "q", got, c.want, 1e-6)
	}
}

// The range of two values over sqrt(2) is a t statistic, exactly.
func TestRangeOfTwoIsStudent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := rapid.Float64Range(0.01, 30).Draw(t, "q")
		df := float64(rapid.IntRange(1, 200).Draw(t, "df"))
		got, err := rangeSurvival(q, 2, df)
		if err != nil {
			t.Fatal(err)
		}
		want := 2 * distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Survival(q/math.Sqrt2)
		if math.Abs(got-want) > 1e-10 {
			t.Fatalf("q %v df %v: %v, want %v", q, df, got, want)
		}
	})
}

func TestRangeOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := rapid.Float64Range(0.1, 20).Draw(t, "q")
		k := rapid.IntRange(2, 30).Draw(t, "k")
		df := rapid.Float64Range(1, 100).Draw(t, "df")
		p, _ := rangeSurvival(q, k, df)
		more, _ := rangeSurvival(q, k+1, df)
		wider, _ := rangeSurvival(q*1.1, k, df)
		if !(p >= 0 && p <= 1) || more < p-1e-12 || wider > p+1e-12 {
			t.Fatalf("q %v k %d df %v: p %v, one trial more %v, wider range %v", q, k, df, p, more, wider)
		}
	})
}

func TestRangeRefuses(t *testing.T) {
	for _, c := range []struct {
		q  float64
		k  int
		df float64
	}{{1, 1, 5}, {1, 3, 0}, {1, 3, math.NaN()}, {math.NaN(), 3, 5}} {
		if p, err := rangeSurvival(c.q, c.k, c.df); err == nil {
			t.Errorf("%+v gives %v, want an error", c, p)
		}
	}
	for _, p := range []float64{0, 1, math.NaN()} {
		if _, err := rangeQuantile(p, 3, 5); err == nil {
			t.Errorf("chance %v accepted", p)
		}
	}
	if _, err := rangeQuantile(0.05, 1, 5); err == nil {
		t.Error("one value accepted")
	}
}

// wine.csv less 14 of its rows, an unbalanced one-way layout. R 4.2.2:
// TukeyHSD(aov(rating ~ treatment)), multcomp 1.4-22 glht with mcp("Dunnett").
func TestTukeyUnbalanced(t *testing.T) {
	m, err := oneWay(sparseWine(t), 0.95)
	if err != nil {
		t.Fatal(err)
	}
	list, err := m.Tukey()
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][3]float64{ // low, high, p of the first less the second
		"cold skins cold plain": {-0.1733761009569, 1.82416975175, 0.138827889904},
		"warm plain cold plain": {0.3239100675267, 2.25125333117, 0.00446921408428},
		"warm skins cold plain": {1.0456394235619, 2.95436057644, 5.1221476064e-06},
		"warm plain cold skins": {-0.3815004302836, 1.30587017818, 0.473101230801},
		"warm skins cold skins": {0.3415689685443, 2.00763738066, 0.00246932534429},
		"warm skins warm plain": {-0.0781901005293, 1.50302670184, 0.0914339025068},
	}
	for _, c := range list {
		w, ok := want[c.A+" "+c.B]
		low, high := c.Low, c.High
		if !ok {
			w, low, high = want[c.B+" "+c.A], -c.High, -c.Low
		}
		near(t, c.A+" "+c.B+" low", low, w[0], 1e-6)
		near(t, c.A+" "+c.B+" high", high, w[1], 1e-6)
		near(t, c.A+" "+c.B+" p", c.P, w[2], 1e-7)
	}
	if len(list) != len(want) {
		t.Errorf("%d pairs, want %d", len(list), len(want))
	}
}

func TestTukeyRefusesMany(t *testing.T) {
	m, err := oneWay(manyScores(2000, 1, 101), 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := m.Tukey(); err == nil {
		t.Error("5050 pairs accepted")
	}
	if _, _, err := m.Dunnett("b0"); err == nil {
		t.Error("100 comparisons with a control accepted")
	}
}

func BenchmarkTukey(b *testing.B) {
	m, err := oneWay(manyScores(200, 1, 8), 0.95)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := m.Tukey(); err != nil {
			b.Fatal(err)
		}
	}
}
