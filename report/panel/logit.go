package panel

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// DoseCount is how many of Total answered yes at a dose.
type DoseCount struct {
	Group     string  // own intercept for each, a taster group or a method; may be empty
	Dose      float64 // on the scale of the straight line, usually ln dose
	Successes int     // yes answers
	Total     int     // answers in all, at least 1
}

// DoseLogit is a fitted binomial line, logit P = intercept_group + Slope dose.
type DoseLogit struct {
	Groups     []string  // in order of first appearance
	Intercepts []float64 // logit at dose 0, one for each group
	Slope      float64   // logits per unit of dose
	SlopeSE    float64   // standard error, from the expected information
	Deviance   float64   // twice the shortfall of the log likelihood behind a perfect fit
	DF         int       // doses less unknowns
	Warnings   []string  // what puts the line in doubt, in words

	cov *mat.SymDense // intercepts, then slope
}

// DoseAt is a dose with its error.
type DoseAt struct {
	Dose float64 // on the scale of the fitted doses
	SE   float64 // standard error, delta method
	Low  float64 // normal limits at the level asked
	High float64 // as Low
}

// FitLogit fits a binomial logit line with a common slope and one intercept
// per group by maximum likelihood [14].
//
// Minimum: two doses, and answers that overlap: some no at a dose where others
// said yes.
//
// Errors: counts that cannot be, doses not finite, one dose only, all answers
// alike or split by dose without overlap.
func FitLogit(counts []DoseCount) (*DoseLogit, error) {
	for _, c := range counts {
		if c.Total < 1 || c.Successes < 0 || c.Successes > c.Total {
			return nil, fmt.Errorf("%d of %d at dose %v: give a count from 0 to the total, and a total of at least 1", c.Successes, c.Total, c.Dose)
		}
		if !plain(c.Dose) {
			return nil, fmt.Errorf("dose %v: give a plain number and leave a dose of zero out of a log model", c.Dose)
		}
	}
	if len(counts) < 2 {
		return nil, fmt.Errorf("%d doses: a line needs at least two", len(counts))
	}
	groups := newFactor(len(counts), func(i int) string { return counts[i].Group })
	columns := groups.indicators()
	dose := make([]float64, len(counts))
	for i, c := range counts {
		dose[i] = c.Dose
	}
	columns = append(columns, dose)
	l := &logitFit{columns: columns, counts: counts}
	if len(fitLinear(columns, dose).kept) < len(columns) {
		return nil, fmt.Errorf("every group has one dose only: give at least two doses of one")
	}
	params, cov, err := l.fit()
	if err != nil {
		return nil, err
	}
	k := groups.levels()
	r := &DoseLogit{Groups: groups.names, Intercepts: params[:k], Slope: params[k], cov: cov}
	r.SlopeSE = math.Sqrt(cov.At(k, k))
	r.Deviance, r.DF = l.deviance(params), len(counts)-len(params)
	r.warn()
	return r, nil
}

// logitFit is the likelihood of a binomial line.
type logitFit struct {
	columns [][]float64
	counts  []DoseCount
}

// eta is the linear part of observation i.
func (l *logitFit) eta(params []float64, i int) float64 {
	var s float64
	for j, c := range l.columns {
		s += params[j] * c[i]
	}
	return s
}

func (l *logitFit) logLik(params []float64) float64 {
	var sum float64
	for i, c := range l.counts {
		e := l.eta(params, i)
		sum -= float64(c.Successes)*softplus(-e) + float64(c.Total-c.Successes)*softplus(e)
	}
	return sum
}

// newton below is also Fisher scoring, since for logits the observed and the
// expected information agree.

