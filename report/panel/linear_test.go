package panel

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// Against gonum's QR on random full-rank columns; a repeated column is dropped
// and changes nothing.
func TestFitLinear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, k := 12, rapid.IntRange(1, 4).Draw(t, "k")
		x := mat.NewDense(n, k, nil)
		columns := make([][]float64, k)
		y := make([]float64, n)
		for j := range columns {
			columns[j] = make([]float64, n)
			for i := range n {
				columns[j][i] = rapid.Float64Range(-5, 5).Draw(t, "x")
				x.Set(i, j, columns[j][i])
			}
		}
		for i := range y {
			y[i] = rapid.Float64Range(-5, 5).Draw(t, "y")
		}
		var qr mat.QR
		qr.Factorize(x)
		if qr.Cond() > 1e6 {
			return
		}
		var want mat.VecDense
		if err := qr.SolveVecTo(&want, false, mat.NewVecDense(n, y)); err != nil {
			return
		}
		f := fitLinear(append(columns, columns[0]), y)
		if len(f.kept) != k || f.position(k) != -1 {
			t.Fatalf("kept %v of %d columns and a copy", f.kept, k)
		}
		for j := range k {
			if math.Abs(f.coef[j]-want.AtVec(j)) > 1e-6*(1+math.Abs(want.AtVec(j))) {
				t.Fatalf("coefficient %d %v, want %v", j, f.coef[j], want.AtVec(j))
			}
		}
	})
}

// By hand: y = 1 + 2x at x = 0, 1, 2 with residuals 1 -2 1: rss 6, slope
// variance factor 1/2, intercept 5/6, covariance -1/2.
func TestFitLinearByHand(t *testing.T) {
	f := fitLinear([][]float64{{1, 1, 1}, {0, 1, 2}}, []float64{2, 1, 6})
	near(t, "intercept", f.coef[0], 1, 1e-12)
	near(t, "slope", f.coef[1], 2, 1e-12)
	near(t, "rss", f.rss, 6, 1e-12)
	a, b := []float64{1, 0}, []float64{0, 1}
	near(t, "var slope", f.covariance(b, b), 0.5, 1e-12)
	near(t, "var intercept", f.covariance(a, a), 5.0/6, 1e-12)
	near(t, "covariance", f.covariance(a, b), -0.5, 1e-12)
	if f.df() != 1 || !f.noisy([]float64{2, 1, 6}) {
		t.Errorf("df %d", f.df())
	}
}
