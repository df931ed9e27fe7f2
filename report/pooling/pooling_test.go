package pooling

import (
	"math"
	"testing"
)

// near fails when got is not want within a millionth.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-6 {
		t.Errorf("%s: %.7f, want %.7f", what, got, want)
	}
}

// Bayes by hand: data N(2, 0.5) on the prior N(1, 2.25) have the precision
// 1/0.5 + 1/2.25 = 2.4444444, the variance 0.4090909 and the mean
// (2/0.5 + 1/2.25)*0.4090909 = 1.8181818. Taken out again the data are left.
func TestTakenOut(t *testing.T) {
	w, ok := TakenOut(1.8181818181818181, 0.4090909090909091, 1)
	if !ok {
		t.Fatal("nothing learnt")
	}
	near(t, "mean", w.Mean, 2)
	near(t, "variance", w.Var, 0.5+0.0144)
}

// 0.8 x 2.25 = 1.8: what leaves more of the prior's variance taught nothing.
func TestTakenOutOfNothing(t *testing.T) {
	if _, ok := TakenOut(1, 1.801, 1); ok {
		t.Error("a variance of 1.801 counts as learnt")
	}
	if _, ok := TakenOut(1, 1.799, 1); !ok {
		t.Error("a variance of 1.799 does not")
	}
	for _, w := range []float64{0, math.NaN(), -1} {
		if _, ok := TakenOut(1, w, 1); ok {
			t.Errorf("a variance of %g counts as learnt", w)
		}
	}
}

// By hand: 0.3^2 + 0.35^2/4 = 0.09 + 0.030625, and 0.5^2 more by another method.
func TestPrinted(t *testing.T) {
	w := Printed(1.2, 0.3, 4)
	near(t, "mean", w.Mean, 1.2)
	near(t, "variance", w.Var, 0.120625)
	near(t, "variance by another method", w.ByAnotherMethod().Var, 0.370625)
}

// By hand. One brewer: V = v + 2 x 0.36. Two with v = 0.04 and 0.14, 0.2 apart:
// weights 2.5 and 2, M = (2.5 x 1 + 2 x 1.2)/4.5 = 1.0888889, V = 1/4.5 + 0.36; they
// agree, so the SD stays.
func TestPool(t *testing.T) {
	one := Pool([]Word{{1, 0.04}})
	near(t, "mean of one", one.Mean, 1)
	near(t, "variance of one", one.Var, 0.76)
	near(t, "SD of one", one.SD, 0.6)
	two := Pool([]Word{{1, 0.04}, {1.2, 0.14}})
	near(t, "mean of two", two.Mean, 1.0888889)
	near(t, "variance of two", two.Var, 0.5822222)
	near(t, "SD of two", two.SD, 0.6)
}

// One brewer differs from nobody, whatever rounding makes of the weighed mean.
func TestPoolOfOne(t *testing.T) {
	for i := range 1000 {
		w := Word{float64(i) / 7, 0.01 + float64(i)/900}
		if got := Pool([]Word{w}).SD; got != 0.6 {
			t.Fatalf("SD %g of %v alone, want 0.6", got, w)
		}
	}
}

// By hand: two brewers 2 ln units apart with v = 0 have sum (m-M)^2/s^2 = 2/s^2 <= 1
// from s = 1.41421 on, so the first hundredth above is 1.42; five units apart the
// SD stops at 1.5.
func TestPoolOfThoseWhoDiffer(t *testing.T) {
	near(t, "SD 2 apart", Pool([]Word{{0, 0}, {2, 0}}).SD, 1.42)
	far := Pool([]Word{{0, 0}, {5, 0}})
	near(t, "SD 5 apart", far.SD, 1.5)
	near(t, "variance 5 apart", far.Var, 2.25/2+2.25)
}

// By hand: one shared brewer has V = v + 2 x 0.45^2; of two, with v = 0.0475, each
// weighs 1/0.25: V = 0.125 + 0.2025.
func TestPoolShared(t *testing.T) {
	near(t, "one", PoolShared([]Word{{1, 0.1}}).Var, 0.505)
	two := PoolShared([]Word{{1, 0.0475}, {2, 0.0475}})
	near(t, "mean of two", two.Mean, 1.5)
	near(t, "variance of two", two.Var, 0.3275)
}

// The words of several strangers are worth no more than (0.08 + 0.36/m)/0.6^2 of a
// brew: 0.47 with four tasters, however many they are. One with v = 0.05 is worth
// 0.17/0.77 = 0.2207792 (by hand), and more brewers never less.
func TestWorth(t *testing.T) {
	near(t, "one stranger", Pool([]Word{{1, 0.05}}).Worth(4), 0.2207792)
	var words []Word
	before := 0.0
	for range 200 {
		words = append(words, Word{1, 0.05})
		now := Pool(words).Worth(4)
		if now <= before || now > 0.17/0.36 {
			t.Fatalf("%d brewers are worth %g, one less %g", len(words), now, before)
		}
		before = now
	}
}

// By hand: 1/(1/0.5 + 1/0.5) = 0.25 and the middle; 1 apart with 0.5 + 0.5.
func TestBothAndApart(t *testing.T) {
	b := Both(Word{1, 0.5}, Word{2, 0.5})
	near(t, "mean", b.Mean, 1.5)
	near(t, "variance", b.Var, 0.25)
	near(t, "z", Word{2, 0.5}.Apart(Word{1, 0.5}), 1)
}
