package panel

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// bfgs minimises a smooth function from start, with inverse as the first guess
// of the inverse second derivatives, by quasi-Newton steps halved until they
// lower the value enough. f returns an infinite value where it is not defined.
// It stops at a small gradient, when no step helps, or when done says so.
func bfgs(start []float64, inverse *mat.SymDense, f func([]float64) (float64, []float64), done func([]float64) bool) []float64 {
	n := len(start)
	x := append([]float64(nil), start...)
	value, grad := f(x)
	h := mat.DenseCopyOf(inverse)
	for range 200 {
		if done(x) {
			return x
		}
		var d mat.VecDense
		d.MulVec(h, mat.NewVecDense(n, grad))
		step := d.RawVector().Data
		fall := dot(grad, step)
		if !(fall > 1e-12*(1+math.Abs(value))) {
			return x
		}
		next, nextValue, nextGrad := search(x, step, value, fall, f)
		if nextGrad == nil {
			return x
		}
		s, y := make([]float64, n), make([]float64, n)
		for i := range s {
			s[i], y[i] = next[i]-x[i], nextGrad[i]-grad[i]
		}
		updateInverse(h, s, y)
		x, value, grad = next, nextValue, nextGrad
	}
	return x
}

// search halves the step against the gradient until the value falls by a
// small part of what the slope promises (Armijo); nil when none does.
func search(x, step []float64, value, fall float64, f func([]float64) (float64, []float64)) ([]float64, float64, []float64) {
	const enough = 1e-4
	for scale := 1.0; scale > 1e-9; scale /= 2 {
		next := append([]float64(nil), x...)
		axpy(-scale, step, next)
		if v, g := f(next); v <= value-enough*scale*fall {
			return next, v, g
		}
	}
	return nil, 0, nil
}

// Armijo's condition keeps the step from being accepted for a fall that is all
// rounding; skipping an update keeps the matrix positive, so that the next
// step goes downhill again.

// updateInverse is the BFGS update for a step s over which the gradient
// changed by y; skipped where the curvature along s is not positive.
func updateInverse(h *mat.Dense, s, y []float64) {
	sy := dot(s, y)
	if !(sy > 1e-12*norm(s)*norm(y)) {
		return
	}
	n := len(s)
	var hy mat.VecDense
	hy.MulVec(h, mat.NewVecDense(n, y))
	v := hy.RawVector().Data
	k := (1 + dot(y, v)/sy) / sy
	for i := range n {
		for j := range n {
			h.Set(i, j, h.At(i, j)+k*s[i]*s[j]-(v[i]*s[j]+s[i]*v[j])/sy)
		}
	}
}
