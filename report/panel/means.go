package panel

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Means are the fitted means of some trials with their joint covariance; what
// Tukey and Dunnett compare.
type Means struct {
	Names    []string  // trials in order of first appearance
	N        []int     // scores per trial
	Mean     []float64 // score units
	Level    float64   // confidence level of the intervals, as a share
	DF       float64   // degrees of freedom of the comparisons
	MeanDF   float64   // degrees of freedom of the single means
	Warnings []string  // what the numbers cannot say, in words

	cov *mat.SymDense // joint covariance, score units squared
}

// MeanEstimate is one mean with its interval.
type MeanEstimate struct {
	Trial string  // as given in the scores
	N     int     // scores of the trial
	Mean  float64 // score units
	SE    float64 // standard error of the mean
	Low   float64 // t limits at the level of the Means
	High  float64 // as Low
}

// Comparison is the difference between two means, its interval and p-value
// holding for all comparisons of the family together.
type Comparison struct {
	A, B  string  // the two trials
	Value float64 // mean of A minus mean of B
	SE    float64 // standard error of Value
	Low   float64 // simultaneous limits at the level of the Means
	High  float64 // as Low
	P     float64 // adjusted for the number of comparisons
}

// Estimates lists the means with t intervals at Level, each on its own.
func (m *Means) Estimates() []MeanEstimate {
	t := tQuantile(0.5+m.Level/2, m.MeanDF)
	list := make([]MeanEstimate, len(m.Names))
	for i, name := range m.Names {
		se := math.Sqrt(m.cov.At(i, i))
		list[i] = MeanEstimate{name, m.N[i], m.Mean[i], se, m.Mean[i] - t*se, m.Mean[i] + t*se}
	}
	return list
}

// difference fills the parts of a comparison that need no distribution: the
// variance of a difference is v_i + v_j - 2 v_ij from the joint covariance, so
// that what tasters share in both means drops out.
func (m *Means) difference(i, j int) Comparison {
	se := math.Sqrt(m.cov.At(i, i) + m.cov.At(j, j) - 2*m.cov.At(i, j))
	return Comparison{A: m.Names[i], B: m.Names[j], Value: m.Mean[i] - m.Mean[j], SE: se}
}

// OneWay returns the means of the trials without allowing for tasters: each
// score counts as coming from a different person. The standard errors come
// from the pooled variance within trials.
//
// Minimum: two trials, and one trial scored more than once. Use it only when
// no taster scored two trials; MixedModel is sharper otherwise.
//
// Errors: as Adjusted, except that tasters may be unnamed; no repeats; no
// noise within trials.
func OneWay(scores []Score, level float64) (*Means, error) {
	if err := checkLevel(level); err != nil {
		return nil, err
	}
	if err := checkUnnamed(scores); err != nil {
		return nil, err
	}
	trials := newFactor(len(scores), func(i int) string { return scores[i].Trial })
	k := trials.levels()
	m := &Means{Names: trials.names, N: make([]int, k), Mean: make([]float64, k), Level: level, DF: float64(len(scores) - k)}
	m.MeanDF = m.DF
	if k < 2 || m.DF < 1 {
		return nil, fmt.Errorf("%d scores of %d trials: give at least two trials and more scores than trials", len(scores), k)
	}
	for i, s := range scores {
		m.N[trials.of[i]]++
		m.Mean[trials.of[i]] += s.Value
	}
	for t, n := range m.N {
		m.Mean[t] /= float64(n)
	}
	var rss float64
	for i, s := range scores {
		d := s.Value - m.Mean[trials.of[i]]
		rss += d * d
	}
	if rss == 0 {
		return nil, fmt.Errorf("every trial has the same score each time: there is no noise to compare with")
	}
	m.cov = mat.NewSymDense(k, nil)
	for t, n := range m.N {
		m.cov.SetSym(t, t, rss/m.DF/float64(n))
	}
	return m, nil
}

// tQuantile is the point of Student's t that a share p lies below.
func tQuantile(p, df float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile(p)
}
