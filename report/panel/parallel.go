package panel

import (
	"fmt"
	"math"

	"hedgerow/trials/figure"
)

// AssayPoint is one response of a parallel-line comparison.
type AssayPoint struct {
	Sample string  // what was dosed: a form, a method, a lot
	Dose   float64 // above zero, one unit for all samples
	Y      float64 // response, straight against ln dose: an intensity score
	Block  string  // taster, session or row; empty for none
	Column string  // second blocking, of a Latin square; empty for none
}

// Potency is how strong a sample is beside the standard.
type Potency struct {
	Sample string  // as given in the points
	Value  float64 // dose of the standard that acts like one unit of the sample
	Low    float64 // Fieller limits, valid if OK
	High   float64 // valid if OK
	OK     bool    // the limits are finite

	Difference   float64 // response of the sample over that of the standard at one dose
	DifferenceSE float64 // its standard error
	SlopeCov     float64 // its covariance with the common slope
}

// ParallelLines is the result of RelativePotency.
type ParallelLines struct {
	Standard     string    // the sample that the others are compared with
	Potencies    []Potency // of every other sample, in order of first appearance
	SlopePerLn   float64   // common slope, response per unit of ln dose
	SlopeSE      float64   // standard error of the slope, residual of the full model
	Level        float64   // confidence level of the limits, as a share
	DF           int       // residual degrees of freedom
	T            float64   // t quantile of Level and DF, two-sided
	ResidualSD   float64   // from the full treatment model
	Regression   FTest     // of the common slope
	NonParallel  FTest     // of different slopes, valid if NonParallelOK
	NonLinear    FTest     // of bends, valid if NonLinearOK
	Preparations FTest     // of the samples' mean responses

	NonParallelOK bool     // at least two samples have two doses
	NonLinearOK   bool     // at least one sample has three doses
	Warnings      []string // what puts the potencies in doubt, in words
}

// assay is a parallel-line comparison turned into columns.
type assay struct {
	y, lnDose       []float64
	samples, cells  factor
	blocks, columns factor
	standard        int
}

// RelativePotency compares samples with a standard by parallel lines [12]:
//
//	y = a_sample + b ln(dose) + block + column,  ln potency M = (a_sample - a_standard) / b
//
// The residual mean square comes from the full treatment model, in which every
// sample at every dose has its own mean. The limits are Fieller's [13]: with
// v11, v22, v12 the variances and the covariance of a difference and b, and
// g = t^2 v22 / b^2,
//
//	(M - g v12/v22 ± t/|b| sqrt(v11 - 2 M v12 + M^2 v22 - g (v11 - v12^2/v22))) / (1 - g)
//
// unbounded when g >= 1, that is when the slope itself is not clear: OK is
// false and a warning says so. The F tests of parallelism and linearity are
// within the treatment sum of squares; a p below 0.05 puts the potency in doubt.
//
// Minimum: two samples, two doses of one of them, one residual degree of
// freedom (repeats or blocks).
//
// Errors: a dose not above zero (leave controls out), values not finite, an
// unknown standard, too little data, samples that no block shares, a slope of
// zero.
func RelativePotency(points []AssayPoint, standard string, level float64) (*ParallelLines, error) {
	if err := checkLevel(level); err != nil {
		return nil, err
	}
	a, err := newAssay(points, standard)
	if err != nil {
		return nil, err
	}
	block := append(a.blocks.indicators(), a.columns.indicators()...)
	lines := fitLinear(append(append(a.samples.indicators(), a.lnDose), block...), a.y)
	full := fitLinear(append(a.cells.indicators(), block...), a.y)
	slope := lines.position(a.samples.levels())
	if slope < 0 {
		return nil, fmt.Errorf("every sample has one dose only: give at least two doses of one")
	}
	if full.df() < 1 {
		return nil, fmt.Errorf("%d responses leave nothing to measure the noise with: repeat doses", len(a.y))
	}
	if !full.noisy(a.y) {
		return nil, fmt.Errorf("the responses repeat exactly: there is no noise to build limits from")
	}
	if apart := len(fitLinear(append(block, a.ones()), a.y).kept) + a.samples.levels(); len(lines.kept) < apart {
		return nil, fmt.Errorf("samples or doses cannot be told from the blocks: have each taster or session score several samples and doses")
	}
	p := &ParallelLines{Standard: standard, Level: level, DF: full.df(), ResidualSD: math.Sqrt(full.rss / float64(full.df()))}
	p.SlopePerLn = lines.coef[slope]
	if p.SlopePerLn == 0 {
		return nil, fmt.Errorf("the response does not change with dose at all: no potency can be given")
	}
	p.tests(a, block, lines, full)
	p.potencies(a, lines, slope)
	for _, q := range p.Potencies {
		if !figure.Finite(q.Value) {
			return nil, fmt.Errorf("the response hardly changes with dose: no potency of %s can be given", q.Sample)
		}
	}
	p.warn()
	return p, nil
}

