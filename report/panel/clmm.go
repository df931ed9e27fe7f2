package panel

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// laplace is the ordinal model with a normal taster effect, its integral over
// each taster replaced by Laplace's approximation [9]. With b the effect in
// standard deviations s and g(b) = sum ln P - b^2/2,
//
//	ln L = sum over tasters of g(b^) - ln(H)/2,  H = -g''(b^) = 1 + s^2 sum f(a) + f(c)
//
// b^ the mode of g. Derivatives in all parameters are exact, b^ moving along.
type laplace struct {
	*ordinal
	first []int     // groups of taster i are groups[first[i]:first[i+1]]
	mode  []float64 // last mode of each taster, where the next search starts
}

func newLaplace(o *ordinal) *laplace {
	l := &laplace{ordinal: o, first: make([]int, o.tasters+1), mode: make([]float64, o.tasters)}
	for _, g := range o.groups {
		l.first[g.taster+1]++
	}
	for i := range o.tasters {
		l.first[i+1] += l.first[i]
	}
	return l
}

// Parameters are held as one list: the cuts, the coefficients, and ln s. The
// logarithm keeps s above zero and makes the likelihood rounder in it.

// point is one set of parameters with what is used all the time worked out.
type point struct {
	cuts, eta []float64
	sd        float64
}

func (l *laplace) at(params []float64) point {
	k, p := l.cuts(), l.params()
	return point{cuts: params[:k], eta: l.linear(params[k:p]), sd: math.Exp(params[p])}
}

// settle finds the mode of one taster by Newton steps; g is concave.
func (l *laplace) settle(pt point, taster int) float64 {
	b := l.mode[taster]
	own := l.groups[l.first[taster]:l.first[taster+1]]
	for range 100 {
		var s1, s2 float64
		for _, g := range own {
			t := l.bounds(pt, g, b)
			s1 += g.n * (1 - t.fa - t.fc)
			s2 += g.n * (slope(t.fa) + slope(t.fc))
		}
		step := (-pt.sd*s1 - b) / (1 + pt.sd*pt.sd*s2)
		// Far from the mode the curvature fades; short steps stay safe.
		step = math.Max(-3, math.Min(3, step))
		b += step
		if math.Abs(step) < 1e-11 {
			break
		}
	}
	l.mode[taster] = b
	return b
}

// bounds gives the logistic distribution at both bounds of a group's category.
func (l *laplace) bounds(pt point, g ordinalGroup, b float64) cellTerms {
	eta := pt.eta[g.row] + pt.sd*b
	t := cellTerms{fa: 1}
	if g.category < l.cuts() {
		t.fa = logistic(pt.cuts[g.category] - eta)
	}
	if g.category > 0 {
		t.fc = logistic(pt.cuts[g.category-1] - eta)
	}
	return t
}

// The gradient of one taster's ln L in a parameter p follows from the chain
// rule; b^ moves with p so that g'(b^) stays zero, hence
//
//	db^/dp  = (d2g/db dp) / H
//	d ln L  = dg/dp - (dH/dp + dH/db db^/dp) / (2H)
//
// All sums run over the categories' bounds: with u = 1 - F(a) - F(c) the first
// derivative of ln P in the linear part is -u, the second -(f(a) + f(c)), the
// third f'(a) + f'(c); f is the logistic density.

// value returns the negative log likelihood and its gradient; an infinite
// value, and no gradient, for cuts out of order.
func (l *laplace) value(params []float64) (float64, []float64) {
	pt := l.at(params)
	for k := 1; k < l.cuts(); k++ {
		if !(pt.cuts[k] > pt.cuts[k-1]) {
			return math.Inf(1), nil
		}
	}
	var sum float64
	grad := make([]float64, l.params()+1)
	work := &tasterSums{direct: make([]float64, len(grad)), curve: make([]float64, len(grad)), cross: make([]float64, len(grad))}
	for i := range l.tasters {
		b := l.settle(pt, i)
		work.reset()
		for _, g := range l.groups[l.first[i]:l.first[i+1]] {
			l.addGroup(work, pt, g, b)
		}
		sum += work.close(pt.sd, b, grad)
	}
	for i := range grad {
		grad[i] = -grad[i]
	}
	return -sum, grad
}

