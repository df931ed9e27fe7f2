package panel

import (
	"cmp"
	"encoding/binary"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Column is one explanatory column of an ordinal regression: numbers such as
// ln dose, or 0 and 1 for one level of a label.
type Column struct {
	Term  string    // what the column stands for, such as ln dose or form
	Level string    // empty for a plain number
	X     []float64 // one value for each answer
}

// Dummies turns labels into 0/1 columns, one for each level but the first in
// sorted order, which is the reference.
func Dummies(term string, labels []string) []Column {
	levels, of := sortedLevels(labels)
	columns := make([]Column, max(len(levels)-1, 0))
	for c := range columns {
		columns[c] = Column{Term: term, Level: levels[c+1], X: make([]float64, len(labels))}
	}
	for i, l := range of {
		if l > 0 {
			columns[l-1].X[i] = 1
		}
	}
	return columns
}

// sortedLevels lists the different values in rising order, and the place in
// that list of each value.
func sortedLevels[T cmp.Ordered](values []T) (levels []T, of []int) {
	found, of := number(len(values), func(i int) T { return values[i] })
	levels = slices.Sorted(slices.Values(found))
	place := make([]int, len(found))
	for l, v := range found {
		place[l], _ = slices.BinarySearch(levels, v)
	}
	for i, l := range of {
		of[i] = place[l]
	}
	return levels, of
}

// OrdinalData are answers on an ordered scale, votes or liking, with what may
// explain them.
type OrdinalData struct {
	Response []float64 // only the order of the values counts
	Columns  []Column  // none for the cuts alone
	Taster   []string  // needed for ProportionalOddsMixed only
}

// Cut is the threshold between two neighbouring categories.
type Cut struct {
	Below, Above float64 // values of the categories on both sides
	Value        float64 // on the logit scale, at the reference of all columns
	SE           float64 // standard error of Value
}

// Coefficient is the effect of one column on the logit scale: above zero means
// higher answers.
type Coefficient struct {
	Term  string  // as in the column
	Level string  // as in the column
	Value float64 // logits per unit of the column
	SE    float64 // standard error, from the observed information
	Low   float64 // normal limits at the level asked
	High  float64 // as Low
	P     float64 // two-sided, Wald: rough with few answers
}

// OrdinalFit is the result of an ordinal regression.
type OrdinalFit struct {
	Cuts     []Cut         // rising, one fewer than categories used
	Coefs    []Coefficient // in the order of the columns
	LogLik   float64       // at the estimates; with tasters by Laplace
	SDTaster float64       // standard deviation between tasters on the logit scale; 0 without tasters
	N        int           // answers
	Tasters  int           // 0 without tasters
	Warnings []string      // what the fit cannot say, in words
}

// ordinalGroup is a number of equal answers: same category, same explaining
// row, same taster.
type ordinalGroup struct {
	taster   int
	category int
	row      int
	n        float64
}

// ordinal is the grouped problem. Parameters are the cuts, then the
// coefficients, then (mixed) ln of the tasters' standard deviation.
type ordinal struct {
	values  []float64 // the categories
	columns []Column
	rows    [][]float64 // the different rows of the columns
	groups  []ordinalGroup
	tasters int
	n       int
}

func (o *ordinal) cuts() int   { return len(o.values) - 1 }
func (o *ordinal) params() int { return o.cuts() + len(o.columns) }

// newOrdinal checks and groups the data.
func newOrdinal(d OrdinalData, mixed bool) (*ordinal, error) {
	if err := d.check(mixed); err != nil {
		return nil, err
	}
	o := &ordinal{columns: d.Columns, n: len(d.Response)}
	values, categories := sortedLevels(d.Response)
	o.values = values
	if len(o.values) < 2 {
		return nil, fmt.Errorf("all answers are %v: nothing distinguishes them", d.Response[0])
	}
	if o.n <= o.params() {
		return nil, fmt.Errorf("%d answers for %d unknowns: too few for an ordinal regression; use counts and means", o.n, o.params())
	}
	tasters := make([]int, o.n)
	o.tasters = 1
	if mixed {
		f := newFactor(o.n, func(i int) string { return d.Taster[i] })
		tasters, o.tasters = f.of, f.levels()
	}
	o.group(tasters, o.fillRows(), categories)
	if err := o.checkRank(); err != nil {
		return nil, err
	}
	return o, nil
}

// check refuses data that do not hang together.
func (d OrdinalData) check(mixed bool) error {
	n := len(d.Response)
	if n == 0 {
		return fmt.Errorf("no answers: give at least one per category")
	}
	for i, v := range d.Response {
		if !plain(v) {
			return fmt.Errorf("answer %d is %v: give a plain number or leave it out", i+1, v)
		}
	}
	for _, c := range d.Columns {
		if len(c.X) != n {
			return fmt.Errorf("column %q has %d values for %d answers: give one for each", c.Term, len(c.X), n)
		}
		for i, v := range c.X {
			if !plain(v) {
				return fmt.Errorf("column %q value %d is %v: give a plain number (for a dose of zero leave the control out)", c.Term, i+1, v)
			}
		}
	}
	if mixed && len(d.Taster) != n {
		return fmt.Errorf("%d taster names for %d answers: give one for each", len(d.Taster), n)
	}
	return nil
}

// fillRows lists the different rows of the columns, and gives the place in that
// list of each answer.
func (o *ordinal) fillRows() []int {
	of := make([]int, o.n)
	place := make(map[string]int)
	key := make([]byte, 8*len(o.columns))
	for i := range of {
		for j, c := range o.columns {
			binary.LittleEndian.PutUint64(key[8*j:], math.Float64bits(c.X[i]))
		}
		row, ok := place[string(key)]
		if !ok {
			row = len(o.rows)
			place[string(key)] = row
			x := make([]float64, len(o.columns))
			for j, c := range o.columns {
				x[j] = c.X[i]
			}
			o.rows = append(o.rows, x)
		}
		of[i] = row
	}
	return of
}

// group counts equal answers, sorted by taster so that each one's lie together.
func (o *ordinal) group(tasters, rows, categories []int) {
	// One number for taster, row and category: it sorts like the three.
	code := make([]int, o.n)
	for i := range code {
		code[i] = (tasters[i]*len(o.rows)+rows[i])*len(o.values) + categories[i]
	}
	slices.Sort(code)
	for i := 0; i < len(code); {
		j := i
		for j < len(code) && code[j] == code[i] {
			j++
		}
		cell := code[i] / len(o.values)
		o.groups = append(o.groups, ordinalGroup{
			taster: cell / len(o.rows), row: cell % len(o.rows), category: code[i] % len(o.values), n: float64(j - i),
		})
		i = j
	}
}

// checkRank refuses columns that are constant or add up to each other.
func (o *ordinal) checkRank() error {
	rest := make([][]float64, 0, len(o.columns))
	for j, c := range o.columns {
		v := make([]float64, len(o.rows))
		var mean float64
		for i, x := range o.rows {
			v[i] = x[j]
			mean += x[j] / float64(len(o.rows))
		}
		for i := range v {
			v[i] -= mean
		}
		size := norm(v)
		for _, q := range rest {
			axpy(-dot(q, v), q, v)
		}
		if left := norm(v); left <= 1e-9*(size+math.Abs(mean)) {
			return fmt.Errorf("column %q%s is constant or follows from the columns before it: leave it out", c.Term, levelText(c.Level))
		} else {
			for i := range v {
				v[i] /= left
			}
		}
		rest = append(rest, v)
	}
	return nil
}

func levelText(level string) string {
	if level == "" {
		return ""
	}
	return fmt.Sprintf(" (level %q)", level)
}

// linear is the sum of coefficients times the values of each row.
func (o *ordinal) linear(beta []float64) []float64 {
	eta := make([]float64, len(o.rows))
	for i, x := range o.rows {
		eta[i] = dot(x, beta)
	}
	return eta
}

// start gives the cuts of the answers as a whole, no effects.
func (o *ordinal) start() []float64 {
	count := make([]float64, len(o.values))
	for _, g := range o.groups {
		count[g.category] += g.n
	}
	p := make([]float64, o.params())
	var below float64
	for k := range o.cuts() {
		below += count[k]
		share := below / float64(o.n)
		p[k] = math.Log(share / (1 - share))
	}
	return p
}

// result fills the fit from the parameters and their covariance.
func (o *ordinal) result(params []float64, cov *mat.SymDense, level float64) *OrdinalFit {
	f := &OrdinalFit{N: o.n}
	for k := range o.cuts() {
		f.Cuts = append(f.Cuts, Cut{o.values[k], o.values[k+1], params[k], math.Sqrt(cov.At(k, k))})
	}
	z := distuv.UnitNormal.Quantile(0.5 + level/2)
	for j, c := range o.columns {
		at := o.cuts() + j
		v, se := params[at], math.Sqrt(cov.At(at, at))
		f.Coefs = append(f.Coefs, Coefficient{
			Term: c.Term, Level: c.Level, Value: v, SE: se, Low: v - z*se, High: v + z*se,
			P: 2 * normalCDF(-math.Abs(v)/se),
		})
	}
	if o.n < 20 {
		f.Warnings = append(f.Warnings, fmt.Sprintf("%s: an ordinal regression is a rough check only below 20", plural(o.n, "answer")))
	}
	return f
}

// ranges is the span of each column over the answers.
func (o *ordinal) ranges() []float64 {
	span := make([]float64, len(o.columns))
	for j := range o.columns {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, x := range o.rows {
			lo, hi = math.Min(lo, x[j]), math.Max(hi, x[j])
		}
		span[j] = hi - lo
	}
	return span
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
