package panel

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// R 4.2.2 glm(cbind(c(1,4,7,11), c(11,8,5,1)) ~ c(0,1,2,3), binomial) and
// MASS dose.p at one half.
func TestFitLogit(t *testing.T) {
	var counts []DoseCount
	for i, yes := range []int{1, 4, 7, 11} {
		counts = append(counts, DoseCount{Dose: float64(i), Successes: yes, Total: 12})
	}
	f, err := FitLogit(counts)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "intercept", f.Intercepts[0], -2.33908667675, 1e-8)
	near(t, "slope", f.Slope, 1.46935291974, 1e-8)
	near(t, "slope SE", f.SlopeSE, 0.403748911831, 1e-5)
	near(t, "deviance", f.Deviance, 0.391902863323, 1e-9)
	d, err := f.DoseAt("", 0.5, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "dose", d.Dose, 1.59191617299, 1e-7)
	near(t, "SE", d.SE, 0.250297315957, 1e-5)
	near(t, "high", d.High, d.Dose+1.959964*d.SE, 1e-6)
}

// Two doses, one group: the line goes through both observed logits.
func TestFitLogitTwoDoses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(4, 40).Draw(t, "n")
		a, b := rapid.IntRange(1, n-1).Draw(t, "a"), rapid.IntRange(1, n-1).Draw(t, "b")
		f, err := FitLogit([]DoseCount{{"", 1, a, n}, {"", 3, b, n}})
		if err != nil {
			t.Fatal(err)
		}
		logit := func(k int) float64 { return math.Log(float64(k) / float64(n-k)) }
		if want := (logit(b) - logit(a)) / 2; math.Abs(f.Slope-want) > 1e-6 {
			t.Fatalf("slope %v, want %v", f.Slope, want)
		}
		if a == b {
			return
		}
		d, err := f.DoseAt("", float64(a)/float64(n), 0.9)
		if err != nil || math.Abs(d.Dose-1) > 1e-5 {
			t.Fatalf("dose %+v, %v; want 1", d, err)
		}
	})
}

func TestFitLogitWarns(t *testing.T) {
	f, err := FitLogit([]DoseCount{{"", 1, 5, 10}, {"", 2, 6, 10}, {"", 3, 4, 10}})
	if err != nil || !hasWarning(f.Warnings, "hardly changes") {
		t.Errorf("flat line: %v, %q", err, f.Warnings)
	}
	f, err = FitLogit([]DoseCount{{"", 1, 1, 20}, {"", 2, 18, 20}, {"", 3, 3, 20}, {"", 4, 19, 20}})
	if err != nil || !hasWarning(f.Warnings, "scatter more") {
		t.Errorf("scattered: %v, %q", err, f.Warnings)
	}
}

func TestFitLogitRefuses(t *testing.T) {
	cases := map[string][]DoseCount{
		"7 of 5":            {{"", 1, 7, 5}},
		"at least 1":        {{"", 1, 0, 0}},
		"dose -Inf":         {{"", math.Inf(-1), 1, 5}},
		"1 doses":           {{"", 1, 1, 5}},
		"one dose only":     {{"A", 1, 1, 5}, {"B", 2, 3, 5}},
		"without overlap":   {{"", 1, 0, 5}, {"", 2, 5, 5}},
		"answers are all a": {{"", 1, 5, 5}, {"", 2, 5, 5}},
	}
	for says, counts := range cases {
		if f, err := FitLogit(counts); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %+v, error %v", says, f, err)
		}
	}
	f, err := FitLogit([]DoseCount{{"", 1, 1, 5}, {"", 2, 3, 5}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.DoseAt("M", 0.5, 0.95); err == nil || !strings.Contains(err.Error(), `"M"`) {
		t.Errorf("unknown group: %v", err)
	}
	for _, p := range []float64{0, 1, 50, math.NaN()} {
		if _, err := f.DoseAt("", p, 0.95); err == nil {
			t.Errorf("share %v accepted", p)
		}
	}
	if _, err := f.DoseAt("", 0.5, 95); err == nil {
		t.Error("level 95 accepted")
	}
}
