package panel

import (
	"fmt"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// oneWay gives the means of the trials without allowing for tasters, with the
// pooled variance within trials: the layout that the published examples of
// Tukey's and Dunnett's comparisons have.
func oneWay(scores []Score, level float64) (*Means, error) {
	trials := newFactor(len(scores), func(i int) string { return scores[i].Trial })
	k := trials.levels()
	m := &Means{Names: trials.names, N: make([]int, k), Mean: make([]float64, k),
		Level: level, DF: float64(len(scores) - k)}
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

// recoveryMeans is the one-way layout of recovery_dunnett.csv, which names no
// tasters.
func recoveryMeans(t *testing.T) *Means {
	t.Helper()
	m, err := oneWay(readScores(t, "recovery_dunnett.csv", "", "blanket", "minutes"), 0.95)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// The recovery data of R's multcomp, one-way: R 4.2.2, multcomp 1.4-22, whose
// own error is up to 0.001 for Dunnett; TukeyHSD for all pairs.
func TestComparisonsOfRecovery(t *testing.T) {
	m := recoveryMeans(t)
	control, _, err := m.Dunnett("b0")
	if err != nil {
		t.Fatal(err)
	}
	pairs, err := m.Tukey()
	if err != nil {
		t.Fatal(err)
	}
	dunnett := map[string]float64{"b1": 0.4559039923104, "b2": 0.0001165014379991, "b3": 0.1819679013982}
	for _, c := range control {
		near(t, c.A+" less "+c.B, c.P, dunnett[c.A], 0.003)
	}
	tukey := map[string]float64{
		"b1 b0": 0.5500956311799, "b2 b0": 0.0002297201910553, "b3 b0": 0.2524133316721,
		"b2 b1": 0.07294058859315, "b3 b1": 0.9918042844194, "b3 b2": 0.005799653876263,
	}
	for _, c := range pairs {
		want, ok := tukey[c.A+" "+c.B]
		if !ok {
			want = tukey[c.B+" "+c.A]
		}
		near(t, c.A+" less "+c.B, c.P, want, 1e-4)
	}
	if len(control) != len(dunnett) || len(pairs) != len(tukey) {
		t.Errorf("%d and %d comparisons", len(control), len(pairs))
	}
}
