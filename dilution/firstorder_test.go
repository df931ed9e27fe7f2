package dilution

import (
	"math"
	"testing"
)

// TestBudgetOne holds the contributions to the strength in TestExampleOne,
// computed independently: OG +0.073, FG -0.072, volume 0.003, water 0.001.
func TestBudgetOne(t *testing.T) {
	b := must(exampleOne(0.001, 0).FirstOrder())(t)[1].Quantities[QABVInputs]
	want := map[string]float64{
		"original gravity": 0.073,
		"final gravity":    -0.072,
		"batch volume":     0.003,
		"water":            -0.001, // printed without sign; water weakens
	}
	if len(b.Parts) != len(want) {
		t.Fatalf("parts %+v", b.Parts)
	}
	for _, part := range b.Parts {
		closeTo(t, part.Name, part.U, want[part.Name], 0.0006)
	}
	if b.Parts[0].Name != "original gravity" || b.Parts[0].Step != 0 {
		t.Errorf("largest contribution is %+v", b.Parts[0])
	}
	if part := b.Parts[3]; part.Name != "water" || part.Step != 1 {
		t.Errorf("smallest contribution is %+v", part)
	}
}

// TestModelUncertainty: with the model's 0.10 % vol, and with 1.2 % of the yield
// times 0.765 (both gravities measured, 1.048 and 1.010), the total of example 1 is
// sqrt(0.103^2 + 0.10^2 + (0.012 0.765 4.723)^2) = 0.150 by hand, by both methods.
func TestModelUncertainty(t *testing.T) {
	a := exampleOne(0.001, 0)
	closeTo(t, "first order", must(a.FirstOrder())(t)[1].Quantities[QABV].U, 0.150, 0.0006)
	closeTo(t, "Monte Carlo", must(a.MonteCarlo(Draws{N: 100_000, Seed: 2}))(t)[1].Estimates[QABV].U, 0.150, 0.001)
}

// TestCommonZeroError: with the whole limit a constant zero error of one
// hydrometer, u of the strength falls to 0.003 and u of the real extract rises
// to 0.140 (section 7), by both methods.
func TestCommonZeroError(t *testing.T) {
	a := exampleOne(0, 0.001)
	b := must(a.FirstOrder())(t)[1]
	closeTo(t, "strength u", b.Quantities[QABVInputs].U, 0.003, 0.0005)
	closeTo(t, "real extract u", b.Quantities[QRealExtract].U, 0.140, 0.0005)
	e := must(a.MonteCarlo(Draws{N: 100_000, Seed: 2}))(t)[1].Estimates
	closeTo(t, "strength u, Monte Carlo", e[QABVInputs].U, 0.003, 0.0005)
	closeTo(t, "real extract u, Monte Carlo", e[QRealExtract].U, 0.140, 0.001)
	for _, part := range b.Quantities[QRealExtract].Parts[:1] {
		if part.Name != "hydrometer" || part.Step != -1 {
			t.Errorf("largest contribution is %+v, want the hydrometer", part)
		}
	}
}

// TestCoverageFactorOne: limits that mean one standard uncertainty are widened
// by the root of 3; the strength of example 1 then has u = 0.178 (section 7).
func TestCoverageFactorOne(t *testing.T) {
	b := must(exampleOne(0.001*math.Sqrt(3), 0).FirstOrder())(t)[1].Quantities[QABVInputs]
	closeTo(t, "strength u", b.U, 0.178, 0.0006)
}

// TestBudgetAgainstDraws: for a long account both methods agree on u within
// 6 % (first order leaves curvature out; 20000 draws leave 1 % of noise).
func TestBudgetAgainstDraws(t *testing.T) {
	a := twentyEvents()
	budgets := must(a.FirstOrder())(t)
	results := must(a.MonteCarlo(Draws{N: 20_000, Seed: 4}))(t)
	for i := range results {
		for _, q := range []Quantity{QVolumeL, QSG, QOriginalSG, QABVInputs, QRealExtract, QIBU, QSRM} {
			u, sd := budgets[i].Quantities[q].U, results[i].Estimates[q].U
			if math.Abs(u-sd) > 0.06*sd+1e-12 {
				t.Errorf("step %d quantity %d: u %g by first order, %g by draws", i, q, u, sd)
			}
		}
	}
}

// TestNoDoubt: without limits nothing is in doubt, and u is zero, not missing.
func TestNoDoubt(t *testing.T) {
	og, fg := Exactly(1.050), Exactly(1.012)
	a := Account{
		Start:   Start{VolumeL: Exactly(10), OG: &og, NowSG: &fg},
		Steps:   []Step{Add{AddTea{VolumeL: Exactly(1)}}},
		Tracers: []Tracer{{Name: "leaves", AfterStep: 1, Amount: Exactly(11)}},
	}
	b := must(a.FirstOrder())(t)[1]
	if q := b.Quantities[QVolumeL]; q.U != 0 || q.Parts != nil || !q.OK {
		t.Errorf("volume budget %+v", q)
	}
	if q := b.Quantities[QIBU]; q.OK {
		t.Error("bitterness that was never given has a budget")
	}
	closeTo(t, "dose", b.DosesGPerL[0].Value, 1, 1e-4)
	e := must(a.MonteCarlo(Draws{N: 200, Seed: 1}))(t)[1].Estimates[QVolumeL]
	if e.U != 0 || e.Low != e.Value || e.High != e.Value {
		t.Errorf("volume estimate %+v", e)
	}
}
