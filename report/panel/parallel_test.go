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

// Analysis of variance as printed in [12], examples 5.1.1 and 5.1.3, and the
// potency of the EDQM worked example times its assigned 9.5 IU.
func TestRelativePotencyPrinted(t *testing.T) {
	p, err := RelativePotency(readAssay(t, "corticotrophin.csv", "none", "none"), "S", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "preparations", p.Preparations.SumSquare, 6256.6, 0.05)
	near(t, "regression", p.Regression.SumSquare, 63830.8, 0.05)
	near(t, "F regression", p.Regression.F, 83.38, 0.005)
	near(t, "non-parallelism", p.NonParallel.SumSquare, 8218.2, 0.06)
	near(t, "F non-parallelism", p.NonParallel.F, 5.37, 0.005)
	near(t, "residual", p.NonParallel.Residual, 41340.9, 0.05)
	if p.NonLinearOK || !hasWarning(p.Warnings, "not parallel") {
		t.Errorf("two doses: linearity tested %v, warnings %q", p.NonLinearOK, p.Warnings)
	}
	p, err = RelativePotency(readAssay(t, "turbidimetric.csv", "none", "block"), "S", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "regression", p.Regression.SumSquare, 101745.6, 0.05)
	near(t, "F non-parallelism", p.NonParallel.F, 0.467, 0.0005)
	near(t, "F non-linearity", p.NonLinear.F, 1.202, 0.0005)
	near(t, "residual", p.NonLinear.Residual, 1509.65, 0.005)
	p, err = RelativePotency(readAssay(t, "diphtheria.csv", "square", "none"), "S", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	const assigned = 9.5
	near(t, "potency", p.Potencies[0].Value*assigned, 22.1352, 5e-5)
	near(t, "low", p.Potencies[0].Low*assigned, 16.6014, 5e-5)
	near(t, "high", p.Potencies[0].High*assigned, 29.2553, 5e-5)
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
	near(t, "potency", p.Potencies[0].Value, 0.71818458, 1e-8)
	near(t, "low", p.Potencies[0].Low, 0.59699062, 1e-8)
	near(t, "high", p.Potencies[0].High, 0.85116455, 1e-8)
	near(t, "F", p.NonParallel.F, 5.38572, 1e-5)
	near(t, "p", p.NonParallel.P, 0.024108, 1e-6)
	near(t, "F non-linearity", p.NonLinear.F, 2.38038, 1e-5)
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
			points = append(points, AssayPoint{samples[k], doses[k], y[col][row], string(rune('a' + row)), string(rune('p' + col))})
		}
	}
	p, err := RelativePotency(points, "S", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "potency", p.Potencies[0].Value, 1.34870885427, 1e-9)
	near(t, "low", p.Potencies[0].Low, 1.19841188765, 1e-8)
	near(t, "high", p.Potencies[0].High, 1.54346059907, 1e-8)
	near(t, "slope", p.SlopePerLn, 17.1320036106, 1e-8)
	near(t, "variance", p.ResidualSD*p.ResidualSD, 2.5625, 1e-9)
	near(t, "non-parallelism", p.NonParallel.SumSquare, 0.5625, 1e-9)
	if p.DF != 6 {
		t.Errorf("df %d, want 6", p.DF)
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
		a, b := p.Potencies[0], q.Potencies[0]
		if math.Abs(b.Value*k/a.Value-1) > 1e-8 || math.Abs(b.Low*k/a.Low-1) > 1e-8 || math.Abs(b.High*k/a.High-1) > 1e-8 {
			t.Fatalf("doses times %v: %+v, was %+v", k, b, a)
		}
		back, err := RelativePotency(moved, "T", 0.95)
		if err != nil {
			t.Fatal(err)
		}
		c := back.Potencies[0]
		if math.Abs(c.Value*b.Value-1) > 1e-8 || math.Abs(c.Low*b.High-1) > 1e-7 {
			t.Fatalf("turned over: %+v and %+v", b, c)
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
	if p.Potencies[0].OK || !hasWarning(p.Warnings, "no limits") {
		t.Errorf("%+v, warnings %q: want no limits", p.Potencies[0], p.Warnings)
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
