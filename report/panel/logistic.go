package panel

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Sigmoid is a fitted logistic curve
//
//	y = Lower + (Upper - Lower) / (1 + exp((Mid - x) / Scale))
type Sigmoid struct {
	Lower    float64   // response at no dose; 0 and not fitted with three parameters
	Upper    float64   // response at any large dose
	Mid      float64   // x half-way between
	Scale    float64   // x over which the odds change by e; below zero for a falling curve
	SE       SigmoidSE // standard errors of the four
	Sigma    float64   // residual standard deviation
	DF       int       // points less unknowns
	Level    float64   // confidence level of the limits, as a share
	Warnings []string  // what puts the curve in doubt, in words

	four bool          // Lower was fitted
	cov  *mat.SymDense // of the fitted parameters, in the order above
}

// SigmoidSE are the standard errors of the parameters.
type SigmoidSE struct {
	Lower, Upper, Mid, Scale float64 // units as in Sigmoid; Lower is 0 when not fitted
}

// InverseDose is an x at which a response is expected.
type InverseDose struct {
	X    float64 // on the scale of the fitted x
	SE   float64 // by the delta method
	Low  float64 // t limits at the level of the fit
	High float64 // as Low
}

// Logistic3 fits y = Upper / (1 + exp((Mid - x)/Scale)) by least squares [20],
// x usually ln dose.
//
// Minimum: four points at three different x, reaching far enough for the curve
// to bend; a warning says when the upper end lies far beyond the data.
//
// Errors: lengths that differ, values not finite, too few points, constant
// responses, no finite best curve (no bend in the data).
func Logistic3(x, y []float64, level float64) (*Sigmoid, error) {
	return fitSigmoid(x, y, level, false)
}

// Logistic4 is Logistic3 with a lower asymptote to fit as well.
//
// Minimum: five points at four different x.
//
// Errors: as Logistic3.
func Logistic4(x, y []float64, level float64) (*Sigmoid, error) {
	return fitSigmoid(x, y, level, true)
}

func fitSigmoid(x, y []float64, level float64, four bool) (*Sigmoid, error) {
	if err := checkLevel(level); err != nil {
		return nil, err
	}
	s := &sigmoidProblem{x: x, y: y, four: four}
	if err := s.check(); err != nil {
		return nil, err
	}
	best := s.scan()
	params, ok := s.refine(best)
	if !ok {
		return nil, fmt.Errorf("no finite curve fits best: the responses show no bend; give doses low and high enough to see both ends")
	}
	return s.result(params, level)
}

// sigmoidProblem holds the data. Parameters are mid and scale; the asymptotes
// follow by linear least squares.
type sigmoidProblem struct {
	x, y []float64
	four bool
}

func (s *sigmoidProblem) params() int {
	if s.four {
		return 4
	}
	return 3
}

func (s *sigmoidProblem) check() error {
	if len(s.x) != len(s.y) {
		return fmt.Errorf("%d doses for %d responses: give one for each", len(s.x), len(s.y))
	}
	for i := range s.x {
		if !plain(s.x[i]) || !plain(s.y[i]) {
			return fmt.Errorf("point %d (%v, %v): give plain numbers and leave a dose of zero out of a log model", i+1, s.x[i], s.y[i])
		}
	}
	different := len(slices.Compact(slices.Sorted(slices.Values(s.x))))
	if len(s.x) <= s.params() || different < s.params() {
		return fmt.Errorf("%d points at %d different doses: a curve with %d unknowns needs at least %d points at %d doses", len(s.x), different, s.params(), s.params()+1, s.params())
	}
	if slices.Min(s.y) == slices.Max(s.y) {
		return fmt.Errorf("every response is %v: there is no curve to fit", s.y[0])
	}
	return nil
}