// fit takes Newton steps from even odds, halved while they do not improve.
func (l *logitFit) fit() ([]float64, *mat.SymDense, error) {
	p := len(l.columns)
	params := make([]float64, p)
	best := l.logLik(params)
	cov := mat.NewSymDense(p, nil)
	for range 60 {
		grad, info := l.newton(params)
		var chol mat.Cholesky
		if !chol.Factorize(info) || chol.InverseTo(cov) != nil {
			break
		}
		var step mat.VecDense
		step.MulVec(cov, mat.NewVecDense(p, grad))
		gain := dot(grad, step.RawVector().Data)
		for scale := 1.0; scale > 1e-10; scale /= 2 {
			next := append([]float64(nil), params...)
			axpy(scale, step.RawVector().Data, next)
			if v := l.logLik(next); v >= best-1e-12*math.Abs(best) {
				params, best = next, v
				break
			}
		}
		if gain < 1e-16 {
			if l.runaway(params) {
				break
			}
			return params, cov, nil
		}
	}
	return nil, nil, fmt.Errorf("the answers are all alike or split by dose without overlap, so the line has no finite slope or level: collect answers at doses in between")
}

func (l *logitFit) newton(params []float64) ([]float64, *mat.SymDense) {
	p := len(params)
	grad := make([]float64, p)
	info := mat.NewSymDense(p, nil)
	for i, c := range l.counts {
		f := logistic(l.eta(params, i))
		for j := range p {
			grad[j] += l.columns[j][i] * (float64(c.Successes) - float64(c.Total)*f)
			for m := j; m < p; m++ {
				info.SetSym(j, m, info.At(j, m)+float64(c.Total)*slope(f)*l.columns[j][i]*l.columns[m][i])
			}
		}
	}
	return grad, info
}

// runaway tells whether every expected share is 0 or 1, the mark of answers
// that are split without overlap.
func (l *logitFit) runaway(params []float64) bool {
	const flat = 12 // logits; a share of 6 in a million
	for i := range l.counts {
		if math.Abs(l.eta(params, i)) < flat {
			return false
		}
	}
	return true
}

// deviance is twice the log likelihood lost against a perfect fit.
func (l *logitFit) deviance(params []float64) float64 {
	var perfect float64
	for _, c := range l.counts {
		n, k := float64(c.Total), float64(c.Successes)
		if k > 0 && k < n {
			perfect += k*math.Log(k/n) + (n-k)*math.Log(1-k/n)
		}
	}
	return 2 * (perfect - l.logLik(params))
}

func (r *DoseLogit) warn() {
	if math.Abs(r.Slope) < 2*r.SlopeSE {
		r.Warnings = append(r.Warnings, "the share of yes hardly changes with dose: doses read from this line are a guess")
	}
	if r.DF > 0 {
		if p := (distuv.ChiSquared{K: float64(r.DF)}).Survival(r.Deviance); p < 0.05 {
			r.Warnings = append(r.Warnings, fmt.Sprintf("the answers scatter more than chance around the line (p %.2g): the errors are too small", p))
		}
	}
}

// DoseAt returns the dose at which a share p of the group says yes,
//
//	dose = (ln(p/(1-p)) - intercept) / Slope
//
// with its standard error by the delta method and normal limits at the level [14].
//
// Errors: an unknown group, p or level outside 0 to 1, a slope of zero.
func (r *DoseLogit) DoseAt(group string, p, level float64) (DoseAt, error) {
	if err := checkLevel(level); err != nil {
		return DoseAt{}, err
	}
	if !(p > 0 && p < 1) {
		return DoseAt{}, fmt.Errorf("share %v: give a share above 0 and below 1", p)
	}
	at := -1
	for i, g := range r.Groups {
		if g == group {
			at = i
		}
	}
	if at < 0 {
		return DoseAt{}, fmt.Errorf("group %q has no answers: name one of %q", group, r.Groups)
	}
	if r.Slope == 0 {
		return DoseAt{}, fmt.Errorf("the share of yes does not change with dose: no dose can be given")
	}
	k := len(r.Groups)
	d := DoseAt{Dose: (math.Log(p/(1-p)) - r.Intercepts[at]) / r.Slope}
	// Derivatives are -1/slope times (1, dose).
	v := r.cov.At(at, at) + 2*d.Dose*r.cov.At(at, k) + d.Dose*d.Dose*r.cov.At(k, k)
	d.SE = math.Sqrt(v) / math.Abs(r.Slope)
	half := distuv.UnitNormal.Quantile(0.5+level/2) * d.SE
	d.Low, d.High = d.Dose-half, d.Dose+half
	return d, nil
}
