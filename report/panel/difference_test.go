package panel

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Shares correct: R 4.2.2 integrate(rel.tol = 1e-11) over the formulas of [9]; d' = 1 also
// in print: 2-AFC .760, 3-AFC .634, duo-trio .582, triangle .418, tetrad .494.
func TestShareCorrect(t *testing.T) {
	cases := []struct {
		d                                  float64
		triangle, afc, duo, paired, tetrad float64
	}{
		{0, 1.0 / 3, 1.0 / 3, 0.5, 0.5, 1.0 / 3},
		{0.5, 0.355834650, 0.482592871, 0.522347001, 0.638163195, 0.377718703},
		{1, 0.418046675, 0.633702046, 0.582475444, 0.760249939, 0.493808427},
		{2.5, 0.699338743, 0.931365241, 0.819584549, 0.961450064, 0.879660709},
	}
	for _, c := range cases {
		for test, want := range map[DifferenceTest]float64{
			Triangle: c.triangle, ThreeAFC: c.afc, DuoTrio: c.duo, Paired: c.paired, PairedTwoSided: c.paired, Tetrad: c.tetrad,
		} {
			got, err := test.shareCorrect(c.d)
			if err != nil {
				t.Fatal(err)
			}
			near(t, string(test), got, want, 2e-9)
		}
	}
}

// Numbers of answers from which power stays at 80 %, one-sided alpha 0.05:
// R 4.2.2, binomial power with those shares, n up to 400 gone through.
func TestNeedMore(t *testing.T) {
	cases := []struct {
		d                                  float64
		triangle, afc, duo, paired, tetrad int
	}{
		{1, 220, 22, 241, 26, 65},
		{1.5, 57, 9, 65, 13, 20},
		{2, 23, 5, 28, 8, 9},
		{3, 9, 3, 11, 5, 5},
	}
	for _, c := range cases {
		for test, want := range map[DifferenceTest]int{Triangle: c.triangle, ThreeAFC: c.afc, DuoTrio: c.duo,
			Paired: c.paired, Tetrad: c.tetrad} {
			got, err := test.NeedMore(10, 0.05, c.d, 0.8)
			if err != nil {
				t.Fatal(err)
			}
			if got.N != want || got.More != max(0, want-10) || got.Power < 0.8 {
				t.Errorf("%s d' %v: %+v, want %d", test, c.d, got, want)
			}
		}
	}
}

// R 4.2.2: 1 - pbinom(k - 1, n, share) with k from qbinom; two-sided both ends
// of 15 of 20.
func TestPower(t *testing.T) {
	cases := []struct {
		test DifferenceTest
		n    int
		d    float64
		want float64
	}{
		{Triangle, 20, 1.5, 0.434787777134},
		{Paired, 12, 1, 0.42305353021},
		{PairedTwoSided, 20, 1.2, 0.810472441541},
		{PairedTwoSided, 20, 0, 0.041389465332},
		{Triangle, 2, 3, 0},
	}
	for _, c := range cases {
		got, err := c.test.Power(c.n, 0.05, c.d)
		if err != nil {
			t.Fatal(err)
		}
		near(t, string(c.test), got, c.want, 1e-8)
	}
}

