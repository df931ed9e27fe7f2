package doseresponse

import "math"

// An arrow is the negative Hessian of a field, a symmetric matrix in the shape
// of an arrow: the tasters' numbers do not meet each other, so their block is
// a diagonal D; C couples them to the shared numbers, whose block is S. Only
// the Schur complement S - C' D^-1 C needs a dense factor.
type arrow struct {
	diag   []float64 // D
	couple []float64 // C, a row for each of the tasters' numbers
	schur  []float64 // S, lower triangle; once factored the factor of its Schur complement
}

// size returns the number of shared numbers.
func (a *arrow) size() int { return len(a.couple) / len(a.diag) }

// factor eliminates the tasters' numbers and factors the Schur complement
// S - C' D^-1 C in place. It reports false when that is not positive
// definite, which clipped curvatures and proper priors rule out but for
// rounding. The cost is 2 tasters x shared^2 / 2 + shared^3 / 6 products, a
// tenth of that of the dense matrix for 8 tasters and 8 brews.
func (a *arrow) factor() bool {
	n := a.size()
	for d := range a.diag {
		row := a.couple[d*n : (d+1)*n]
		inv := 1 / a.diag[d]
		for i, c := range row {
			if c == 0 {
				continue
			}
			c *= inv
			out := a.schur[i*n : i*n+i+1]
			for j := range out {
				out[j] -= c * row[j]
			}
		}
	}
	return cholesky(a.schur, n)
}

// lnDiag returns half the ln determinant of the negative Hessian, the sum of
// ln D/2 and of the ln diagonal of the factor of the Schur complement.
func (a *arrow) lnDiag() float64 {
	n := a.size()
	var s float64
	for _, d := range a.diag {
		s += 0.5 * math.Log(d)
	}
	for i := range n {
		s += math.Log(a.schur[i*n+i])
	}
	return s
}

// spread replaces the standard normal vector z by L'^-1 z, a deviation with
// the covariance of the inverse of a factored arrow. With R the factor of the Schur complement
// and z = (z_t, z_s) for tasters and shared numbers,
//
//	s = R'^-1 z_s,   t = D^-1/2 z_t - D^-1 C s
func (a *arrow) spread(z []float64) {
	own := len(a.diag)
	s := z[own:]
	n := len(s)
	solveUpper(a.schur, n, s)
	for d, w := range a.diag {
		row := a.couple[d*n : (d+1)*n]
		var r float64
		for j, c := range row {
			r += c * s[j]
		}
		z[d] = z[d]/math.Sqrt(w) - r/w
	}
}

// temper scales what the answers add to the prior by lambda, H = P + lambda (H
// - P), before it is factored; inv holds the inverse SDs of the prior, whose
// precision P is diagonal.
func (a *arrow) temper(lambda float64, inv []float64) {
	for d, h := range a.diag {
		p := inv[d] * inv[d]
		a.diag[d] = p + lambda*(h-p)
	}
	for k := range a.couple {
		a.couple[k] *= lambda
	}
	n := a.size()
	for i := range n {
		for j := range i {
			a.schur[i*n+j] *= lambda
		}
		p := inv[len(a.diag)+i] * inv[len(a.diag)+i]
		a.schur[i*n+i] = p + lambda*(a.schur[i*n+i]-p)
	}
}
