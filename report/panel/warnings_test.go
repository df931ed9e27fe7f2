package panel

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// ladder gives tasters A and B one score for each of so many trials, so that the
// fit leaves trials less one degrees of freedom.
func ladder(trials int) []Score {
	var scores []Score
	for i := range trials {
		name := fmt.Sprint("b", i)
		scores = append(scores, Score{"A", name, float64(i)}, Score{"B", name, float64(i * i % 7)})
	}
	return scores
}

// chain gives taster A and B a trial each of their own, or one in common.
func chain(common bool) []Score {
	scores := []Score{{"A", "x", 1}, {"A", "x", 2}, {"B", "y", 3}, {"B", "y", 5}}
	if common {
		scores = append(scores, Score{"B", "x", 4})
	}
	return scores
}

// Each warning of adjusted means just inside and just outside its threshold.
func TestThresholdsOfAdjustedWarnings(t *testing.T) {
	cases := []struct {
		part            string
		inside, outside []Score
	}{
		{"one taster", []Score{{"A", "x", 1}, {"A", "y", 2}}, ladder(2)},
		{"one trial", ladder(1), ladder(2)},
		{"leave no scores over", []Score{{"A", "x", 1}, {"A", "y", 2}, {"B", "x", 3}}, ladder(2)},
		{"show no noise", []Score{{"A", "x", 1}, {"A", "y", 2}, {"B", "x", 3}, {"B", "y", 4}},
			[]Score{{"A", "x", 1}, {"A", "y", 2}, {"B", "x", 3}, {"B", "y", 4.1}}},
		{"only 3 degrees", ladder(4), ladder(5)},
		{"very wide", ladder(4), ladder(5)},
		{"share no taster", chain(false), chain(true)},
	}
	for _, c := range cases {
		if a := mustAdjust(t, c.inside); !hasWarning(a.Warnings, c.part) {
			t.Errorf("%q is missing inside: %q", c.part, a.Warnings)
		}
		if a := mustAdjust(t, c.outside); hasWarning(a.Warnings, c.part) {
			t.Errorf("%q is said outside: %q", c.part, a.Warnings)
		}
	}
}

// The mixed model warns of trials that no taster links, and of nothing else.
func TestThresholdOfMixedWarning(t *testing.T) {
	for _, common := range []bool{false, true} {
		m, err := MixedModel(append(chain(common), Score{"C", "y", 6}), 0.95)
		if err != nil {
			t.Fatal(err)
		}
		if hasWarning(m.Warnings, "share no taster") == common || common && len(m.Warnings) > 0 {
			t.Errorf("in common %v: %q", common, m.Warnings)
		}
	}
}

// Lines are doubted below p 0.05 and not above. With two doses twice for each of
// two samples and a residual of 4 degrees of freedom, F(1, 4) = 7.71 is p 0.05
// (any table of F): the slopes differ by d over the noise, F = d^2 / 2 in units of
// the residual mean square 0.02.
func TestThresholdOfParallelWarning(t *testing.T) {
	for _, c := range []struct {
		f    float64
		warn bool
	}{{7.65, false}, {7.78, true}} {
		d := math.Sqrt(c.f * 2 * 0.02)
		var points []AssayPoint
		for _, p := range []struct {
			sample  string
			dose, y float64
		}{{"S", 1, 1}, {"S", 2, 3}, {"T", 1, 1}, {"T", 2, 3 + d}} {
			points = append(points, AssayPoint{Sample: p.sample, Dose: p.dose, Y: p.y - 0.1},
				AssayPoint{Sample: p.sample, Dose: p.dose, Y: p.y + 0.1})
		}
		p, err := RelativePotency(points, "S", 0.95)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "F", p.nonParallel.F, c.f, 1e-6)
		if hasWarning(p.Warnings, "not parallel") != c.warn {
			t.Errorf("F %v: %q", c.f, p.Warnings)
		}
	}
}

// A taster is said not to follow the others from five trials and three tasters
// on, below a correlation of 0.2.
func TestThresholdsOfTasterRemarks(t *testing.T) {
	up, mixed, alike := []float64{1, 2, 3, 4, 5}, []float64{3, 1, 5, 4, 2}, []float64{4, 4, 4, 4, 4}
	cases := []struct {
		what, part string
		rows       [][]float64
		said       bool
	}{
		{"five trials", "does not follow", [][]float64{up, up, mixed}, true},
		{"four trials", "does not follow", [][]float64{up[:4], up[:4], {3, 4, 1, 2}}, false},
		{"two tasters", "does not follow", [][]float64{up, mixed}, false},
		{"correlation 0.3", "does not follow", [][]float64{up, up, {1, 4, 3, 5, 2}}, false},
		{"three alike", "every time", [][]float64{up[:3], up[:3], alike[:3]}, true},
		{"two alike", "every time", [][]float64{up[:2], up[:2], alike[:2]}, false},
	}
	for _, c := range cases {
		table, err := TasterTable(tableScores(c.rows), 0.95)
		if err != nil {
			t.Fatal(err)
		}
		if last := table[len(table)-1]; hasWarning(last.Remarks, c.part) != c.said {
			t.Errorf("%s: agreement %v, remarks %q", c.what, last.Agreement, last.Remarks)
		}
	}
}

// A correlation missed by just over 0.02 is said, by just under it is not. Of four
// trials beside a control one pair has a covariance of its own, which a product
// form cannot follow.
func TestThresholdOfDunnettWarning(t *testing.T) {
	for _, c := range []struct {
		off  float64
		warn bool
	}{{0.11, false}, {0.13, true}} {
		m := &Means{Names: []string{"c", "x", "y", "z", "w"}, N: []int{9, 9, 9, 9, 9}, Mean: []float64{1, 2, 3, 4, 5},
			Level: 0.95, DF: 20}
		m.cov = pairedCovariance(c.off)
		_, warnings, err := m.Dunnett("c")
		if err != nil {
			t.Fatal(err)
		}
		_, miss := productForm(m.correlations(0))
		if (len(warnings) > 0) != c.warn || (miss > 0.02) != c.warn {
			t.Errorf("covariance %v: miss %v, warnings %q", c.off, miss, warnings)
		}
	}
}

// pairedCovariance is that of five means of unit variance, of which the second
// and third have a covariance of their own.
func pairedCovariance(own float64) *mat.SymDense {
	cov := mat.NewSymDense(5, nil)
	for i := range 5 {
		cov.SetSym(i, i, 1)
	}
	cov.SetSym(1, 2, own)
	return cov
}
