package panel

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// By hand from the rule: missed at 2, right at 4 and 8: sqrt(2*4); all right:
// 1/sqrt(2); strongest missed: 8*sqrt(2). Their geometric mean is 2^1.5.
func TestAscendingThreshold(t *testing.T) {
	r, err := AscendingThreshold([]float64{1, 2, 4, 8}, [][]bool{
		{true, false, true, true},
		{true, true, true, true},
		{false, true, true, false},
	})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{math.Sqrt(8), math.Sqrt(0.5), 8 * math.Sqrt2} {
		near(t, "taster", r.Tasters[i].Value, want, 1e-12)
	}
	near(t, "group", r.Group, math.Pow(2, 1.5), 1e-12)
	near(t, "sd", r.SDLog10, 2*math.Log10(2), 1e-12)
	if !r.Tasters[1].AllRight || !r.Tasters[2].LastMiss || !hasWarning(r.Warnings, "2 tasters of 3") {
		t.Errorf("%+v", r)
	}
}

// A right answer in place of a wrong one never raises a threshold, and the
// unit of the concentrations does not matter.
func TestAscendingThresholdProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 7).Draw(t, "n")
		series, scaled := make([]float64, n), make([]float64, n)
		row := make([]bool, n)
		for j := range row {
			series[j] = math.Pow(2.5, float64(j))
			scaled[j] = 1000 * series[j]
			row[j] = rapid.Bool().Draw(t, "right")
		}
		a, err := AscendingThreshold(series, [][]bool{row})
		if err != nil {
			t.Fatal(err)
		}
		b, _ := AscendingThreshold(scaled, [][]bool{row})
		if math.Abs(b.Group/a.Group-1000) > 1e-6 {
			t.Fatalf("%v and %v a thousand times finer", a.Group, b.Group)
		}
		row[rapid.IntRange(0, n-1).Draw(t, "at")] = true
		c, _ := AscendingThreshold(series, [][]bool{row})
		if c.Group > a.Group*(1+1e-12) {
			t.Fatalf("one more right raises %v to %v", a.Group, c.Group)
		}
	})
}

func TestAscendingThresholdRefuses(t *testing.T) {
	for says, c := range map[string]struct {
		series []float64
		rows   [][]bool
	}{
		"at least two":     {[]float64{1}, [][]bool{{true}}},
		"above zero":       {[]float64{0, 1}, [][]bool{{true, true}}},
		"weak to strong":   {[]float64{2, 1}, [][]bool{{true, true}}},
		"no answers":       {[]float64{1, 2}, nil},
		"taster 2 has 1 a": {[]float64{1, 2}, [][]bool{{true, true}, {true}}},
	} {
		if _, err := AscendingThreshold(c.series, c.rows); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: error %v", says, err)
		}
	}
}
