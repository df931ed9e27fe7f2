package panel

import "math"

// The fits of assays, curves and positions are small, a few hundred values and
// columns at most; accuracy and clear handling of redundant columns count for
// more than speed, hence orthogonal columns one by one (Gram and Schmidt) and
// not the normal equations.

// linearFit is a least-squares fit by orthogonal columns. Columns that follow
// from earlier ones are dropped, so redundant sets of 0/1 columns are fine;
// their order decides which are kept.
type linearFit struct {
	kept []int       // indices of the columns used
	r    [][]float64 // upper triangle: column kept[j] = sum over i <= j of r[j][i] q_i
	coef []float64   // one for each kept column
	rss  float64
	n    int
}

// fitLinear regresses y on the columns.
func fitLinear(columns [][]float64, y []float64) *linearFit {
	f := &linearFit{n: len(y)}
	var q [][]float64
	var z []float64
	rest := append([]float64(nil), y...)
	for j, c := range columns {
		v := append([]float64(nil), c...)
		r := make([]float64, len(q)+1)
		// Twice is enough for full orthogonality (Kahan and Parlett).
		for range 2 {
			for i, u := range q {
				k := dot(u, v)
				r[i] += k
				axpy(-k, u, v)
			}
		}
		size := norm(v)
		// what is left of a redundant column is rounding; scaled up to length 1 it would be fitted to noise
		if size <= 1e-10*norm(c) || size == 0 {
			continue
		}
		for i := range v {
			v[i] /= size
		}
		r[len(q)] = size
		k := dot(v, rest)
		axpy(-k, v, rest)
		q, z = append(q, v), append(z, k)
		f.kept, f.r = append(f.kept, j), append(f.r, r)
	}
	f.rss = dot(rest, rest)
	f.coef = f.back(z)
	return f
}

// df is the number of values less the columns used.
func (f *linearFit) df() int { return f.n - len(f.kept) }

// back solves R x = z for the triangle R.
func (f *linearFit) back(z []float64) []float64 {
	x := append([]float64(nil), z...)
	for j := len(x) - 1; j >= 0; j-- {
		x[j] /= f.r[j][j]
		for i := range j {
			x[i] -= f.r[j][i] * x[j]
		}
	}
	return x
}

// position finds column j among those kept, -1 if it was dropped.
func (f *linearFit) position(j int) int {
	for i, k := range f.kept {
		if k == j {
			return i
		}
	}
	return -1
}

// covariance returns a'(X'X)^-1 b for contrasts over the kept columns:
// the inner product of R'^-1 a and R'^-1 b.
func (f *linearFit) covariance(a, b []float64) float64 {
	return dot(f.forward(a), f.forward(b))
}

// forward solves R' x = a.
func (f *linearFit) forward(a []float64) []float64 {
	x := append([]float64(nil), a...)
	for j := range x {
		for i := range j {
			x[j] -= f.r[j][i] * x[i]
		}
		x[j] /= f.r[j][j]
	}
	return x
}

// indicators returns one 0/1 column for each level.
func (f factor) indicators() [][]float64 {
	columns := make([][]float64, f.levels())
	for l := range columns {
		columns[l] = make([]float64, len(f.of))
	}
	for i, l := range f.of {
		columns[l][i] = 1
	}
	return columns
}

// noisy tells whether a residual is more than rounding beside the values.
func (f *linearFit) noisy(y []float64) bool {
	return math.Sqrt(f.rss) > 1e-10*norm(y)
}

// dot is the inner product.
func dot(a, b []float64) float64 {
	var s float64
	for i, v := range a {
		s += v * b[i]
	}
	return s
}

// norm is the Euclidean length.
func norm(a []float64) float64 { return math.Sqrt(dot(a, a)) }

// axpy adds k times x to y.
func axpy(k float64, x, y []float64) {
	for i, v := range x {
		y[i] += k * v
	}
}
