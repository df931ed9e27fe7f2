package panel

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"
)

// fewTasters is the profile when tasters are the smaller factor. With A the
// taster side of the two-way table after the trials are swept out, and
// A = Q diag(l) Q',
//
//	log det = log det(diag(trial counts)) + sum log(1 + r l_i)
//	rss     = rss of trials alone - sum r c_i^2 / (1 + r l_i),  c = Q'b
//
// so each further ratio r costs one pass over the tasters.
type fewTasters struct {
	*layout            // rows are trials, columns tasters
	l, c     []float64 // eigenvalues, rotated right-hand side
	q        mat.Dense
	logCount float64
	within   float64 // sum of squares around the trial means
	n        float64
}

// newFewTasters sweeps out the trials and takes the eigenvalues once.
func newFewTasters(tasters, trials factor, y []float64) *fewTasters {
	p := &fewTasters{layout: newLayout(trials, tasters, y), n: float64(len(y))}
	f := &additive{layout: p.layout}
	a, b := f.reduced()
	var e mat.EigenSym
	// EigenSym only fails on values that are not finite, refused before.
	e.Factorize(a, true)
	p.l = e.Values(nil)
	e.VectorsTo(&p.q)
	var c mat.VecDense
	c.MulVec(p.q.T(), mat.NewVecDense(len(b), b))
	p.c = c.RawVector().Data
	for i, l := range p.l {
		// The smallest eigenvalue is zero by construction, up to rounding.
		p.l[i] = math.Max(l, 0)
	}
	for _, n := range p.rowN {
		p.logCount += math.Log(n)
	}
	for i, v := range y {
		t := trials.of[i]
		d := v - p.rowY[t]/p.rowN[t]
		p.within += d * d
	}
	return p
}

func (p *fewTasters) freedom() float64 { return p.n - float64(p.rows) }

// terms sums over the eigenvalues.
func (p *fewTasters) terms(r float64) (logDet, rss float64) {
	logDet, rss = p.logCount, p.within
	for i, l := range p.l {
		logDet += math.Log1p(r * l)
		rss -= r * p.c[i] * p.c[i] / (1 + r*l)
	}
	return logDet, math.Max(rss, 0)
}

// slopes are the derivatives of the two sums.
func (p *fewTasters) slopes(r float64) (logDet, rss float64) {
	for i, l := range p.l {
		logDet += l / (1 + r*l)
		rss -= p.c[i] * p.c[i] / ((1 + r*l) * (1 + r*l))
	}
	return logDet, rss
}

// solution takes the predicted taster levels, Q diag(r/(1+rl)) c, off the trial
// means; the covariance is that of the plain means plus what the levels leave
// uncertain.
func (p *fewTasters) solution(r float64) ([]float64, *mat.SymDense) {
	scaled := make([]float64, p.cols)
	for i, l := range p.l {
		scaled[i] = r / (1 + r*l)
	}
	// g = Q diag(r/(1+rl)) Q', the covariance of the predicted taster levels.
	var qs, g mat.Dense
	qs.Mul(&p.q, mat.NewDiagDense(p.cols, scaled))
	g.Mul(&qs, p.q.T())
	for i := range scaled {
		scaled[i] *= p.c[i]
	}
	var u mat.VecDense
	u.MulVec(&p.q, mat.NewVecDense(p.cols, scaled))

	shares := mat.NewDense(p.rows, p.cols, nil)
	mean := make([]float64, p.rows)
	for t := range mean {
		mean[t] = p.rowY[t] / p.rowN[t]
		for _, x := range p.layout.row(t) {
			shares.Set(t, x.col, x.n/p.rowN[t])
			mean[t] -= x.n / p.rowN[t] * u.AtVec(x.col)
		}
	}
	var half, full mat.Dense
	half.Mul(shares, &g)
	full.Mul(&half, shares.T())
	cov := mat.NewSymDense(p.rows, nil)
	for i := range p.rows {
		for j := i; j < p.rows; j++ {
			v := full.At(i, j)
			if i == j {
				v += 1 / p.rowN[i]
			}
			cov.SetSym(i, j, v)
		}
	}
	return mean, cov
}

// manyTasters is the profile when trials are the smaller factor. Tasters with
// the same number of scores share the factor r/(1+rn), so their sums of
// products are gathered once and each ratio costs one pass over the different
// numbers of scores:
//
//	X'V^-1X = diag(trial counts) - sum over n of r/(1+rn) M_n
type manyTasters struct {
	colN, colY []float64
	sizes      []sizeGroup
	yy, n      float64
}