func TestDifferenceResult(t *testing.T) {
	r, err := Triangle.Result(6, 8, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	// By hand: sum of C(8,k) 2^(8-k) for k = 6, 7, 8 is 112 + 16 + 1 of 3^8.
	near(t, "p", r.P, 129.0/6561, 1e-12)
	share, _ := Triangle.shareCorrect(r.DPrime)
	near(t, "share at d'", share, 0.75, 1e-9)
	if !(r.DPrimeLow < r.DPrime && r.DPrime < r.DPrimeHigh) || !r.HighOK {
		t.Errorf("d' %v outside %v to %v", r.DPrime, r.DPrimeLow, r.DPrimeHigh)
	}
	all, err := Triangle.Result(2, 2, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	if all.DPrimeOK || all.HighOK {
		t.Errorf("2 of 2: %+v", all)
	}
	two, _ := PairedTwoSided.Result(1, 8, 0.05)
	near(t, "two-sided p of 1 of 8", two.P, 2*9.0/256, 1e-12)
}

func TestDPrimeInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		test := rapid.SampledFrom(differenceTests()).Draw(t, "test")
		d := rapid.Float64Range(0.05, 5).Draw(t, "d")
		share, err := test.shareCorrect(d)
		if err != nil {
			t.Fatal(err)
		}
		more, _ := test.shareCorrect(d + 0.1)
		if more <= share {
			t.Fatalf("%s: share %v at %v, %v at %v", test, share, d, more, d+0.1)
		}
		back, ok := test.dPrime(share)
		if !ok || math.Abs(back-d) > 1e-4 {
			t.Fatalf("%s: d' %v gives %v gives %v (%v)", test, d, share, back, ok)
		}
	})
	if d, ok := Triangle.dPrime(0.2); d != 0 || !ok {
		t.Errorf("under chance: %v %v, want 0", d, ok)
	}
	if _, ok := DifferenceTest("odd").dPrime(0.9); ok {
		t.Error("unknown test has a d'")
	}
}

// The number needed is the smallest: its p is within alpha, one less is not.
func TestMinCorrectIsSmallest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		test := rapid.SampledFrom(differenceTests()).Draw(t, "test")
		n := rapid.IntRange(1, 300).Draw(t, "n")
		alpha := rapid.Float64Range(0.001, 0.3).Draw(t, "alpha")
		k, ok, err := test.MinCorrect(n, alpha)
		if err != nil {
			t.Fatal(err)
		}
		chance, _ := test.Chance()
		if ok && test.p(k, n, chance) > alpha*(1+1e-9) {
			t.Fatalf("%s n %d: %d has p %v above %v", test, n, k, test.p(k, n, chance), alpha)
		}
		if k > 0 && k-1 > n/2 && test.p(k-1, n, chance) <= alpha*(1-1e-9) {
			t.Fatalf("%s n %d: %d would do for %v", test, n, k-1, alpha)
		}
	})
}

func TestDifferenceRefuses(t *testing.T) {
	odd := DifferenceTest("quartet")
	calls := map[string]func() error{
		"quartet":   func() error { _, _, err := odd.MinCorrect(5, 0.05); return err },
		"0 answers": func() error { _, _, err := Triangle.MinCorrect(0, 0.05); return err },
		"200000":    func() error { _, _, err := Triangle.MinCorrect(200000, 0.05); return err },
		"alpha 5":   func() error { _, err := Triangle.Result(3, 5, 5); return err },
		"9 correct": func() error { _, err := Triangle.Result(9, 5, 0.05); return err },
		"d' -1":     func() error { _, err := Triangle.Power(5, 0.05, -1); return err },
		"d' NaN":    func() error { _, err := Triangle.NeedMore(0, 0.05, math.NaN(), 0.8); return err },
		"power 80":  func() error { _, err := Triangle.NeedMore(0, 0.05, 1, 80); return err },
		"-3":        func() error { _, err := Triangle.NeedMore(-3, 0.05, 1, 0.8); return err },
		"more than": func() error { _, err := Triangle.NeedMore(0, 0.05, 0.1, 0.8); return err },
		"unknown":   func() error { _, err := odd.shareCorrect(1); return errUnknown(err) },
		"odd need":  func() error { _, err := odd.NeedMore(0, 0.05, 1, 0.8); return errUnknown(err) },
		"odd power": func() error { _, err := odd.Power(3, 0.05, 1); return errUnknown(err) },
	}
	for says, call := range calls {
		err := call()
		if err == nil || !strings.Contains(err.Error(), says) && !strings.Contains(err.Error(), "quartet") {
			t.Errorf("%s: error %v", says, err)
		}
	}
}

// errUnknown passes an error on only when it names the unknown test.
func errUnknown(err error) error {
	if err != nil && strings.Contains(err.Error(), "quartet") {
		return err
	}
	return nil
}
