package panel

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// twoByTwo is a yes/no answer in two groups: a of n1 yes, b of n2 yes.
func twoByTwo(a, n1, b, n2 int) OrdinalData {
	var d OrdinalData
	x := Column{Term: "group"}
	for i := range n1 + n2 {
		in, yes := 0.0, 0.0
		if i < n1 && i < a || i >= n1 && i < n1+b {
			yes = 1
		}
		if i >= n1 {
			in = 1
		}
		d.Response = append(d.Response, yes)
		x.X = append(x.X, in)
	}
	d.Columns = []Column{x}
	return d
}

// With two categories and two groups the fit is in closed form: the
// coefficient is the log odds ratio, its squared error the sum of 1/count
// (Woolf 1955).
func TestProportionalOddsTwoByTwo(t *testing.T) {
	f, err := ProportionalOdds(twoByTwo(7, 20, 12, 18), 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "log odds ratio", f.Coefs[0].Value, math.Log(12.0/6*13/7), 1e-9)
	near(t, "SE", f.Coefs[0].SE, math.Sqrt(1.0/7+1.0/13+1.0/12+1.0/6), 1e-9)
	near(t, "cut", f.Cuts[0].Value, math.Log(13.0/7), 1e-9)
	logLik := 7*math.Log(7.0/20) + 13*math.Log(13.0/20) + 12*math.Log(12.0/18) + 6*math.Log(6.0/18)
	near(t, "log likelihood", f.LogLik, logLik, 1e-9)
}

// Without columns the cuts are the logits of the cumulative shares.
func TestProportionalOddsNoColumns(t *testing.T) {
	f, err := ProportionalOdds(OrdinalData{Response: []float64{-1, -1, -1, 0, 0, 0, 0, 1, 1, 1}}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "first cut", f.Cuts[0].Value, math.Log(3.0/7), 1e-9)
	near(t, "second cut", f.Cuts[1].Value, math.Log(7.0/3), 1e-9)
	if !hasWarning(f.Warnings, "rough check") {
		t.Errorf("10 answers pass without a warning: %q", f.Warnings)
	}
}

func TestProportionalOddsRefuses(t *testing.T) {
	apart := twoByTwo(0, 10, 10, 10)
	cases := map[string]OrdinalData{
		"separated":    apart,
		"no answers":   {},
		"all answers":  {Response: []float64{2, 2, 2}},
		"too few":      {Response: []float64{1, 2}, Columns: []Column{{Term: "x", X: []float64{1, 2}}}},
		"has 1 values": {Response: []float64{1, 2, 1}, Columns: []Column{{Term: "x", X: []float64{1}}}},
		"constant":     {Response: []float64{1, 2, 1, 2}, Columns: []Column{{Term: "x", Level: "y", X: []float64{3, 3, 3, 3}}}},
		"control out":  {Response: []float64{1, 2, 1, 2}, Columns: []Column{{Term: "x", X: []float64{3, math.Inf(-1), 3, 3}}}},
		"answer 1":     {Response: []float64{math.NaN(), 2}},
	}
	for says, d := range cases {
		if _, err := ProportionalOdds(d, 0.95); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: error %v", says, err)
		}
	}
	if _, err := ProportionalOdds(twoByTwo(3, 9, 4, 8), 2); err == nil {
		t.Error("level 2 accepted")
	}
}

func TestProportionalOddsMixedRefuses(t *testing.T) {
	d := twoByTwo(7, 20, 12, 18)
	if _, err := ProportionalOddsMixed(d, 0.95); err == nil || !strings.Contains(err.Error(), "0 taster names for 38 answers") {
		t.Errorf("no names: %v", err)
	}
	d.Taster = make([]string, 38)
	if _, err := ProportionalOddsMixed(d, 0.95); err == nil || !strings.Contains(err.Error(), "one taster") {
		t.Errorf("one taster: %v", err)
	}
	apart := twoByTwo(0, 10, 10, 10)
	for i := range 20 {
		apart.Taster = append(apart.Taster, fmt.Sprint(i%4))
	}
	if _, err := ProportionalOddsMixed(apart, 0.95); err == nil || !strings.Contains(err.Error(), "separated") {
		t.Errorf("separated: %v", err)
	}
}

