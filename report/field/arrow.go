package field

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
	Blocks []block   // where the brews stand
	brews  []float64 // the blocks B, lower triangles; once factored L with B = L L'
	couple []float64 // C, a row for each of the brews' numbers; once factored L^-1 C
	Core   []float64 // S, lower triangle; once factored R with R R' = S - C' B^-1 C
	Size   int       // of the core
}

// A block is the numbers of one brew.
type block struct {
	From, Size int // first of them among the brews' numbers, and how many there are
	at         int // where its square starts in arrow.brews
}

// Square returns the entries of a block of the brews.
func (a *arrow) Square(b block) []float64 { return a.brews[b.at : b.at+b.Size*b.Size] }

// Rows returns the rows of C that belong to a block.
func (a *arrow) Rows(b block) []float64 {
	return a.couple[b.From*a.Size : (b.From+b.Size)*a.Size]
}

// Factor factors the blocks and what they leave of the core, in place. It
// reports false when the matrix is not positive definite, which clipped
// curvatures and proper priors rule out but for rounding. With n numbers in the
// core the cost is n^2/2 products a brew and n^3/6.
func (a *arrow) Factor() bool {
	for _, b := range a.Blocks {
		l := a.Square(b)
		if !Cholesky(l, b.Size) {
			return false
		}
		rows := a.Rows(b)
		for i := range b.Size {
			row := rows[i*a.Size : (i+1)*a.Size]
			for k, v := range l[i*b.Size : i*b.Size+i] {
				// rows of C lie together in memory: whole rows are taken off, not columns gone down
				Subtract(row, v, rows[k*a.Size:(k+1)*a.Size])
			}
			inv := 1 / l[i*b.Size+i]
			for j := range row {
				row[j] *= inv
			}
			a.takeOut(row)
		}
	}
	return Cholesky(a.Core, a.Size)
}

// takeOut takes w w' off the core.
func (a *arrow) takeOut(w []float64) {
	for i, v := range w {
		if v != 0 { // a brew without intensities does not meet the tasters' scales
			Subtract(a.Core[i*a.Size:i*a.Size+i+1], v, w)
		}
	}
}

// Subtract takes c times the numbers of by off those of from.
func Subtract(from []float64, c float64, by []float64) {
	by = by[:len(from)]
	for j := range from {
		from[j] -= c * by[j]
	}
}

// Dot returns the sum of the products of two vectors.
func Dot(a, b []float64) float64 {
	var sum float64
	b = b[:len(a)]
	for i, x := range a {
		sum += x * b[i]
	}
	return sum
}

// LnDiag returns half the ln determinant, the sum of the ln diagonals of the
// factors.
func (a *arrow) LnDiag() float64 {
	var s float64
	for _, b := range a.Blocks {
		l := a.Square(b)
		for i := range b.Size {
			s += math.Log(l[i*b.Size+i])
		}
	}
	for i := range a.Size {
		s += math.Log(a.Core[i*a.Size+i])
	}
	return s
}

// solve replaces v by H^-1 v: with v = (c, b) for core and brews,
//
//	y = L^-1 b,   s = (R R')^-1 (c - W' y),   t = L'^-1 (y - W s)
//
// W being L^-1 C.
func (a *arrow) solve(v []float64) {
	s, t := v[:a.Size], v[a.Size:]
	for _, b := range a.Blocks {
		y := t[b.From : b.From+b.Size]
		SolveLower(a.Square(b), b.Size, y)
		rows := a.Rows(b)
		for i, x := range y {
			Subtract(s, x, rows[i*a.Size:(i+1)*a.Size])
		}
	}
	SolveLower(a.Core, a.Size, s)
	a.Spread(v)
}

// Spread replaces the standard normal vector z by a deviation with the
// covariance of the inverse of a factored arrow: with z = (z_s, z_t) for core
// and brews,
//
//	s = R'^-1 z_s,   t = L'^-1 (z_t - W s)
func (a *arrow) Spread(z []float64) {
	s, t := z[:a.Size], z[a.Size:]
	SolveUpper(a.Core, a.Size, s)
	for _, b := range a.Blocks {
		y := t[b.From : b.From+b.Size]
		rows := a.Rows(b)
		for i := range y {
			y[i] -= Dot(s, rows[i*a.Size:(i+1)*a.Size])
		}
		SolveUpper(a.Square(b), b.Size, y)
	}
}

// temper scales what the answers add to the prior by lambda, H = P + lambda (H
// - P), before it is factored; inv holds the inverse SDs of the prior, whose
// precision P is diagonal.
func (a *arrow) temper(lambda float64, inv []float64) {
	for k := range a.couple {
		a.couple[k] *= lambda
	}
	temperSquare(a.Core, a.Size, lambda, inv[:a.Size])
	for _, b := range a.Blocks {
		from := a.Size + b.From
		temperSquare(a.Square(b), b.Size, lambda, inv[from:from+b.Size])
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

// Cholesky replaces the n x n matrix a by its lower factor L, a = L L',
//
//	L_jj = sqrt(a_jj - sum_k<j L_jk^2)
//	L_ij = (a_ij - sum_k<j L_ik L_jk) / L_jj   for i > j
//
// and reports false when a is not positive definite (or holds a NaN); a is
// then spoilt.
func Cholesky(a []float64, n int) bool {
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

// SolveLower replaces b by the solution x of L x = b, row by row from the top.
func SolveLower(l []float64, n int, b []float64) {
	for i := range n {
		row := l[i*n : i*n+i+1]
		s := b[i]
		for k, v := range row[:i] {
			s -= v * b[k]
		}
		b[i] = s / row[i]
	}
}

// SolveUpper replaces b by the solution x of L' x = b, from the bottom. It
// goes through L by rows, which lie together in memory: once x_i is known its
// part is taken off all rows above.
func SolveUpper(l []float64, n int, b []float64) {
	for i := n - 1; i >= 0; i-- {
		x := b[i] / l[i*n+i]
		b[i] = x
		row := l[i*n : i*n+i]
		for k, v := range row {
			b[k] -= v * x
		}
	}
}