// newAssay checks the points and numbers their labels.
func newAssay(points []AssayPoint, standard string) (*assay, error) {
	a := &assay{}
	for i, p := range points {
		switch {
		case !(p.Dose > 0) || !plain(p.Dose):
			return nil, fmt.Errorf("dose %v of sample %q: give doses above zero and leave controls out", p.Dose, p.Sample)
		case !plain(p.Y):
			return nil, fmt.Errorf("response %d of sample %q is %v: give a plain number or leave it out", i+1, p.Sample, p.Y)
		}
		a.y, a.lnDose = append(a.y, p.Y), append(a.lnDose, math.Log(p.Dose))
	}
	n := len(points)
	a.samples = newFactor(n, func(i int) string { return points[i].Sample })
	a.cells = newFactor(n, func(i int) string { return fmt.Sprintf("%q %v", points[i].Sample, points[i].Dose) })
	a.blocks = newFactor(n, func(i int) string { return points[i].Block })
	a.columns = newFactor(n, func(i int) string { return points[i].Column })
	var ok bool
	if a.standard, ok = a.samples.find(standard); !ok {
		return nil, fmt.Errorf("standard %q has no response: name one of %q", standard, a.samples.names)
	}
	if a.samples.levels() < 2 {
		return nil, fmt.Errorf("only the standard %q has responses: give another sample to compare", standard)
	}
	return a, nil
}

// ones is the column of the overall mean.
func (a *assay) ones() []float64 {
	column := make([]float64, len(a.y))
	for i := range column {
		column[i] = 1
	}
	return column
}

// tests splits the treatment sum of squares by models of growing freedom:
// blocks, + samples, + common slope, + own slopes, + own mean of every dose.
func (p *ParallelLines) tests(a *assay, block [][]float64, lines, full *linearFit) {
	samples := a.samples.indicators()
	var slopes [][]float64
	for _, s := range samples {
		own := make([]float64, len(s))
		for i, v := range s {
			own[i] = v * a.lnDose[i]
		}
		slopes = append(slopes, own)
	}
	// Block columns go last everywhere, so what a block explains is removed first.
	none := fitLinear(append([][]float64{a.ones()}, block...), a.y)
	level := fitLinear(append(samples, block...), a.y)
	own := fitLinear(append(append(append([][]float64(nil), samples...), slopes...), block...), a.y)
	test := func(less, more *linearFit) (FTest, bool) {
		df := less.df() - more.df()
		if df < 1 {
			return FTest{}, false
		}
		return newFTest(less.rss-more.rss, df, full.rss, full.df()), true
	}
	p.Preparations, _ = test(none, level)
	p.Regression, _ = test(level, lines)
	p.NonParallel, p.NonParallelOK = test(lines, own)
	p.NonLinear, p.NonLinearOK = test(own, full)
}

// potencies works out every sample beside the standard.
func (p *ParallelLines) potencies(a *assay, lines *linearFit, slope int) {
	unit := func(at int, k float64, c []float64) []float64 {
		if i := lines.position(at); i >= 0 {
			c[i] += k
		}
		return c
	}
	size := len(lines.kept)
	b := make([]float64, size)
	b[slope] = 1
	variance := p.ResidualSD * p.ResidualSD
	v22 := variance * lines.covariance(b, b)
	p.SlopeSE = math.Sqrt(v22)
	p.T = tQuantile(0.5+p.Level/2, float64(p.DF))
	for s, name := range a.samples.names {
		if s == a.standard {
			continue
		}
		d := unit(s, 1, unit(a.standard, -1, make([]float64, size)))
		ratio := fieller{
			top: dot(d, lines.coef), bottom: p.SlopePerLn, t: p.T,
			v11: variance * lines.covariance(d, d), v12: variance * lines.covariance(d, b), v22: v22,
		}
		low, high, ok := ratio.limits()
		potency := Potency{Sample: name, Value: math.Exp(ratio.top / ratio.bottom),
			Difference: ratio.top, DifferenceSE: math.Sqrt(ratio.v11), SlopeCov: ratio.v12}
		if ok && figure.Finite(math.Exp(low)) && figure.Finite(math.Exp(high)) {
			potency.Low, potency.High, potency.OK = math.Exp(low), math.Exp(high), true
		}
		p.Potencies = append(p.Potencies, potency)
	}
}

// fieller is a ratio top/bottom of two jointly normal estimates.
type fieller struct {
	top, bottom   float64
	v11, v12, v22 float64
	t             float64
}

// limits of the ratio [13]. g is the squared ratio of the slope's half-width to
// the slope: at 1 the slope's own limits reach zero, and a ratio over something
// that may be zero has no finite limits. ok is false when they are unbounded.
func (f fieller) limits() (low, high float64, ok bool) {
	m := f.top / f.bottom
	g := f.t * f.t * f.v22 / (f.bottom * f.bottom)
	if !(g < 1) {
		return 0, 0, false
	}
	inside := f.v11 - 2*m*f.v12 + m*m*f.v22 - g*(f.v11-f.v12*f.v12/f.v22)
	centre := (m - g*f.v12/f.v22) / (1 - g)
	half := f.t / math.Abs(f.bottom) * math.Sqrt(math.Max(inside, 0)) / (1 - g)
	return centre - half, centre + half, true
}

func (p *ParallelLines) warn() {
	add := func(format string, args ...any) { p.Warnings = append(p.Warnings, fmt.Sprintf(format, args...)) }
	if p.NonParallelOK && p.NonParallel.P < 0.05 {
		add("the lines are not parallel (p %.2g): one number for the potency does not hold at all doses", p.NonParallel.P)
	}
	if p.NonLinearOK && p.NonLinear.P < 0.05 {
		add("the response is not straight against ln dose (p %.2g): the potency is in doubt", p.NonLinear.P)
	}
	for _, q := range p.Potencies {
		if !q.OK {
			add("the change of response with dose is not clear, so the potency of %s has no limits", q.Sample)
		}
	}
}