// tasterSums gathers one taster's sums, per parameter: direct = dg, curve = dH
// with b held, cross = d2g/db dparam.
type tasterSums struct {
	direct, curve, cross []float64
	logP, s1, s2, s3     float64
}

func (w *tasterSums) reset() {
	clear(w.direct)
	clear(w.curve)
	clear(w.cross)
	w.logP, w.s1, w.s2, w.s3 = 0, 0, 0, 0
}

// addGroup adds n equal answers. f' = f (1 - 2F) is the slope of the density.
func (l *laplace) addGroup(w *tasterSums, pt point, g ordinalGroup, b float64) {
	k := l.cuts()
	t := l.terms(g.category, pt.cuts, pt.eta[g.row]+pt.sd*b)
	fa, fc := slope(t.fa), slope(t.fc)
	bendA, bendC := fa*(1-2*t.fa), fc*(1-2*t.fc)
	v := pt.sd * pt.sd
	w.logP += g.n * t.logP
	w.s1 += g.n * (t.da + t.dc)
	w.s2 += g.n * (fa + fc)
	w.s3 += g.n * (bendA + bendC)
	if g.category < k {
		w.direct[g.category] += g.n * t.da
		w.curve[g.category] += g.n * v * bendA
		w.cross[g.category] += g.n * pt.sd * fa
	}
	if g.category > 0 {
		w.direct[g.category-1] += g.n * t.dc
		w.curve[g.category-1] += g.n * v * bendC
		w.cross[g.category-1] += g.n * pt.sd * fc
	}
	for j, x := range l.rows[g.row] {
		w.direct[k+j] -= g.n * x * (t.da + t.dc)
		w.curve[k+j] -= g.n * x * v * (bendA + bendC)
		w.cross[k+j] -= g.n * x * pt.sd * (fa + fc)
	}
}

// close adds the taster's part of the gradient and returns that of ln L. The
// last parameter is ln sd, so its derivatives carry a factor sd.
func (w *tasterSums) close(sd, b float64, grad []float64) float64 {
	h := 1 + sd*sd*w.s2
	last := len(grad) - 1
	w.direct[last] = -sd * b * w.s1
	w.curve[last] = 2*sd*sd*w.s2 - sd*sd*sd*b*w.s3
	w.cross[last] = -sd*w.s1 - sd*sd*b*w.s2
	curveB := -sd * sd * sd * w.s3 // dH/db
	for i := range grad {
		moved := w.cross[i] / h // db^/dparam
		grad[i] += w.direct[i] - (w.curve[i]+curveB*moved)/(2*h)
	}
	return w.logP - b*b/2 - math.Log(h)/2
}

// ProportionalOddsMixed is ProportionalOdds with each taster's own level, a
// normal deviate on the logit scale:
//
//	logit P(answer <= k) = cut_k - sum coef x - taster,  taster ~ N(0, SDTaster^2)
//
// by Laplace's approximation, good when tasters gave several answers each.
// Cuts and coefficients hold for the average taster. With SDTaster estimated
// as zero the answer is that of ProportionalOdds, and a warning says so.
//
// Minimum: as ProportionalOdds, and two tasters; under 5 a warning.
//
// Errors: as ProportionalOdds; no taster names; one taster.
func ProportionalOddsMixed(d OrdinalData, level float64) (*OrdinalFit, error) {
	if err := checkLevel(level); err != nil {
		return nil, err
	}
	o, err := newOrdinal(d, true)
	if err != nil {
		return nil, err
	}
	if o.tasters < 2 {
		return nil, fmt.Errorf("one taster: tasters cannot differ; use the model without tasters")
	}
	fixed, fixedCov, err := o.fit()
	if err != nil {
		return nil, err
	}
	l := newLaplace(o)
	params, cov, err := l.maximise(fixed, fixedCov)
	if err != nil {
		return nil, err
	}
	if params == nil {
		return o.noSpread(fixed, fixedCov, level), nil
	}
	f := o.result(params, cov, level)
	value, _ := l.value(params)
	f.LogLik, f.SDTaster, f.Tasters = -value, math.Exp(params[o.params()]), o.tasters
	f.warnTasters()
	return f, nil
}