// linear fits the asymptotes for one mid and scale and returns
// (lower, upper, mid, scale) and the residual sum of squares.
func (s *sigmoidProblem) linear(mid, scale float64) ([4]float64, float64) {
	up := make([]float64, len(s.x))
	down := make([]float64, len(s.x))
	for i, x := range s.x {
		up[i] = logistic((x - mid) / scale)
		down[i] = 1 - up[i]
	}
	columns := [][]float64{up}
	if s.four {
		columns = append(columns, down)
	}
	f := fitLinear(columns, s.y)
	p := [4]float64{0, 0, mid, scale}
	for i, k := range f.kept {
		p[1-k] = f.coef[i]
	}
	return p, f.rss
}

// The sum of squares of a logistic curve can have several low points in mid and
// scale, but for given mid and scale the asymptotes are a linear problem with
// one answer. So a grid over the two is searched with the best asymptotes at
// each point, and the steps that follow start in the right valley. The grid
// reaches half a span beyond the data on both sides and from 1/45 of the span
// to the whole in scale.

// scan tries a grid of mids and scales, rising and falling.
func (s *sigmoidProblem) scan() [4]float64 {
	lo, hi := slices.Min(s.x), slices.Max(s.x)
	span := hi - lo
	var best [4]float64
	least := math.Inf(1)
	for i := range 31 {
		mid := lo - span/2 + 2*span*float64(i)/30
		for j := range 12 {
			scale := span * math.Pow(2, float64(j)/2-5.5)
			signs := []float64{1}
			if !s.four {
				signs = append(signs, -1) // with a lower end, swapping the ends does it
			}
			for _, sign := range signs {
				if p, rss := s.linear(mid, sign*scale); rss < least {
					least, best = rss, p
				}
			}
		}
	}
	return best
}

// jacobian returns the derivatives in the fitted parameters, one column each.
func (s *sigmoidProblem) jacobian(p [4]float64) [][]float64 {
	columns := make([][]float64, 4)
	for j := range columns {
		columns[j] = make([]float64, len(s.x))
	}
	for i, x := range s.x {
		z := (x - p[2]) / p[3]
		f := logistic(z)
		bend := (p[1] - p[0]) * slope(f) / p[3]
		columns[0][i], columns[1][i] = 1-f, f
		columns[2][i], columns[3][i] = -bend, -bend*z
	}
	if !s.four {
		return columns[1:]
	}
	return columns
}

func (s *sigmoidProblem) residuals(p [4]float64) []float64 {
	e := make([]float64, len(s.x))
	for i, x := range s.x {
		e[i] = s.y[i] - p[0] - (p[1]-p[0])*logistic((x-p[2])/p[3])
	}
	return e
}

// refine takes Levenberg-Marquardt steps: Gauss-Newton steps shortened by a
// damping that grows while steps fail and shrinks while they succeed. It fails when the best curve lies at
// infinity: an asymptote or the middle running far out of the data.
func (s *sigmoidProblem) refine(p [4]float64) ([4]float64, bool) {
	damping := 1e-3
	e := s.residuals(p)
	rss := dot(e, e)
	for range 500 {
		step := s.step(p, e, damping)
		next := p
		skip := 4 - s.params()
		for j, d := range step {
			next[skip+j] += d
		}
		trial := s.residuals(next)
		after := dot(trial, trial)
		if next[3]*p[3] <= 0 || !(after <= rss) {
			if damping *= 10; damping > 1e12 {
				return p, !s.ranAway(p)
			}
			continue
		}
		settled := rss-after <= 1e-14*rss && small(step, next)
		p, e, rss = next, trial, after
		damping = math.Max(damping/10, 1e-12)
		if settled {
			return p, !s.ranAway(p)
		}
	}
	return p, false
}

// step solves the damped normal equations as a least-squares problem.
func (s *sigmoidProblem) step(p [4]float64, e []float64, damping float64) []float64 {
	columns := s.jacobian(p)
	k := len(columns)
	y := append(append([]float64(nil), e...), make([]float64, k)...)
	for j := range columns {
		extra := make([]float64, k)
		extra[j] = math.Sqrt(damping) * norm(columns[j])
		columns[j] = append(columns[j], extra...)
	}
	f := fitLinear(columns, y)
	step := make([]float64, k)
	for i, j := range f.kept {
		step[j] = f.coef[i]
	}
	return step
}

