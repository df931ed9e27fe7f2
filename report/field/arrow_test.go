package field

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// Hand calculation: [[4,.,.],[2,5,.],[-2,3,11]] = L L' with
// L = [[2,.,.],[1,2,.],[-1,2,sqrt 6]].
func TestCholeskyByHand(t *testing.T) {
	a := []float64{4, 0, 0, 2, 5, 0, -2, 3, 11}
	if !Cholesky(a, 3) {
		t.Fatal("positive definite matrix refused")
	}
	want := []float64{2, 0, 0, 1, 2, 0, -1, 2, math.Sqrt(6)}
	for i := range want {
		if math.Abs(a[i]-want[i]) > 1e-14 {
			t.Errorf("L[%d] = %g, want %g", i, a[i], want[i])
		}
	}
}

func TestCholeskyRefuses(t *testing.T) {
	for _, a := range [][]float64{{1, 0, 2, 1}, {0, 0, 0, 1}, {math.NaN(), 0, 0, 1}} {
		if Cholesky(a, 2) {
			t.Errorf("matrix %v taken for positive definite", a)
		}
	}
}

// drawSPD draws a well-conditioned symmetric matrix B B' + I.
func drawSPD(t *rapid.T, n int) []float64 {
	b := rapid.SliceOfN(rapid.Float64Range(-2, 2), n*n, n*n).Draw(t, "b")
	a := make([]float64, n*n)
	for i := range n {
		for j := range n {
			for k := range n {
				a[i*n+j] += b[i*n+k] * b[j*n+k]
			}
		}
		a[i*n+i]++
	}
	return a
}

// The solutions agree with those of gonum's mat package.
func TestSolveAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(t, "n")
		a := drawSPD(t, n)
		b := rapid.SliceOfN(rapid.Float64Range(-5, 5), n, n).Draw(t, "rhs")
		var want mat.VecDense
		if err := want.SolveVec(mat.NewDense(n, n, append([]float64(nil), a...)),
			mat.NewVecDense(n, append([]float64(nil), b...))); err != nil {
			t.Fatal(err)
		}
		if !Cholesky(a, n) {
			t.Fatal("positive definite matrix refused")
		}
		SolveLower(a, n, b)
		SolveUpper(a, n, b)
		for i, x := range b {
			if math.Abs(x-want.AtVec(i)) > 1e-9*(1+math.Abs(x)) {
				t.Fatalf("x[%d] = %g, gonum has %g", i, x, want.AtVec(i))
			}
		}
	})
}
