package panel

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// maxDense is the largest number of levels that the smaller of the two factors
// of a two-way layout may have. The limit keeps the dense matrix of that
// factor within some 30 MB and its inversion within seconds.
const maxDense = 2000

// The two-way layout without interaction, y = row + column + error, is solved
// by sweeping out the factor with more levels: what is left is a small dense
// system for the other factor, and all of its size comes from one pass over
// the observations. Rows are the factor swept out, columns the one kept; which
// of tasters and trials plays which part is decided in trialFit.

// cell is the number of observations of one row in one column.
type cell struct {
	col int
	n   float64
}

// layout is the two-way table of counts and sums of some observations. Only
// the occupied cells are kept, so it grows with the number of observations and
// not with rows times columns.
type layout struct {
	rows, cols int       // levels of both factors
	cells      []cell    // all rows one after the other
	start      []int     // cells of row r are cells[start[r]:start[r+1]]
	rowN, rowY []float64 // number and sum of the observations of each row
	colN, colY []float64 // the same of each column
}

// newLayout counts n observations into rows and columns.
func newLayout(row, col factor, y []float64) *layout {
	t := &layout{rows: row.levels(), cols: col.levels()}
	t.rowN, t.rowY = make([]float64, t.rows), make([]float64, t.rows)
	t.colN, t.colY = make([]float64, t.cols), make([]float64, t.cols)
	for i, v := range y {
		r, c := row.of[i], col.of[i]
		t.rowN[r]++
		t.rowY[r] += v
		t.colN[c]++
		t.colY[c] += v
	}
	t.fillCells(row, col)
	return t
}

// fillCells gathers the observations of each row and merges those of one column.
func (t *layout) fillCells(row, col factor) {
	next := make([]int, t.rows+1)
	for r, n := range t.rowN {
		next[r+1] = next[r] + int(n)
	}
	sorted := make([]int, len(row.of))
	for i, r := range row.of {
		sorted[next[r]] = col.of[i]
		next[r]++
	}
	count := make([]float64, t.cols)
	t.start = make([]int, t.rows+1)
	t.cells = make([]cell, 0, min(len(sorted), t.rows*t.cols))
	from := 0
	for r := range t.rows {
		to := next[r]
		for _, c := range sorted[from:to] {
			if count[c] == 0 {
				t.cells = append(t.cells, cell{col: c})
			}
			count[c]++
		}
		own := t.cells[t.start[r]:]
		for k := range own {
			// put back to 0 cell by cell: clearing the whole row would cost rows times columns
			own[k].n, count[own[k].col] = count[own[k].col], 0
		}
		t.start[r+1] = len(t.cells)
		from = to
	}
}

// row returns the occupied cells of one row.
func (t *layout) row(r int) []cell { return t.cells[t.start[r]:t.start[r+1]] }

// pieces numbers the connected parts of the layout: two columns are in one
// part when a chain of rows links them. Only within a part can columns be
// compared free of row effects [1]. The second list gives the part of each row.
func (t *layout) pieces() (ofCol, ofRow []int, n int) {
	parent := make([]int, t.cols)
	for c := range parent {
		parent[c] = c
	}
	root := func(c int) int {
		for parent[c] != c {
			// halves the path on the way, or long chains of tasters would make it quadratic
			parent[c] = parent[parent[c]]
			c = parent[c]
		}
		return c
	}
	for r := range t.rows {
		own := t.row(r)
		for _, x := range own[1:] {
			parent[root(x.col)] = root(own[0].col)
		}
	}
	ofCol, ofRow = make([]int, t.cols), make([]int, t.rows)
	number := make(map[int]int)
	for c := range ofCol {
		k, ok := number[root(c)]
		if !ok {
			k = len(number)
			number[root(c)] = k
		}
		ofCol[c] = k
	}
	for r := range ofRow {
		ofRow[r] = ofCol[t.row(r)[0].col]
	}
	return ofCol, ofRow, len(number)
}

// additive is the least-squares fit y = row + col + error to a layout, the
// column effects summing to zero within each connected part.
//
//	A     = diag(colN) - sum over rows of n n' / rowN
//	A col = colY - sum over rows of n rowY / rowN
//
// n is the count vector of a row. A has one zero eigenvalue per connected
// part. With P the projection on the indicator vectors of the parts, A + P is
// regular, and A^+ = (A + P)^-1 - P is the Moore-Penrose inverse of A; times the
// error variance it is the covariance of the column effects [1].
type additive struct {
	*layout
	colPiece, rowPiece []int        // connected part of each column and row
	pieces             int          // number of connected parts
	chol               mat.Cholesky // of A + P
	row, col           []float64    // fitted effects
	rss                float64      // residual sum of squares
	df                 int          // observations - rows - columns + parts
}

