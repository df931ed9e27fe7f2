package doseresponse

import "math"

// The matrices here are small (1 to 50 rows), symmetric and flat in row
// order; only the lower triangle is read and written.

// cholesky replaces the n x n matrix a by its lower factor L, a = L L',
//
//	L_jj = sqrt(a_jj - sum_k<j L_jk^2)
//	L_ij = (a_ij - sum_k<j L_ik L_jk) / L_jj   for i > j
//
// and reports false when a is not positive definite (or holds a NaN); a is
// then spoilt.
func cholesky(a []float64, n int) bool {
	for j := range n {
		row := a[j*n : j*n+j+1]
		d := row[j]
		for _, v := range row[:j] {
			d -= v * v
		}
		if !(d > 0) {
			return false
		}
		d = math.Sqrt(d)
		row[j] = d
		inv := 1 / d
		for i := j + 1; i < n; i++ {
			under := a[i*n : i*n+j+1]
			s := under[j]
			for k, v := range row[:j] {
				s -= under[k] * v
			}
			under[j] = s * inv
		}
	}
	return true
}

// solveLower replaces b by the solution x of L x = b, row by row from the top.
func solveLower(l []float64, n int, b []float64) {
	for i := range n {
		row := l[i*n : i*n+i+1]
		s := b[i]
		for k, v := range row[:i] {
			s -= v * b[k]
		}
		b[i] = s / row[i]
	}
}

// solveUpper replaces b by the solution x of L' x = b, from the bottom. It
// goes through L by rows, which lie together in memory: once x_i is known its
// part is taken off all rows above.
func solveUpper(l []float64, n int, b []float64) {
	for i := n - 1; i >= 0; i-- {
		x := b[i] / l[i*n+i]
		b[i] = x
		row := l[i*n : i*n+i]
		for k, v := range row {
			b[k] -= v * x
		}
	}
}
