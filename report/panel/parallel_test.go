package panel

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// readAssay reads an assay file of testdata.
func readAssay(t testing.TB, file, transform, blocks string) []AssayPoint {
	t.Helper()
	tab := readTable(openTestdata, file)
	points := tab.assayPoints(transform, blocks)
	if tab.err != nil {
		t.Fatal(tab.err)
	}
	return points
}

// fieller gives the potency of the first sample with Fieller's limits [8], M =
// d/b with g = t^2 v22 / b^2:
//
//	(M - g v12/v22 ± t/|b| sqrt(v11 - 2 M v12 + M^2 v22 - g (v11 - v12^2/v22))) / (1 - g)
//
// ok is false where they are unbounded, g >= 1.
func (p *parallelLines) fieller() (value, low, high float64, ok bool) {
	q := p.Potencies[0]
	v11, v12, v22 := q.DifferenceSE*q.DifferenceSE, q.SlopeCov, p.SlopeSE*p.SlopeSE
	m, b := q.Difference/p.SlopePerLn, p.SlopePerLn
	g := p.T * p.T * v22 / (b * b)
	centre := (m - g*v12/v22) / (1 - g)
	half := p.T / math.Abs(b) * math.Sqrt(math.Max(v11-2*m*v12+m*m*v22-g*(v11-v12*v12/v22), 0)) / (1 - g)
	return math.Exp(m), math.Exp(centre - half), math.Exp(centre + half), g < 1
}