// sizeGroup holds the sums over the tasters with n scores each: m of n n', b of
// n times the taster's sum, yy of the squared sums.
type sizeGroup struct {
	n, tasters float64
	m          []float64
	b          []float64
	yy         float64
}

// newManyTasters gathers the sums in one pass over the tasters.
func newManyTasters(tasters, trials factor, y []float64) *manyTasters {
	t := newLayout(tasters, trials, y)
	p := &manyTasters{colN: t.colN, colY: t.colY, n: float64(len(y))}
	for _, v := range y {
		p.yy += v * v
	}
	at := make(map[float64]int)
	for r := range t.rows {
		n := t.rowN[r]
		k, ok := at[n]
		if !ok {
			k = len(p.sizes)
			at[n] = k
			p.sizes = append(p.sizes, sizeGroup{n: n, m: make([]float64, t.cols*t.cols), b: make([]float64, t.cols)})
		}
		p.sizes[k].add(t.row(r), t.rowY[r], t.cols)
	}
	// in one order, so that adding up gives the same last digit whoever was logged first
	sort.Slice(p.sizes, func(i, j int) bool { return p.sizes[i].n < p.sizes[j].n })
	return p
}

// add counts one taster in.
func (g *sizeGroup) add(cells []cell, sum float64, cols int) {
	g.tasters++
	g.yy += sum * sum
	for _, x := range cells {
		g.b[x.col] += x.n * sum
		line := g.m[x.col*cols : (x.col+1)*cols]
		for _, z := range cells {
			line[z.col] += x.n * z.n
		}
	}
}

func (p *manyTasters) freedom() float64 { return p.n - float64(len(p.colN)) }

// normal returns the factored X'V^-1X, X'V^-1y, y'V^-1y and log det V.
func (p *manyTasters) normal(r float64) (chol *mat.Cholesky, b []float64, yy, logDet float64) {
	k := len(p.colN)
	a := make([]float64, k*k)
	b = append(b, p.colY...)
	yy = p.yy
	for i, n := range p.colN {
		a[i*k+i] = n
	}
	for _, g := range p.sizes {
		f := r / (1 + r*g.n)
		logDet += g.tasters * math.Log1p(r*g.n)
		yy -= f * g.yy
		axpy(-f, g.m, a)
		axpy(-f, g.b, b)
	}
	chol = new(mat.Cholesky)
	if !chol.Factorize(mat.NewSymDense(k, a)) {
		return nil, b, yy, logDet
	}
	return chol, b, yy, logDet
}

// terms uses rss = y'V^-1y - b'x with x the solution of X'V^-1X x = b.
func (p *manyTasters) terms(r float64) (logDet, rss float64) {
	chol, b, yy, logDet := p.normal(r)
	if chol == nil {
		// Only at ratios so large that the table is singular in rounding.
		return math.Inf(1), yy
	}
	var x mat.VecDense
	v := mat.NewVecDense(len(b), b)
	// The error only reports a poor condition number; the search moves away.
	_ = chol.SolveVecTo(&x, v)
	return logDet + chol.LogDet(), math.Max(yy-mat.Dot(v, &x), 0)
}

// slopes uses d log det A = tr(A^-1 dA) and, x the solution of A x = b, d rss =
// d yy - 2 x'db + x'dA x.
func (p *manyTasters) slopes(r float64) (logDet, rss float64) {
	x, inverse := p.solution(r)
	k := len(x)
	fall := make([]float64, k*k) // -dA
	for _, g := range p.sizes {
		f := 1 / ((1 + r*g.n) * (1 + r*g.n)) // d(r/(1+rn))/dr
		logDet += g.tasters * g.n / (1 + r*g.n)
		rss += f * (2*dot(x, g.b) - g.yy)
		axpy(f, g.m, fall)
	}
	for i := range k {
		line := fall[i*k : (i+1)*k]
		rss -= x[i] * dot(line, x)
		for j, v := range line {
			logDet -= v * inverse.At(i, j)
		}
	}
	return logDet, rss
}

// solution solves the normal equations X'V^-1X mean = X'V^-1y.
func (p *manyTasters) solution(r float64) ([]float64, *mat.SymDense) {
	chol, b, _, _ := p.normal(r)
	cov := mat.NewSymDense(len(b), nil)
	// as above: only the condition number is reported
	_ = chol.InverseTo(cov)
	var x mat.VecDense
	x.MulVec(cov, mat.NewVecDense(len(b), b))
	return x.RawVector().Data, cov
}