// fitAdditive fits the layout of the observations y.
func fitAdditive(row, col factor, y []float64) (*additive, error) {
	if col.levels() > maxDense {
		return nil, fmt.Errorf("%d levels in the smaller factor: at most %d can be fitted at once; compare fewer trials "+
			"or tasters", col.levels(), maxDense)
	}
	f := &additive{layout: newLayout(row, col, y)}
	f.colPiece, f.rowPiece, f.pieces = f.layout.pieces()
	a, b := f.reduced()
	// A alone is singular, once for each part
	f.shift(a, 1)
	if !f.chol.Factorize(a) {
		return nil, fmt.Errorf("the two-way table cannot be solved: too little links its trials and tasters")
	}
	if err := f.effects(b); err != nil {
		return nil, err
	}
	for i, v := range y {
		e := v - f.row[row.of[i]] - f.col[col.of[i]]
		f.rss += e * e
	}
	f.df = len(y) - f.rows - f.cols + f.pieces
	return f, nil
}

// reduced returns A and the right-hand side after the rows are absorbed.
func (f *additive) reduced() (*mat.SymDense, []float64) {
	raw := make([]float64, f.cols*f.cols)
	b := make([]float64, f.cols)
	copy(b, f.colY)
	for c, n := range f.colN {
		raw[c*f.cols+c] = n
	}
	for r := range f.rows {
		own := f.layout.row(r)
		mean := f.rowY[r] / f.rowN[r]
		for _, x := range own {
			b[x.col] -= x.n * mean
			w := x.n / f.rowN[r]
			line := raw[x.col*f.cols : (x.col+1)*f.cols]
			for _, z := range own {
				line[z.col] -= w * z.n
			}
		}
	}
	return mat.NewSymDense(f.cols, raw), b
}

// shift adds k P to a matrix over the columns.
func (f *additive) shift(a *mat.SymDense, k float64) {
	size := make([]float64, f.pieces)
	for _, p := range f.colPiece {
		size[p]++
	}
	for i, p := range f.colPiece {
		for j := i; j < f.cols; j++ {
			if f.colPiece[j] == p {
				a.SetSym(i, j, a.At(i, j)+k/size[p])
			}
		}
	}
}

// pseudoInverse is A^+, the covariance of the columns for an error variance of
// 1. Inverting costs several times the fit, so it is left to those who need it.
func (f *additive) pseudoInverse() (*mat.SymDense, error) {
	inv := mat.NewSymDense(f.cols, nil)
	if err := f.chol.InverseTo(inv); err != nil {
		return nil, errUnlinked(err)
	}
	f.shift(inv, -1)
	return inv, nil
}

// errUnlinked says that a system close to singular cannot be trusted.
func errUnlinked(err error) error {
	return fmt.Errorf("the two-way table is too close to unlinked to be solved: %w", err)
}

// effects solves for the column effects, then for the row effects. P b is zero,
// since b sums to zero over the columns of a part, so (A + P)^-1 b is A^+ b.
func (f *additive) effects(b []float64) error {
	var col mat.VecDense
	if err := f.chol.SolveVecTo(&col, mat.NewVecDense(len(b), b)); err != nil {
		return errUnlinked(err)
	}
	f.col = col.RawVector().Data
	f.row = make([]float64, f.rows)
	for r := range f.row {
		sum := f.rowY[r]
		for _, x := range f.layout.row(r) {
			sum -= x.n * f.col[x.col]
		}
		f.row[r] = sum / f.rowN[r]
	}
	return nil
}

// sigma is the residual standard deviation; ok is false without residual
// degrees of freedom.
func (f *additive) sigma() (sd float64, ok bool) {
	if f.df <= 0 {
		return 0, false
	}
	return math.Sqrt(f.rss / float64(f.df)), true
}

// exact tells whether the observations y fit row + column with nothing left
// over but rounding, so that the residual measures no noise.
func (f *additive) exact(y []float64) bool {
	var largest float64
	for _, v := range y {
		largest = max(largest, math.Abs(v))
	}
	// Rounding of the sums leaves a relative residue near 1e-15 per score.
	const residue = 1e-10
	return math.Sqrt(f.rss/float64(len(y))) <= residue*largest
}

// addShares adds k times the mean count vector of a row, n / rowN, to c.
func (f *additive) addShares(c []float64, r int, k float64) {
	for _, x := range f.layout.row(r) {
		c[x.col] += k * x.n / f.rowN[r]
	}
}
