package panel

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// By hand: B scores twice what A scores, less 3, over trials 1, 2, 3, each
// taster's level taken off: agreement 1, B's slope 2, A's one half.
func TestTasterTable(t *testing.T) {
	v, err := TasterTable([]Score{
		{"A", "x", 1}, {"A", "y", 2}, {"A", "z", 3},
		{"B", "x", -1}, {"B", "y", 1}, {"B", "z", 3},
	}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "offset A", v[0].Offset, 0.5, 1e-12)
	near(t, "offset B", v[1].Offset, -0.5, 1e-12)
	near(t, "agreement", v[0].Agreement, 1, 1e-12)
	near(t, "slope A", v[0].Slope, 0.5, 1e-12)
	near(t, "slope B", v[1].Slope, 2, 1e-12)
	// Additive fit: residuals ±1/2, 0, ∓1/2.
	near(t, "residual", v[0].Residual, math.Sqrt(0.5/3), 1e-12)
	if v[0].Compared != 3 || !v[0].CompareOK || v[0].Repeats.OK {
		t.Errorf("%+v", v[0])
	}
}

func TestTasterTableRemarks(t *testing.T) {
	var scores []Score
	for i, name := range []string{"b1", "b2", "b3", "b4", "b5"} {
		x := float64(i)
		scores = append(scores, Score{"A", name, x}, Score{"B", name, x + 1}, Score{"C", name, 5 - x}, Score{"D", name, 4})
	}
	v, err := TasterTable(scores, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if len(v[0].Remarks) != 0 || !hasWarning(v[2].Remarks, "does not follow") || !hasWarning(v[3].Remarks, "4 every "+
		"time") {
		t.Errorf("remarks %q %q %q", v[0].Remarks, v[2].Remarks, v[3].Remarks)
	}
	if v[3].CompareOK {
		t.Error("constant scores have a correlation")
	}
	if _, err := TasterTable(nil, 0.95); err == nil {
		t.Error("no scores accepted")
	}
}

// By hand: cells (4, 6) and (1, 2, 3): sums of squares 2 and 2 with 1 and 2
// degrees of freedom; chi-squared points with 3 df 0.215795 and 9.348404 (any
// table) give the limits.
func TestRepeatNoise(t *testing.T) {
	scores := []Score{{"A", "x", 4}, {"A", "x", 6}, {"A", "y", 9}, {"B", "x", 1}, {"B", "x", 2}, {"B", "x", 3}}
	n, err := RepeatNoise(scores, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "sd", n.SD, math.Sqrt(4.0/3), 1e-12)
	near(t, "low", n.Low, math.Sqrt(4/9.348404), 1e-6)
	near(t, "high", n.High, math.Sqrt(4/0.215795), 1e-4)
	v, err := TasterTable(scores, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "A", v[0].Repeats.SD, math.Sqrt2, 1e-12)
	near(t, "B", v[1].Repeats.SD, 1, 1e-12)
	if none, err := RepeatNoise(scores[2:4], 0.95); err != nil || none.OK {
		t.Errorf("no repeats: %+v, %v", none, err)
	}
	for _, level := range []float64{0, 1} {
		if _, err := RepeatNoise(scores, level); err == nil {
			t.Errorf("level %v accepted", level)
		}
	}
	if _, err := RepeatNoise(nil, 0.95); err == nil {
		t.Error("no scores accepted")
	}
}

// Correlations stay in bounds, offsets of a group sum to zero, and residuals
// add up to that of the fit.
func TestTasterTableProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		scores := drawScores(t)
		v, err := TasterTable(scores, 0.9)
		if err != nil {
			t.Fatal(err)
		}
		a, _ := Adjusted(scores, 0.9)
		sums := make([]float64, a.Groups)
		var rss float64
		for i, x := range v {
			sums[a.Tasters[i].Group] += x.Offset
			rss += x.Residual * x.Residual * float64(x.Scores)
			if x.CompareOK && math.Abs(x.Agreement) > 1+1e-9 {
				t.Fatalf("%+v", x)
			}
		}
		for _, s := range sums {
			if math.Abs(s) > 1e-8 {
				t.Fatalf("offsets of a group sum to %v", s)
			}
		}
		if math.Abs(rss-a.fit.rss) > 1e-7 {
			t.Fatalf("residuals add up to %v, the fit leaves %v", rss, a.fit.rss)
		}
	})
}
