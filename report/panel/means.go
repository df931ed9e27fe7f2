package panel

import (
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
	Warnings []string  // what the numbers cannot say, in words

	cov *mat.SymDense // joint covariance, score units squared
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

// difference fills the parts of a comparison that need no distribution: the
// variance of a difference is v_i + v_j - 2 v_ij from the joint covariance, so
// that what tasters share in both means drops out.
func (m *Means) difference(i, j int) Comparison {
	se := math.Sqrt(m.cov.At(i, i) + m.cov.At(j, j) - 2*m.cov.At(i, j))
	return Comparison{A: m.Names[i], B: m.Names[j], Value: m.Mean[i] - m.Mean[j], SE: se}
}

// tQuantile is the point of Student's t that a share p lies below.
func tQuantile(p, df float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile(p)
}
