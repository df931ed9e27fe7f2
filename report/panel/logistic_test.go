package panel

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// sigmoidData reads two columns, x on the log scale.
func sigmoidData(t testing.TB, file, x, y string, where map[string]string) (lnX, values []float64) {
	t.Helper()
	tab := readTable(openTestdata, file)
	tab.where(where)
	lnX, values = tab.numbers(x), tab.numbers(y)
	if tab.err != nil {
		t.Fatal(tab.err)
	}
	for i, v := range lnX {
		lnX[i] = math.Log(v)
	}
	return lnX, values
}

// Standard errors and inverse doses: R 4.2.2 nls on the same data, vcov(), and
// the delta method with derivatives by differences.
func TestSigmoidErrors(t *testing.T) {
	x, y := sigmoidData(t, "puromycin.csv", "conc", "rate", map[string]string{"state": "treated"})
	s, err := Logistic3(x, y, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "SE upper", s.SE.Upper, 20.4029284229, 2e-3)
	near(t, "SE mid", s.SE.Mid, 0.283409124451, 2e-5)
	near(t, "SE scale", s.SE.Scale, 0.224279816383, 2e-5)
	d, err := s.Inverse(100)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "x at 100", d.X, -2.8898641175, 1e-5)
	near(t, "SE", d.SE, 0.0925058657175, 1e-5)
	near(t, "low", d.Low, -3.09912692423, 3e-5)

	x, y = sigmoidData(t, "dnase1.csv", "conc", "density", nil)
	if s, err = Logistic4(x, y, 0.95); err != nil {
		t.Fatal(err)
	}
	near(t, "SE lower", s.SE.Lower, 0.0171997075491, 1e-6)
	near(t, "SE upper", s.SE.Upper, 0.109516349738, 1e-6)
	if d, err = s.Inverse(1); err != nil {
		t.Fatal(err)
	}
	near(t, "x at 1", d.X, 1.17565046173, 1e-6)
	near(t, "SE", d.SE, 0.0177851396178, 1e-6)
}

// Points on a curve give the curve back, rising or falling, and reading the
// dose back from the curve inverts it.
func TestSigmoidRecovers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		four := rapid.Bool().Draw(t, "four")
		sign := rapid.SampledFrom([]float64{1, -1}).Draw(t, "sign")
		want := Sigmoid{Upper: rapid.Float64Range(3, 10).Draw(t, "upper"), Mid: rapid.Float64Range(-1, 1).Draw(t, "mid"),
			Scale: sign * rapid.Float64Range(0.4, 1.2).Draw(t, "scale")}
		if four {
			want.Lower = rapid.Float64Range(-2, 1).Draw(t, "lower")
		}
		var x, y []float64
		for i := range 13 {
			v := float64(i)/2 - 3
			x, y = append(x, v), append(y, want.At(v)+1e-4*float64(i%3-1))
		}
		fit := Logistic3
		if four {
			fit = Logistic4
		}
		s, err := fit(x, y, 0.9)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range x {
			if math.Abs(s.At(v)-want.At(v)) > 1e-3 {
				t.Fatalf("at %v: %v, want %v (%+v)", v, s.At(v), want.At(v), s)
			}
		}
		d, err := s.Inverse(s.At(0.3))
		if err != nil || math.Abs(d.X-0.3) > 1e-9 || d.Low > d.X || d.High < d.X {
			t.Fatalf("inverse %+v, %v; want 0.3", d, err)
		}
	})
}

func TestSigmoidRefuses(t *testing.T) {
	line := []float64{1, 2, 3, 4, 5, 6}
	cases := map[string]struct{ x, y []float64 }{
		"2 doses for 3":     {line[:2], line[:3]},
		"plain numbers":     {[]float64{math.Inf(-1), 1, 2, 3}, line[:4]},
		"3 points at 3":     {line[:3], line[:3]},
		"4 points at 2":     {[]float64{1, 1, 2, 2}, line[:4]},
		"every response is": {line, []float64{2, 2, 2, 2, 2, 2}},
		"no bend":           {line, []float64{2.718, 7.389, 20.086, 54.598, 148.41, 403.43}},
	}
	for says, c := range cases {
		if s, err := Logistic3(c.x, c.y, 0.95); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %+v, error %v", says, s, err)
		}
	}
	if _, err := Logistic3(line, line, 7); err == nil {
		t.Error("level 7 accepted")
	}
	s, err := Logistic3(line, []float64{0.1, 0.9, 2.8, 5.1, 6.2, 6.4}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	for _, y := range []float64{-1, 0, 20, math.NaN()} {
		if _, err := s.Inverse(y); err == nil || !strings.Contains(err.Error(), "ends of the curve") {
			t.Errorf("response %v: error %v", y, err)
		}
	}
}

func BenchmarkLogistic4(b *testing.B) {
	x, y := sigmoidData(b, "dnase1.csv", "conc", "density", nil)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Logistic4(x, y, 0.95); err != nil {
			b.Fatal(err)
		}
	}
}