// Analysis of variance as printed in [7], examples 5.1.1 and 5.1.3, and the
// potency of the EDQM worked example times its assigned 9.5 IU.
func TestRelativePotencyPrinted(t *testing.T) {
	p, err := RelativePotency(readAssay(t, "corticotrophin.csv", "none", "none"), "S", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "F non-parallelism", p.nonParallel.F, 5.37, 0.005)
	near(t, "residual", p.variance*float64(p.df), 41340.9, 0.05)
	near(t, "F regression", p.SlopePerLn*p.SlopePerLn/(p.SlopeSE*p.SlopeSE), 83.38, 0.005)
	if p.nonLinear != nil || !hasWarning(p.Warnings, "not parallel") {
		t.Errorf("two doses: linearity tested %v, warnings %q", p.nonLinear, p.Warnings)
	}
	p, err = RelativePotency(readAssay(t, "turbidimetric.csv", "none", "block"), "S", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "F non-parallelism", p.nonParallel.F, 0.467, 0.0005)
	near(t, "F non-linearity", p.nonLinear.F, 1.202, 0.0005)
	near(t, "residual", p.variance*float64(p.df), 1509.65, 0.005)
	p, err = RelativePotency(readAssay(t, "diphtheria.csv", "square", "none"), "S", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	const assigned = 9.5
	value, low, high, _ := p.fieller()
	near(t, "potency", value*assigned, 22.1352, 5e-5)
	near(t, "low", low*assigned, 16.6014, 5e-5)
	near(t, "high", high*assigned, 29.2553, 5e-5)
}

// toothgrowth.csv is ToothGrowth of R's datasets (Crampton 1947). Expected:
// R 4.2.2, anova(lm(len ~ supp + log(dose)), lm(len ~ supp * log(dose)),
// lm(len ~ supp * factor(dose))) and the formula with the residual of the last.
// (With the residual of the parallel lines the limits are 0.590 and 0.860.)
func TestRelativePotencyNotParallel(t *testing.T) {
	p, err := RelativePotency(readAssay(t, "toothgrowth.csv", "none", "none"), "OJ", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	value, low, high, _ := p.fieller()
	near(t, "potency", value, 0.71818458, 1e-8)
	near(t, "low", low, 0.59699062, 1e-8)
	near(t, "high", high, 0.85116455, 1e-8)
	near(t, "F", p.nonParallel.F, 5.38572, 1e-5)
	near(t, "p", p.nonParallel.P, 0.024108, 1e-6)
	near(t, "F non-linearity", p.nonLinear.F, 2.38038, 1e-5)
	if !hasWarning(p.Warnings, "not parallel") {
		t.Errorf("warnings %q", p.Warnings)
	}
}

// A 4 x 4 Latin square of invented responses, analysed in R 4.2.2 with
// lm(y ~ row + col + sample + log(dose)) and the full model's residual.
func TestRelativePotencyLatin(t *testing.T) {
	square := [4][4]int{{0, 1, 2, 3}, {1, 2, 3, 0}, {2, 3, 0, 1}, {3, 0, 1, 2}}
	y := [4][4]float64{{31, 45, 38, 52}, {44, 41, 50, 37}, {36, 49, 33, 47}, {53, 35, 46, 40}} // by column
	samples, doses := []string{"S", "S", "T", "T"}, []float64{1, 2, 1, 2}
	var points []AssayPoint
	for col := range 4 {
		for row := range 4 {
			k := square[row][col]
			points = append(points, AssayPoint{samples[k], doses[k], y[col][row], string(rune('a' + row)),
				string(rune('p' + col))})
		}
	}
	p, err := RelativePotency(points, "S", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	value, low, high, _ := p.fieller()
	near(t, "potency", value, 1.34870885427, 1e-9)
	near(t, "low", low, 1.19841188765, 1e-8)
	near(t, "high", high, 1.54346059907, 1e-8)
	near(t, "slope", p.SlopePerLn, 17.1320036106, 1e-8)
	near(t, "variance", p.variance, 2.5625, 1e-9)
	near(t, "non-parallelism", p.nonParallel.F*p.variance, 0.5625, 1e-9)
	if p.df != 6 {
		t.Errorf("df %d, want 6", p.df)
	}
}

// Scaling all doses of one sample scales its potency; a block's level does not
// matter; swapping sample and standard turns the ratio over.
func TestRelativePotencyProperties(t *testing.T) {
	base := readAssay(t, "turbidimetric.csv", "none", "block")
	p, err := RelativePotency(base, "S", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(0.1, 10).Draw(t, "k")
		moved := append([]AssayPoint(nil), base...)
		for i := range moved {
			if moved[i].Sample == "T" {
				moved[i].Dose *= k
			}
			if moved[i].Block == "3" {
				moved[i].Y += 100 * k
			}
		}
		q, err := RelativePotency(moved, "S", 0.95)
		if err != nil {
			t.Fatal(err)
		}
		value, low, high, _ := p.fieller()
		value1, low1, high1, _ := q.fieller()
		if math.Abs(value1*k/value-1) > 1e-8 || math.Abs(low1*k/low-1) > 1e-8 || math.Abs(high1*k/high-1) > 1e-8 {
			t.Fatalf("doses times %v: %v (%v to %v), was %v (%v to %v)", k, value1, low1, high1, value, low, high)
		}
		back, err := RelativePotency(moved, "T", 0.95)
		if err != nil {
			t.Fatal(err)
		}
		turned, turnedLow, _, _ := back.fieller()
		if math.Abs(turned*value1-1) > 1e-8 || math.Abs(turnedLow*high1-1) > 1e-7 {
			t.Fatalf("turned over: %v from %v and %v to %v", value1, low1, turned, turnedLow)
		}
	})
}

func TestRelativePotencyUnbounded(t *testing.T) {
	p, err := RelativePotency([]AssayPoint{
		{"S", 1, 3, "", ""}, {"S", 2, 7, "", ""}, {"S", 1, 8, "", ""}, {"S", 2, 4, "", ""},
		{"T", 1, 5, "", ""}, {"T", 2, 6, "", ""}, {"T", 1, 7, "", ""}, {"T", 2, 5.5, "", ""},
	}, "S", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, _, ok := p.fieller(); ok {
		t.Errorf("%+v: want no limits", p)
	}
}

func TestRelativePotencyRefuses(t *testing.T) {
	s := func(dose, y float64, block string) AssayPoint { return AssayPoint{"S", dose, y, block, ""} }
	x := func(dose, y float64, block string) AssayPoint { return AssayPoint{"T", dose, y, block, ""} }
	cases := map[string][]AssayPoint{
		"dose 0":         {s(0, 1, "")},
		"response 1":     {s(1, math.NaN(), "")},
		`standard "S"`:   {x(1, 1, ""), x(2, 2, "")},
		"only the":       {s(1, 1, ""), s(2, 2, "")},
		"one dose only":  {s(1, 1, ""), s(1, 2, ""), x(1, 2, ""), x(1, 3, "")},
		"nothing to mea": {s(1, 1, ""), s(2, 2, ""), x(1, 2, ""), x(2, 3, "")},
		"repeat exactly": {s(1, 1, ""), s(2, 2, ""), x(1, 2, ""), x(2, 3, ""), s(1, 1, "")},
		"from the block": {s(1, 1, "A"), s(2, 2, "A"), s(1, 2, "A"), x(1, 2, "B"), x(2, 3, "B"), x(2, 5, "B")},
	}
	for says, points := range cases {
		if _, err := RelativePotency(points, "S", 0.95); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: error %v", says, err)
		}
	}
	if _, err := RelativePotency(nil, "S", 0); err == nil {
		t.Error("level 0 accepted")
	}
}