// Two tasters with the same answers cannot show a spread.
func TestProportionalOddsMixedNoSpread(t *testing.T) {
	d := OrdinalData{}
	x := Column{Term: "dose"}
	for i, answers := range [][]float64{{-1, 0, 0, 1, -1, 1, 0, 0, -1, 1}, {-1, 0, 0, 1, -1, 1, 0, 0, -1, 1}} {
		for j, v := range answers {
			d.Response = append(d.Response, v)
			d.Taster = append(d.Taster, fmt.Sprint("T", i))
			x.X = append(x.X, float64(j%3))
		}
	}
	d.Columns = []Column{x}
	f, err := ProportionalOddsMixed(d, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	plain, err := ProportionalOdds(d, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "spread", f.SDTaster, 0, 0)
	near(t, "coefficient", f.Coefs[0].Value, plain.Coefs[0].Value, 1e-9)
	if !hasWarning(f.Warnings, "estimated as zero") || !hasWarning(f.Warnings, "2 tasters") {
		t.Errorf("warnings %q", f.Warnings)
	}
}

// manyVotes draws votes of tasters with their own level on some doses.
func manyVotes(n, tasters, doses int) OrdinalData {
	r := rand.New(rand.NewPCG(7, 11))
	level := make([]float64, tasters)
	for i := range level {
		level[i] = r.NormFloat64()
	}
	d := OrdinalData{}
	labels := make([]string, n)
	for i := range n {
		p, x := r.IntN(tasters), r.IntN(doses)
		u := r.Float64()
		v := math.Log(u/(1-u)) + level[p] + 0.6*float64(x)
		answer := 0.0
		if v > float64(doses)/3+1 {
			answer = 1
		} else if v < float64(doses)/3-1 {
			answer = -1
		}
		d.Response = append(d.Response, answer)
		d.Taster = append(d.Taster, fmt.Sprint(p))
		labels[i] = fmt.Sprint("d", x)
	}
	d.Columns = Dummies("dose", labels)
	return d
}

// The gradient of the Laplace likelihood is that of its values.
func TestLaplaceGradient(t *testing.T) {
	o, err := newOrdinal(manyVotes(120, 6, 3), true)
	if err != nil {
		t.Fatal(err)
	}
	l := newLaplace(o)
	rapid.Check(t, func(t *rapid.T) {
		x := []float64{-1, 0.5, 0, 0, 0}
		for i := range x {
			x[i] += rapid.Float64Range(-0.7, 0.7).Draw(t, "shift")
		}
		_, grad := l.value(x)
		for i := range x {
			const h = 1e-5
			y := append([]float64(nil), x...)
			y[i] += h
			up, _ := l.value(y)
			y[i] -= 2 * h
			down, _ := l.value(y)
			if want := (up - down) / (2 * h); math.Abs(grad[i]-want) > 1e-5*(1+math.Abs(want)) {
				t.Fatalf("at %v parameter %d: slope %v, differences give %v", x, i, grad[i], want)
			}
		}
	})
	if v, g := l.value([]float64{1, -1, 0, 0, 0}); !math.IsInf(v, 1) || g != nil {
		t.Errorf("cuts out of order: value %v, gradient %v", v, g)
	}
}

// Turning the scale around changes signs only.
func TestProportionalOddsTurned(t *testing.T) {
	d := manyVotes(200, 5, 3)
	turned := OrdinalData{Columns: d.Columns, Taster: d.Taster}
	for _, v := range d.Response {
		turned.Response = append(turned.Response, -v)
	}
	a, err := ProportionalOddsMixed(d, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	b, err := ProportionalOddsMixed(turned, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "log likelihood", b.LogLik, a.LogLik, 1e-7)
	near(t, "coefficient", b.Coefs[1].Value, -a.Coefs[1].Value, 1e-6)
	near(t, "cut", b.Cuts[0].Value, -a.Cuts[1].Value, 1e-6)
	near(t, "spread", b.SDTaster, a.SDTaster, 1e-6)
}

func TestDummies(t *testing.T) {
	c := Dummies("form", []string{"tea", "cut", "tea", "peel"})
	if len(c) != 2 || c[0].Level != "peel" || c[1].Level != "tea" || c[1].X[0] != 1 || c[1].X[1] != 0 {
		t.Errorf("columns %+v, want peel and tea against cut", c)
	}
	if got := Dummies("form", nil); len(got) != 0 {
		t.Errorf("no labels give %v", got)
	}
}

func BenchmarkProportionalOdds(b *testing.B) {
	for _, n := range []int{50, 500, 5000, 100000} {
		d := manyVotes(n, max(5, n/50), 8)
		b.Run(fmt.Sprintf("%dvotes", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := ProportionalOdds(d, 0.95); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(fmt.Sprintf("%dvotes_tasters", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := ProportionalOddsMixed(d, 0.95); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
