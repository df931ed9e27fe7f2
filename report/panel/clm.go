package panel

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// logistic is 1/(1+e^-x).
func logistic(x float64) float64 {
	if x < 0 {
		e := math.Exp(x)
		return e / (1 + e)
	}
	return 1 / (1 + math.Exp(-x))
}

// softplus is ln(1+e^x) without overflow.
func softplus(x float64) float64 {
	if x > 0 {
		return x + math.Log1p(math.Exp(-x))
	}
	return math.Log1p(math.Exp(x))
}

// cellTerms are what one category contributes at the upper bound a and the
// lower bound c (cuts less the linear part), P = F(a) - F(c) with F logistic:
// ln P, its first derivatives in a and c, F at both, and the second derivative
// w shared by both, d2/dadc = w, d2/da2 = -w - f(a), d2/dc2 = -w - f(c).
type cellTerms struct {
	logP, da, dc, fa, fc, w float64
}

// terms works these out for one category; a bound at infinity drops out.
func (o *ordinal) terms(category int, cuts []float64, eta float64) cellTerms {
	switch category {
	case 0:
		a := cuts[0] - eta
		f := logistic(a)
		return cellTerms{logP: -softplus(-a), da: 1 - f, fa: f}
	case o.cuts():
		c := cuts[category-1] - eta
		f := logistic(c)
		return cellTerms{logP: -softplus(c), dc: -f, fa: 1, fc: f}
	}
	a, c := cuts[category]-eta, cuts[category-1]-eta
	gap := a - c
	if !(gap > 0) {
		return cellTerms{logP: math.Inf(-1)}
	}
	t := cellTerms{fa: logistic(a), fc: logistic(c)}
	share := -math.Expm1(-gap) // 1 - e^-gap
	t.logP = math.Log(share) - softplus(-a) - softplus(c)
	t.da = 1/share - t.fa
	t.dc = -math.Exp(-gap)/share - t.fc
	t.w = math.Exp(-gap) / (share * share)
	return t
}

// slope is the logistic density F(1-F), the derivative of F, at a point where the distribution is f.
func slope(f float64) float64 { return f * (1 - f) }

// logLik is the log likelihood of the model without tasters, -Inf for cuts out
// of order.
func (o *ordinal) logLik(params []float64) float64 {
	cuts, eta := params[:o.cuts()], o.linear(params[o.cuts():o.params()])
	var l float64
	for _, g := range o.groups {
		l += g.n * o.terms(g.category, cuts, eta[g.row]).logP
	}
	return l
}

// newton returns the gradient of the log likelihood and its negative second
// derivatives (the observed information) in cuts and coefficients. A cut enters
// the upper bound of the category below it and the lower bound of the one
// above; the linear part enters both bounds with a minus sign, so its
// derivatives are sums over the bounds, in which the shared term w cancels.
func (o *ordinal) newton(params []float64) ([]float64, *mat.SymDense) {
	k, p := o.cuts(), o.params()
	cuts, eta := params[:k], o.linear(params[k:p])
	grad := make([]float64, p)
	info := mat.NewSymDense(p, nil)
	add := func(i, j int, v float64) { info.SetSym(i, j, info.At(i, j)+v) }
	for _, g := range o.groups {
		t := o.terms(g.category, cuts, eta[g.row])
		fa, fc := slope(t.fa), slope(t.fc)
		x := o.rows[g.row]
		if g.category < k {
			grad[g.category] += g.n * t.da
			add(g.category, g.category, g.n*(t.w+fa))
		}
		if g.category > 0 {
			grad[g.category-1] += g.n * t.dc
			add(g.category-1, g.category-1, g.n*(t.w+fc))
		}
		if g.category > 0 && g.category < k {
			add(g.category-1, g.category, -g.n*t.w)
		}
		for j, xj := range x {
			grad[k+j] -= g.n * xj * (t.da + t.dc)
			if g.category < k {
				add(g.category, k+j, -g.n*xj*fa)
			}
			if g.category > 0 {
				add(g.category-1, k+j, -g.n*xj*fc)
			}
			for m := j; m < len(x); m++ {
				add(k+j, k+m, g.n*xj*x[m]*(fa+fc))
			}
		}
	}
	return grad, info
}

// errSeparated explains why the estimates run away.
func errSeparated() error {
	return fmt.Errorf("the answers are separated: some column splits them without overlap, so its effect has no finite estimate; use counts per trial, or collect answers that overlap")
}

// fit starts from the cuts of all answers together and no effects, and
// maximises the likelihood by Newton steps, halved while they do not
// improve it; it is concave, so the maximum found is the only one.
func (o *ordinal) fit() ([]float64, *mat.SymDense, error) {
	params := o.start()
	best := o.logLik(params)
	cov := mat.NewSymDense(o.params(), nil)
	for range 60 {
		grad, info := o.newton(params)
		var chol mat.Cholesky
		if !chol.Factorize(info) {
			return nil, nil, errSeparated()
		}
		var step mat.VecDense
		if err := chol.SolveVecTo(&step, mat.NewVecDense(len(grad), grad)); err != nil {
			return nil, nil, errSeparated()
		}
		if gain := dot(grad, step.RawVector().Data); gain < 1e-16*float64(o.n) {
			if err := chol.InverseTo(cov); err != nil || o.separated(cov) {
				return nil, nil, errSeparated()
			}
			params, _ = o.advance(params, step.RawVector().Data, best)
			return params, cov, nil
		}
		params, best = o.advance(params, step.RawVector().Data, best)
	}
	return nil, nil, errSeparated()
}

// advance takes the longest of the step, its half, quarter ... that does not
// lower the likelihood.
func (o *ordinal) advance(params, step []float64, best float64) ([]float64, float64) {
	for scale := 1.0; scale > 1e-10; scale /= 2 {
		next := append([]float64(nil), params...)
		axpy(scale, step, next)
		if l := o.logLik(next); l >= best-1e-12*math.Abs(best) {
			return next, l
		}
	}
	return params, best
}

// separated tells whether an effect over the span of its column is so
// uncertain, in logits, that the likelihood must be flat: with overlap in the
// answers the error stays in single figures.
func (o *ordinal) separated(cov *mat.SymDense) bool {
	const hopeless = 50
	for j, span := range o.ranges() {
		at := o.cuts() + j
		if math.Sqrt(cov.At(at, at))*span > hopeless {
			return true
		}
	}
	return false
}

// ProportionalOdds fits the cumulative logit model [8]
//
//	logit P(answer <= k) = cut_k - sum coef x
//
// by maximum likelihood, all answers taken as independent (tasters ignored).
// Standard errors come from the observed information; P and limits are Wald's.
//
// Minimum: two categories used and more answers than unknowns; below 20
// answers it is a rough check, a warning says so. A category nobody used does
// not exist for the model.
//
// Errors: no answers; columns of another length, not finite, constant or
// following from each other; all answers alike; separated answers, whose
// estimates run away.
func ProportionalOdds(d OrdinalData, level float64) (*OrdinalFit, error) {
	if err := checkLevel(level); err != nil {
		return nil, err
	}
	o, err := newOrdinal(d, false)
	if err != nil {
		return nil, err
	}
	params, cov, err := o.fit()
	if err != nil {
		return nil, err
	}
	f := o.result(params, cov, level)
	f.LogLik = o.logLik(params)
	return f, nil
}