// small tells whether a step no longer moves the parameters.
func small(step []float64, p [4]float64) bool {
	for j, d := range step {
		at := p[4-len(step)+j]
		if math.Abs(d) > 1e-9*(math.Abs(at)+1e-3) {
			return false
		}
	}
	return true
}

// ranAway tells whether the curve has left the data: its middle more than
// three spans outside, or hardly any of the bend within.
func (s *sigmoidProblem) ranAway(p [4]float64) bool {
	lo, hi := slices.Min(s.x), slices.Max(s.x)
	span := hi - lo
	return p[2] < lo-3*span || p[2] > hi+3*span || math.Abs(p[3]) > 20*span || math.Abs(p[3]) < 1e-4*span
}

// result fills the fit with its errors.
func (s *sigmoidProblem) result(p [4]float64, level float64) (*Sigmoid, error) {
	e := s.residuals(p)
	df := len(s.x) - s.params()
	f := fitLinear(s.jacobian(p), s.y)
	if len(f.kept) < s.params() {
		return nil, fmt.Errorf("the doses cannot tell the parts of the curve apart: give more doses between its ends")
	}
	r := &Sigmoid{Lower: p[0], Upper: p[1], Mid: p[2], Scale: p[3], DF: df, Level: level, four: s.four}
	r.Sigma = math.Sqrt(dot(e, e) / float64(df))
	k := s.params()
	r.cov = mat.NewSymDense(k, nil)
	for i := range k {
		for j := i; j < k; j++ {
			a, b := make([]float64, k), make([]float64, k)
			a[i], b[j] = 1, 1
			r.cov.SetSym(i, j, r.Sigma*r.Sigma*f.covariance(a, b))
		}
	}
	se := func(back int) float64 { return math.Sqrt(r.cov.At(k-back, k-back)) }
	r.SE = SigmoidSE{Upper: se(3), Mid: se(2), Scale: se(1)}
	if s.four {
		r.SE.Lower = se(4)
	}
	if lo, hi := slices.Min(s.x), slices.Max(s.x); p[2] < lo || p[2] > hi {
		r.Warnings = append(r.Warnings, "the middle of the curve lies outside the doses tried: its ends are a guess")
	}
	return r, nil
}

// At is the expected response at x.
func (s *Sigmoid) At(x float64) float64 {
	return s.Lower + (s.Upper-s.Lower)*logistic((x-s.Mid)/s.Scale)
}

// Inverse returns the x at which the response y is expected,
//
//	x = Mid + Scale ln((y - Lower)/(Upper - y))
//
// with its error by the delta method from the errors of the curve alone.
//
// Errors: a y that the curve never reaches.
func (s *Sigmoid) Inverse(y float64) (InverseDose, error) {
	share := (y - s.Lower) / (s.Upper - s.Lower)
	if !(share > 0 && share < 1) {
		lo, hi := math.Min(s.Lower, s.Upper), math.Max(s.Lower, s.Upper)
		return InverseDose{}, fmt.Errorf("response %v is not between %.3g and %.3g, the ends of the curve: choose one that it reaches", y, lo, hi)
	}
	logit := math.Log(share / (1 - share))
	d := InverseDose{X: s.Mid + s.Scale*logit}
	// dx = -(dy/dparam)/(dy/dx) at fixed y.
	rise := (s.Upper - s.Lower) * share * (1 - share) / s.Scale
	grad := []float64{-(1 - share) / rise, -share / rise, 1, logit}
	if !s.four {
		grad = grad[1:]
	}
	v := mat.NewVecDense(len(grad), grad)
	d.SE = math.Sqrt(mat.Inner(v, s.cov, v))
	half := tQuantile(0.5+s.Level/2, float64(s.DF)) * d.SE
	d.Low, d.High = d.X-half, d.X+half
	return d, nil
}
