package doseresponse

import (
	"math"
)

// An arrow is the negative Hessian of a field, a symmetric matrix in the shape
// of an arrow. The numbers of one brew do not meet those of another: they make
// small blocks B along the diagonal. C couples them to the core, the numbers of
// tasters, methods and scale, whose block S is dense. Taking the brews out first
// leaves one factor of the size of the core, and so the cost grows in proportion
// to the number of brews, not with its cube.
//
// Vectors hold the core first and then the brews, block by block.
type arrow struct {
	blocks []block   // where the brews stand
	brews  []float64 // the blocks B, lower triangles; once factored L with B = L L'
	couple []float64 // C, a row for each of the brews' numbers; once factored L^-1 C
	core   []float64 // S, lower triangle; once factored R with R R' = S - C' B^-1 C
	size   int       // of the core
}

// A block is the numbers of one brew.
type block struct {
	from, size int // first of them among the brews' numbers, and how many there are
	at         int // where its square starts in arrow.brews
}

// square returns the entries of a block of the brews.
func (a *arrow) square(b block) []float64 { return a.brews[b.at : b.at+b.size*b.size] }

// rows returns the rows of C that belong to a block.
func (a *arrow) rows(b block) []float64 {
	return a.couple[b.from*a.size : (b.from+b.size)*a.size]
}

// factor factors the blocks and what they leave of the core, in place. It
// reports false when the matrix is not positive definite, which clipped
// curvatures and proper priors rule out but for rounding. With n numbers in the
// core the cost is n^2/2 products a brew and n^3/6.
func (a *arrow) factor() bool {
	for _, b := range a.blocks {
		l := a.square(b)
		if !cholesky(l, b.size) {
			return false
		}
		rows := a.rows(b)
		for i := range b.size {
			row := rows[i*a.size : (i+1)*a.size]
			for k, v := range l[i*b.size : i*b.size+i] {
				// rows of C lie together in memory: whole rows are taken off, not columns gone down
				subtract(row, v, rows[k*a.size:(k+1)*a.size])
			}
			inv := 1 / l[i*b.size+i]
			for j := range row {
				row[j] *= inv
			}
			a.takeOut(row)
		}
	}
	return cholesky(a.core, a.size)
}

// takeOut takes w w' off the core.
func (a *arrow) takeOut(w []float64) {
	for i, v := range w {
		if v != 0 { // a brew without intensities does not meet the tasters' scales
			subtract(a.core[i*a.size:i*a.size+i+1], v, w)
		}
	}
}

// subtract takes c times the numbers of by off those of from.
func subtract(from []float64, c float64, by []float64) {
	by = by[:len(from)]
	for j := range from {
		from[j] -= c * by[j]
	}
}

// dot returns the sum of the products of two vectors.
func dot(a, b []float64) float64 {
	var sum float64
	b = b[:len(a)]
	for i, x := range a {
		sum += x * b[i]
	}
	return sum
}

// lnDiag returns half the ln determinant, the sum of the ln diagonals of the
// factors.
func (a *arrow) lnDiag() float64 {
	var s float64
	for _, b := range a.blocks {
		l := a.square(b)
		for i := range b.size {
			s += math.Log(l[i*b.size+i])
		}
	}
	for i := range a.size {
		s += math.Log(a.core[i*a.size+i])
	}
	return s
}

// solve replaces v by H^-1 v: with v = (c, b) for core and brews,
//
//	y = L^-1 b,   s = (R R')^-1 (c - W' y),   t = L'^-1 (y - W s)
//
// W being L^-1 C.
func (a *arrow) solve(v []float64) {
	s, t := v[:a.size], v[a.size:]
	for _, b := range a.blocks {
		y := t[b.from : b.from+b.size]
		solveLower(a.square(b), b.size, y)
		rows := a.rows(b)
		for i, x := range y {
			subtract(s, x, rows[i*a.size:(i+1)*a.size])
		}
	}
	solveLower(a.core, a.size, s)
	a.spread(v)
}

// spread replaces the standard normal vector z by a deviation with the
// covariance of the inverse of a factored arrow: with z = (z_s, z_t) for core
// and brews,
//
//	s = R'^-1 z_s,   t = L'^-1 (z_t - W s)
func (a *arrow) spread(z []float64) {
	s, t := z[:a.size], z[a.size:]
	solveUpper(a.core, a.size, s)
	for _, b := range a.blocks {
		y := t[b.from : b.from+b.size]
		rows := a.rows(b)
		for i := range y {
			y[i] -= dot(s, rows[i*a.size:(i+1)*a.size])
		}
		solveUpper(a.square(b), b.size, y)
	}
}

// temper scales what the answers add to the prior by lambda, H = P + lambda (H
// - P), before it is factored; inv holds the inverse SDs of the prior, whose
// precision P is diagonal.
func (a *arrow) temper(lambda float64, inv []float64) {
	for k := range a.couple {
		a.couple[k] *= lambda
	}
	temperSquare(a.core, a.size, lambda, inv[:a.size])
	for _, b := range a.blocks {
		from := a.size + b.from
		temperSquare(a.square(b), b.size, lambda, inv[from:from+b.size])
	}
}

// temperSquare tempers one square of n rows.
func temperSquare(h []float64, n int, lambda float64, inv []float64) {
	for i := range n {
		for j := range i {
			h[i*n+j] *= lambda
		}
		p := inv[i] * inv[i]
		h[i*n+i] = p + lambda*(h[i*n+i]-p)
	}
}

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
		// written so that NaN fails too
		if !(d > 0) {
			return false
		}
		d = math.Sqrt(d)
		row[j] = d
		// one division for a column and not one for each row: divisions are slow
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
