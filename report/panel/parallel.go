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
	Block  string  // taster, tasting or row; empty for none
	Column string  // second blocking, of a Latin square; empty for none
}

// Potency is how strong a sample is beside the standard: the response of the
// sample over that of the standard at one dose, from which ln potency is
// Difference over the common slope.
type Potency struct {
	Sample       string  // as given in the points
	Difference   float64 // response of the sample over that of the standard at one dose
	DifferenceSE float64 // its standard error
	SlopeCov     float64 // its covariance with the common slope
}

// parallelLines is the result of RelativePotency.
type parallelLines struct {
	Potencies  []Potency // of every other sample, in order of first appearance
	SlopePerLn float64   // common slope, response per unit of ln dose
	SlopeSE    float64   // standard error of the slope, residual of the full model
	Level      float64   // confidence level that T belongs to, as a share
	T          float64   // two-sided t quantile of Level and the residual degrees of freedom
	Warnings   []string  // what puts the potencies in doubt, in words

	df          int     // residual degrees of freedom
	variance    float64 // residual mean square, from the full treatment model
	nonParallel *fTest  // of different slopes; nil unless two samples have two doses
	nonLinear   *fTest  // of bends; nil unless a sample has three doses

	assay   *assay
	columns [][]float64 // of the fit of the lines
}

// assay is a parallel-line comparison turned into columns.
type assay struct {
	y, lnDose       []float64
	samples, cells  factor
	blocks, columns factor
	standard        int
}

// RelativePotency compares samples with a standard by parallel lines [7]:
//
//	y = a_sample + b ln(dose) + block + column,  ln potency M = (a_sample - a_standard) / b
//
// The residual mean square comes from the full treatment model, in which every
// sample at every dose has its own mean. Limits of the potency are left to the
// caller, who has a prior for it. The F tests of parallelism and linearity are
// within the treatment sum of squares; a p below 0.05 puts the potency in doubt.
//
// Minimum: two samples, two doses of one of them, one residual degree of
// freedom (repeats or blocks).
//
// Errors: a dose not above zero (leave controls out), values not finite, an
// unknown standard, too little data, samples that no block shares, a slope of
// zero.
func RelativePotency(points []AssayPoint, standard string, level float64) (*parallelLines, error) {
	if err := checkLevel(level); err != nil {
		return nil, err
	}
	a, err := newAssay(points, standard)
	if err != nil {
		return nil, err
	}
	block := append(a.blocks.indicators(), a.columns.indicators()...)
	columns := append(append(a.samples.indicators(), a.lnDose), block...)
	lines := fitLinear(columns, a.y)
	// the noise is taken from here and not from the lines: a bend or a crossing is no noise of tasters
	full := fitLinear(append(a.cells.indicators(), block...), a.y)
	slope := lines.position(a.samples.levels())
	if slope < 0 {
		return nil, fmt.Errorf("every sample has one dose only: give at least two doses of one")
	}
	if full.df() < 1 {
		return nil, fmt.Errorf("%d responses leave nothing to measure the noise with: repeat doses", len(a.y))
	}
	if !full.noisy(a.y) {
		return nil, fmt.Errorf("the responses repeat exactly: there is no noise to build intervals from")
	}
	if apart := len(fitLinear(append(block, a.ones()), a.y).kept) + a.samples.levels(); len(lines.kept) < apart {
		return nil, fmt.Errorf("samples or doses cannot be told from the blocks: have each taster or tasting score " +
			"several samples and doses")
	}
	p := &parallelLines{Level: level, df: full.df(), variance: full.rss / float64(full.df()),
		assay: a, columns: columns}
	p.SlopePerLn = lines.coef[slope]
	if p.SlopePerLn == 0 {
		return nil, fmt.Errorf("the response does not change with dose at all: no potency can be given")
	}
	p.tests(a, block, lines, full)
	p.potencies(a, lines, slope)
	for _, q := range p.Potencies {
		// a slope of rounding gives a ratio that no float holds
		if !figure.Finite(math.Exp(q.Difference / p.SlopePerLn)) {
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
	// quoted: names with blanks and figures in them could else make one cell of two
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

// tests compares the lines with models of growing freedom: own slopes, then an
// own mean of every dose.
func (p *parallelLines) tests(a *assay, block [][]float64, lines, full *linearFit) {
	samples := a.samples.indicators()
	var slopes [][]float64
	for _, s := range samples {
		own := make([]float64, len(s))
		for i, v := range s {
			own[i] = v * a.lnDose[i]
		}
		slopes = append(slopes, own)
	}
	own := fitLinear(append(append(samples, slopes...), block...), a.y)
	test := func(less, more *linearFit) *fTest {
		df := less.df() - more.df()
		if df < 1 {
			return nil
		}
		f := newFTest(less.rss-more.rss, df, full.rss, full.df())
		return &f
	}
	p.nonParallel, p.nonLinear = test(lines, own), test(own, full)
}

// potencies works out every sample beside the standard.
func (p *parallelLines) potencies(a *assay, lines *linearFit, slope int) {
	unit := func(at int, k float64, c []float64) []float64 {
		if i := lines.position(at); i >= 0 {
			c[i] += k
		}
		return c
	}
	size := len(lines.kept)
	b := make([]float64, size)
	b[slope] = 1
	p.SlopeSE = math.Sqrt(p.variance * lines.covariance(b, b))
	p.T = tQuantile(0.5+p.Level/2, float64(p.df))
	for s, name := range a.samples.names {
		if s == a.standard {
			continue
		}
		d := unit(s, 1, unit(a.standard, -1, make([]float64, size)))
		p.Potencies = append(p.Potencies, Potency{
			Sample: name, Difference: dot(d, lines.coef),
			DifferenceSE: math.Sqrt(p.variance * lines.covariance(d, d)), SlopeCov: p.variance * lines.covariance(d, b),
		})
	}
}

// Carried returns by how much the difference of a sample and the common slope move when
// the responses move by y: both are linear in them. It tells what a disturbance that
// several responses share, such as the strength of a brew, does to a potency.
func (p *parallelLines) Carried(sample string, y []float64) (difference, slope float64) {
	lines := fitLinear(p.columns, y)
	coef := func(column int) float64 {
		if i := lines.position(column); i >= 0 {
			return lines.coef[i]
		}
		return 0
	}
	at, _ := p.assay.samples.find(sample)
	return coef(at) - coef(p.assay.standard), coef(p.assay.samples.levels())
}

// warn puts in words what makes one number for the potency doubtful.
func (p *parallelLines) warn() {
	const doubtful = 0.05
	if p.nonParallel != nil && p.nonParallel.P < doubtful {
		p.Warnings = append(p.Warnings, fmt.Sprintf("the lines are not parallel (%s): "+
			"one number for the potency does not hold at all doses", pWords(p.nonParallel.P)))
	}
	if p.nonLinear != nil && p.nonLinear.P < doubtful {
		p.Warnings = append(p.Warnings, fmt.Sprintf("the response is not straight against ln dose (%s): "+
			"the potency is in doubt", pWords(p.nonLinear.P)))
	}
}

// pWords prints a p value with two digits, never with an exponent.
func pWords(p float64) string {
	if p < 0.001 {
		return "p below 0.001"
	}
	return fmt.Sprintf("p %.2g", p)
}
