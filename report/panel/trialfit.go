package panel

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// trialFit reads the additive fit from the side of the trials. The larger of
// the two factors is absorbed as rows, so trials are rows or columns depending
// on the data; the answers are the same.
type trialFit struct {
	*additive
	scoreSet
	ginv *mat.SymDense // covariance of the columns, error variance 1
	// Only for trials as columns, one entry per connected part:
	tasterMean []float64       // mean row effect
	invN       []float64       // variance of that mean from the rows' own scores, in units of the error variance
	share      [][]float64     // mean of the row share vectors
	gShare     []*mat.VecDense // ginv times share
	shareQuad  []float64       // share' ginv share
}

// trialsAreRows tells whether there are at least as many trials as tasters.
func (s scoreSet) trialsAreRows() bool { return s.trials.levels() >= s.tasters.levels() }

// fitTwoWay fits score = trial + taster, the larger factor as rows.
func (s scoreSet) fitTwoWay() (*additive, error) {
	if s.trialsAreRows() {
		return fitAdditive(s.trials, s.tasters, s.y)
	}
	return fitAdditive(s.tasters, s.trials, s.y)
}

// newTrialFit fits score = trial + taster and prepares the covariances.
func newTrialFit(s scoreSet) (*trialFit, error) {
	fit, err := s.fitTwoWay()
	if err != nil {
		return nil, err
	}
	ginv, err := fit.pseudoInverse()
	if err != nil {
		return nil, err
	}
	t := &trialFit{additive: fit, scoreSet: s, ginv: ginv}
	if !t.trialsAreRows() {
		t.averageRows()
	}
	return t, nil
}

// averageRows prepares the mean taster of each connected part.
func (t *trialFit) averageRows() {
	size := make([]float64, t.pieces)
	t.tasterMean, t.invN = make([]float64, t.pieces), make([]float64, t.pieces)
	t.share = make([][]float64, t.pieces)
	for p := range t.share {
		t.share[p] = make([]float64, t.cols)
	}
	for _, p := range t.rowPiece {
		size[p]++
	}
	for r, p := range t.rowPiece {
		t.tasterMean[p] += t.additive.row[r] / size[p]
		t.invN[p] += 1 / t.rowN[r] / (size[p] * size[p])
		t.addShares(t.share[p], r, 1/size[p])
	}
	for _, s := range t.share {
		var g mat.VecDense
		v := mat.NewVecDense(t.cols, s)
		g.MulVec(t.ginv, v)
		t.gShare = append(t.gShare, &g)
		t.shareQuad = append(t.shareQuad, mat.Dot(v, &g))
	}
}

// piece is the connected part that a trial belongs to.
func (t *trialFit) piece(trial int) int {
	if t.trialsAreRows() {
		return t.rowPiece[trial]
	}
	return t.colPiece[trial]
}

// sums gives the number and the sum of the scores of a trial.
func (t *trialFit) sums(trial int) (n, sum float64) {
	if t.trialsAreRows() {
		return t.rowN[trial], t.rowY[trial]
	}
	return t.colN[trial], t.colY[trial]
}

// Why the answers are the same: with trials as rows the taster effects are the
// columns, which sum to zero in each part, so a trial's row effect already is
// its mean over the average taster; its variance is that of the row's own
// scores plus that of the taster effects weighted as this trial was scored.
// With trials as columns the mean row effect has to be added, and its variance
// and covariance with the columns come from the rows' own scores and shares.

// mean is the adjusted mean of a trial: its effect plus the average effect of
// the tasters of its part, each taster counted once.
func (t *trialFit) mean(trial int) float64 {
	if t.trialsAreRows() {
		return t.additive.row[trial]
	}
	return t.col[trial] + t.tasterMean[t.piece(trial)]
}

// variance is that of the adjusted mean in units of the error variance.
func (t *trialFit) variance(trial int) float64 {
	if t.trialsAreRows() {
		c := make([]float64, t.cols)
		t.addShares(c, trial, 1)
		return 1/t.rowN[trial] + t.quad(c)
	}
	p := t.piece(trial)
	return t.invN[p] + t.ginv.At(trial, trial) - 2*t.gShare[p].AtVec(trial) + t.shareQuad[p]
}

// differenceVariance is that of the difference between two adjusted means of
// one connected part, in units of the error variance.
func (t *trialFit) differenceVariance(a, b int) float64 {
	if t.trialsAreRows() {
		c := make([]float64, t.cols)
		t.addShares(c, a, 1)
		t.addShares(c, b, -1)
		return 1/t.rowN[a] + 1/t.rowN[b] + t.quad(c)
	}
	return t.ginv.At(a, a) + t.ginv.At(b, b) - 2*t.ginv.At(a, b)
}

// quad returns c' A^+ c for a contrast c over the columns.
func (t *trialFit) quad(c []float64) float64 {
	used := make([]int, 0, len(c))
	for i, v := range c {
		if v != 0 {
			used = append(used, i)
		}
	}
	var s float64
	// a trial meets few tasters: going through zeros would cost the square of all of them
	for _, i := range used {
		for _, j := range used {
			s += c[i] * c[j] * t.ginv.At(i, j)
		}
	}
	return s
}

// bestPair is the smallest differenceVariance among pairs of the listed trials,
// infinite when no two of them can be compared.
func (t *trialFit) bestPair(trials []int) float64 {
	pair := t.differenceVariance
	if t.trialsAreRows() {
		pair = t.rowPairs(trials)
	}
	best := math.Inf(1)
	for x, i := range trials {
		for _, j := range trials[x+1:] {
			if t.piece(i) == t.piece(j) {
				best = math.Min(best, pair(i, j))
			}
		}
	}
	return best
}

// rowPairs is differenceVariance for many pairs of the listed trials, with
// ginv times each share vector worked out once.
func (t *trialFit) rowPairs(trials []int) func(a, b int) float64 {
	share, g := make(map[int]*mat.VecDense), make(map[int]*mat.VecDense)
	for _, k := range trials {
		c := make([]float64, t.cols)
		t.addShares(c, k, 1)
		share[k], g[k] = mat.NewVecDense(t.cols, c), new(mat.VecDense)
		g[k].MulVec(t.ginv, share[k])
	}
	return func(a, b int) float64 {
		own := mat.Dot(share[a], g[a]) + mat.Dot(share[b], g[b])
		return 1/t.rowN[a] + 1/t.rowN[b] + own - 2*mat.Dot(share[a], g[b])
	}
}

// tasterEffect is the level of a taster above the average taster of the part.
func (t *trialFit) tasterEffect(taster int) float64 {
	if t.trialsAreRows() {
		return t.col[taster]
	}
	return t.additive.row[taster] - t.tasterMean[t.rowPiece[taster]]
}

// tastersOf counts the different tasters of each trial.
func (t *trialFit) tastersOf() []int {
	n := make([]int, t.trials.levels())
	for r := range t.rows {
		for _, x := range t.layout.row(r) {
			if t.trialsAreRows() {
				n[r]++
			} else {
				n[x.col]++
			}
		}
	}
	return n
}