// noSpread is the fit when tasters do not differ.
func (o *ordinal) noSpread(params []float64, cov *mat.SymDense, level float64) *OrdinalFit {
	f := o.result(params, cov, level)
	f.LogLik, f.Tasters = o.logLik(params), o.tasters
	f.Warnings = append(f.Warnings, "no difference between tasters shows beside the noise: their spread is estimated as zero")
	f.warnTasters()
	return f
}

func (f *OrdinalFit) warnTasters() {
	if f.Tasters < 5 {
		f.Warnings = append(f.Warnings, fmt.Sprintf("%s: how much people differ is hardly known from so few", plural(f.Tasters, "taster")))
	}
}

// The climb starts at the fit without tasters and s = 1, about the spread found
// among people on the logit scale, with the covariance of that fit as the first
// guess of curvature. The quasi-Newton steps bring it near; Newton steps with
// second derivatives by differences then settle the last digits and give the
// standard errors.

// maximise climbs from the fit without tasters; nil parameters mean that the
// spread between tasters went to zero.
func (l *laplace) maximise(fixed []float64, fixedCov *mat.SymDense) ([]float64, *mat.SymDense, error) {
	p := l.params()
	start := append(append([]float64(nil), fixed...), 0)
	inverse := mat.NewSymDense(p+1, nil)
	for i := range p {
		for j := i; j < p; j++ {
			inverse.SetSym(i, j, fixedCov.At(i, j))
		}
	}
	inverse.SetSym(p, p, 1/float64(l.tasters))
	// Below e^-5 the spread cannot be told from none on the logit scale.
	const vanished = -5
	params := bfgs(start, inverse, l.value, func(x []float64) bool { return x[p] < vanished })
	if value, _ := l.value(params); params[p] < vanished || value > -l.logLik(fixed) {
		return nil, nil, nil
	}
	return l.polish(params)
}

// polish takes Newton steps with second derivatives from differences of the
// exact gradient, and returns the covariance.
func (l *laplace) polish(params []float64) ([]float64, *mat.SymDense, error) {
	cov := mat.NewSymDense(len(params), nil)
	for range 20 {
		value, grad := l.value(params)
		info := l.information(params)
		var chol mat.Cholesky
		if info == nil || !chol.Factorize(info) || chol.InverseTo(cov) != nil {
			return nil, nil, errSeparated()
		}
		var step mat.VecDense
		step.MulVec(cov, mat.NewVecDense(len(grad), grad))
		if dot(grad, step.RawVector().Data) < 1e-14*float64(l.n) {
			if l.separated(cov) {
				return nil, nil, errSeparated()
			}
			return params, cov, nil
		}
		next := append([]float64(nil), params...)
		axpy(-1, step.RawVector().Data, next)
		if v, _ := l.value(next); v > value+1e-9*math.Abs(value) {
			return nil, nil, fmt.Errorf("the ordinal regression with tasters does not settle: too few answers overlap; use the model without tasters")
		}
		params = next
	}
	return nil, nil, fmt.Errorf("the ordinal regression with tasters does not settle: use the model without tasters")
}

// information is the matrix of second derivatives, by central differences.
func (l *laplace) information(params []float64) *mat.SymDense {
	n := len(params)
	raw := make([][]float64, n)
	for i := range n {
		h := 1e-4 * math.Max(1, math.Abs(params[i]))
		x := append([]float64(nil), params...)
		x[i] = params[i] + h
		_, up := l.value(x)
		x[i] = params[i] - h
		_, down := l.value(x)
		if up == nil || down == nil {
			return nil
		}
		raw[i] = make([]float64, n)
		for j := range n {
			raw[i][j] = (up[j] - down[j]) / (2 * h)
		}
	}
	info := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			info.SetSym(i, j, (raw[i][j]+raw[j][i])/2)
		}
	}
	return info
}
