package dilution

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// at is a figure of an account: a quantity, or the first tracer's dose, after a
// step.
type at struct {
	step     int
	quantity Quantity
	dose     bool
}

// figureCase is one printed figure of a worked example; zero where the example
// prints none.
type figureCase struct {
	name      string
	at        at
	value, u  float64
	low, high float64
	digit     float64 // half a unit of the last printed digit of the value
}

// holdExample compares an account with the printed figures of a worked example:
// value and u to their last digit (u within 1 %, as the check rows allow), the
// interval within the Monte Carlo error that the check rows allow, 3 % of u, and
// its last digit.
func holdExample(t *testing.T, a Account, cases []figureCase) {
	t.Helper()
	results := must(a.MonteCarlo(Draws{N: 200_000, Seed: 3}))(t)
	budgets := must(a.FirstOrder())(t)
	for _, c := range cases {
		e, b := results[c.at.step].Estimates[c.at.quantity], budgets[c.at.step].Quantities[c.at.quantity]
		if c.at.dose {
			e, b = results[c.at.step].DosesGPerL[0], budgets[c.at.step].DosesGPerL[0]
		}
		digit := c.digit * 1.02
		closeTo(t, c.name, e.Value, c.value, digit)
		closeTo(t, c.name+" by first order", b.Value, c.value, digit)
		if c.u != 0 {
			closeTo(t, c.name+" u", b.U, c.u, 0.01*c.u+uDigit(c.u))
			closeTo(t, c.name+" u by Monte Carlo", e.U, c.u, 0.01*c.u+uDigit(c.u))
		}
		if c.low != 0 {
			closeTo(t, c.name+" low", e.Low, c.low, 0.03*c.u+10*digit)
			closeTo(t, c.name+" high", e.High, c.high, 0.03*c.u+10*digit)
		}
	}
}

// uDigit is half a unit of the third significant digit, to which u is printed
// at best.
func uDigit(u float64) float64 {
	return 0.5 * math.Pow(10, math.Floor(math.Log10(u))-1)
}

// exampleOne is 12.0 L +-2 % of 1.048/1.010, each +-0.001, with 0.60 L +-1 %
// water, 30 IBU; the gravities in doubt by the given own and common limits.
func exampleOne(own, common float64) Account {
	og := Input{Name: "original gravity", Value: 1.048, HalfWidth: own, Shared: "hydrometer", SharedHalfWidth: common}
	fg := Input{Name: "final gravity", Value: 1.010, HalfWidth: own, Shared: "hydrometer", SharedHalfWidth: common}
	ibu := Exactly(30)
	return Account{
		Start: Start{VolumeL: Within("batch volume", 12, 0.24), OG: &og, NowSG: &fg, Finished: true, IBU: &ibu},
		Steps: []Step{Add{AddTea{VolumeL: Within("water", 0.6, 0.006)}}},
	}
}

// TestExampleOne holds 12 L of 1.048/1.010 with 0.6 L of water, computed
// independently by a separate program that shares only the density coefficients.
func TestExampleOne(t *testing.T) {
	holdExample(t, exampleOne(0.001, 0), []figureCase{
		{"volume", at{1, QVolumeL, false}, 12.6002, 0.139, 12.37, 12.83, 5e-5},
		{"gravity", at{1, QSG, false}, 1.00950, 0.00055, 1.00860, 1.01041, 5e-6},
		{"strength before", at{0, QABVInputs, false}, 4.959, 0, 0, 0, 5e-4},
		{"strength", at{1, QABVInputs, false}, 4.723, 0.103, 4.527, 4.919, 5e-4},
		{"real extract", at{1, QRealExtract, false}, 4.186, 0.117, 3.985, 4.385, 5e-4},
		{"equivalent original gravity", at{1, QOriginalSG, false}, 1.04573, 0.00055, 1.04483, 1.04664, 5e-6},
		{"bitterness", at{1, QIBU, false}, 28.57, 0.018, 28.54, 28.60, 5e-3},
	})
}

// TestExampleTwo is computed independently by the same program: 19 L +-2 %,
// 1.060/1.012 +-0.001, with 0.250 L +-2 % of 60+-1 % vol solvent, 10+-5 g/L
// solids, from 50+-1 g of a plant.
func TestExampleTwo(t *testing.T) {
	og, fg := Within("original gravity", 1.060, 0.001), Within("final gravity", 1.012, 0.001)
	solids := Within("solids", 10, 5)
	a := Account{
		Start: Start{VolumeL: Within("batch volume", 19, 0.38), OG: &og, NowSG: &fg, Finished: true},
		Steps: []Step{Add{AddSpirit{
			VolumeL:     Within("tincture", 0.25, 0.005),
			ABVPct:      Within("strength of the tincture", 60, 1),
			SolidsGPerL: &solids,
		}}},
		Tracers: []Tracer{{Name: "plant", AfterStep: 1, Amount: Within("plant", 50, 1)}},
	}
	holdExample(t, a, []figureCase{
		{"volume", at{1, QVolumeL, false}, 19.2487, 0.219, 18.888, 19.610, 5e-5},
		{"gravity", at{1, QSG, false}, 1.01088, 0.00057, 1.00995, 1.01182, 5e-6},
		{"strength", at{1, QABVInputs, false}, 6.999, 0.109, 6.792, 7.205, 5e-4},
		{"dose", at{1, 0, true}, 2.598, 0.042, 2.519, 2.679, 5e-4},
	})
	snaps := must(a.Run())(t)
	if !snaps[1].Notes.has(NoteSpirit) {
		t.Error("the original gravity after a spirit is not called an equivalent")
	}
}

// TestExampleThree is computed independently by the same program: fruit into a
// fermenting beer, fermented out, racked.
func TestExampleThree(t *testing.T) {
	og, now, final := Within("original gravity", 1.052, 0.001), Within("gravity now", 1.020, 0.001),
		Within("final gravity of the base", 1.011, 0.002)
	fruit := Input{Name: "raspberry", Value: 2.5, Shared: "raspberry", SharedHalfWidth: 0.025}
	a := Account{
		Start: Start{VolumeL: Within("batch volume", 18, 0.36), OG: &og, NowSG: &now, FinalSG: &final},
		Steps: []Step{
			Add{AddFruit{
				MassKg:         fruit,
				Water:          Exactly(0.8575),
				Sugar:          Within("sugar of the fruit", 0.0442, 0.0111),
				Nonfermentable: Within("other solubles", 0.0148, 0.005),
			}},
			Finish{},
			LosePulp{FruitKg: fruit, RetainKgPerKg: Within("retained", 0.5, 0.25)},
		},
	}
	holdExample(t, a, []figureCase{
		{"volume mixed", at{1, QVolumeL, false}, 20.239, 0.209, 0, 0, 5e-4},
		{"volume end", at{2, QVolumeL, false}, 20.217, 0.208, 19.87, 20.56, 5e-4},
		{"volume racked", at{3, QVolumeL, false}, 18.977, 0.414, 18.21, 19.75, 5e-4},
		{"gravity mixed", at{1, QSG, false}, 1.02057, 0.00061, 1.01944, 1.02170, 5e-6},
		{"final gravity", at{2, QSG, false}, 1.00999, 0.00104, 1.00826, 1.01173, 5e-6},
		{"strength", at{2, QABVInputs, false}, 5.103, 0.159, 4.808, 5.398, 5e-4},
		{"equivalent original gravity", at{2, QOriginalSG, false}, 1.04907, 0.00060, 1.04796, 1.05018, 5e-6},
		{"CO2 to come", at{1, QCO2ToComeG, false}, 212, 24, 167, 257, 0.5},
	})
}

// TestReadingRefusesToRise: a gravity above the present one keeps the state in
// the best run and in every draw.
func TestReadingRefusesToRise(t *testing.T) {
	og := Within("original gravity", 1.050, 0.001)
	a := Account{
		Start: Start{VolumeL: Exactly(20), OG: &og},
		Steps: []Step{
			ReadGravity{SG: Within("gravity", 1.012, 0.002)},
			ReadGravity{SG: Within("gravity", 1.014, 0.002)},
		},
	}
	results := must(a.MonteCarlo(Draws{N: 2000, Seed: 1}))(t)
	if !results[2].Notes.has(NoteGravityRose) {
		t.Error("a risen gravity is not remarked on")
	}
	if results[1].Estimates != results[2].Estimates {
		t.Error("a risen gravity changed the estimates")
	}
}

// TestWaterThenReading: a final gravity read after water went in gives the true
// strength: that of a wort of the same masses brewed with the water from the
// start.
func TestWaterThenReading(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		ogValue := rapid.Float64Range(1.035, 1.09).Draw(rt, "og")
		water := rapid.Float64Range(0.1, 8).Draw(rt, "water")
		mid := ogValue - rapid.Float64Range(0.05, 0.5).Draw(rt, "mid")*(ogValue-1)
		final := 1 + rapid.Float64Range(0.1, 0.3).Draw(rt, "final")*(ogValue-1)*20/(20+water)
		og := Exactly(ogValue)
		late := Account{
			Start: Start{VolumeL: Exactly(20), OG: &og},
			Steps: []Step{
				ReadGravity{SG: Exactly(mid)},
				Add{AddTea{VolumeL: Exactly(water)}},
				ReadGravity{SG: Exactly(final)},
			},
		}
		early := late
		early.Steps = []Step{late.Steps[1], late.Steps[2]}
		a, err := late.Run()
		if err != nil {
			rt.Fatal(err)
		}
		b, err := early.Run()
		if err != nil {
			rt.Fatal(err)
		}
		if x, y := a[3].State.ABVPct(), b[2].State.ABVPct(); math.Abs(x-y) > 1e-10 {
			rt.Errorf("strength %g with water in mid-fermentation, %g with water in the wort", x, y)
		}
	})
}

// TestKeptShare: losses, splits and a volume that came out low take solute
// away; water and evaporation do not.
func TestKeptShare(t *testing.T) {
	og, fg := Exactly(1.050), Exactly(1.012)
	a := Account{
		Start: Start{VolumeL: Exactly(20), OG: &og, NowSG: &fg, Finished: true},
		Steps: []Step{
			Add{AddTea{VolumeL: Exactly(1)}},
			LoseVolume{Exactly(2.1)},
			Evaporate{Exactly(0.5)},
			TakeOut{Exactly(5)},
			ReadVolume{VolumeL: Exactly(4.5)},
			ReadVolume{VolumeL: Exactly(5)},
		},
		Tracers: []Tracer{{Name: "leaves", AfterStep: 1, Amount: Exactly(42)}},
	}
	snaps := must(a.Run())(t)
	v1 := snaps[1].State.VolumeL()
	kept := 1 - 2.1/v1
	wants := []float64{1, 1, kept, kept, kept * 5 / snaps[3].State.VolumeL()}
	for i, want := range wants {
		closeTo(t, "kept share", snaps[i].KeptShare, want, 1e-12)
	}
	closeTo(t, "low volume is a loss", snaps[5].KeptShare, 0.9*wants[4], 1e-12)
	closeTo(t, "high volume is none", snaps[6].KeptShare, 0.9*wants[4], 1e-12)
	if !snaps[5].Notes.has(noteVolumeDown) || !snaps[6].Notes.has(noteVolumeUp) {
		t.Error("a volume far from the computed one is not remarked on")
	}
	results := must(a.MonteCarlo(Draws{N: 100, Seed: 1}))(t)
	closeTo(t, "dose after the split", results[4].DosesGPerL[0].Value, 42*wants[4]/5, 1e-12)
	if results[0].DosesGPerL[0].OK {
		t.Error("a dose is given before the material went in")
	}
}

// TestRunErrors: what cannot be is an error that names the step.
func TestRunErrors(t *testing.T) {
	og := Exactly(1.050)
	start := Start{VolumeL: Exactly(20), OG: &og}
	swapped, negative, hot := Exactly(1.060), Exactly(-1), Exactly(60)
	cases := []struct {
		name string
		a    Account
		step int
		says string
	}{
		{"no gravity", Account{Start: Start{VolumeL: Exactly(20)}}, 0, "original gravity is missing"},
		{"swapped", Account{Start: Start{VolumeL: Exactly(20), OG: &og, NowSG: &swapped}}, 0, "usually the two were swapped"},
		{"final above", Account{Start: Start{VolumeL: Exactly(20), OG: &og, FinalSG: &swapped}}, 0,
			"above the original gravity"},
		{"no volume", Account{Start: Start{OG: &og}}, 0, "volume in litres 0"},
		{"negative bitterness", Account{Start: Start{VolumeL: Exactly(20), OG: &og, IBU: &negative}}, 0, "IBU -1"},
		{"limit", Account{Start: Start{VolumeL: Within("batch volume", 20, -1), OG: &og}}, 0, "limit of batch volume -1"},
		{"lost too much", Account{Start: start, Steps: []Step{LoseVolume{Exactly(1)}, LoseVolume{Exactly(25)}}}, 2,
			"step 2: volume lost in litres 25 is more than the 19 there is"},
		{"points", Account{Start: start, Steps: []Step{ReadGravity{SG: Exactly(12)}}}, 1, "gravity 12"},
		{"no end", Account{Start: start, Steps: []Step{Finish{}}}, 1, "give an expected final gravity"},
		{"hot sample", Account{Start: start, Steps: []Step{ReadGravity{SG: Exactly(1.02), TempC: &hot, CalTempC: 20}}},
			1, "cool the sample"},
		{"no key", Account{Start: start, Steps: []Step{ReadGravity{SG: Input{Name: "gravity", Value: 1.02,
			SharedHalfWidth: 0.001}}}}, 1, "has no key"},
		{"sweet fruit", Account{Start: start, Steps: []Step{Add{AddFruit{MassKg: Exactly(1), Water: Exactly(0.9),
			Sugar: Exactly(0.2), Nonfermentable: Exactly(0)}}}}, 1, "more than the solids 0.1"},
		{"strong spirit", Account{Start: start, Steps: []Step{Add{AddSpirit{VolumeL: Exactly(1),
			ABVPct: Exactly(140)}}}}, 1, "strength in % vol 140"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := c.a.Run()
			var at *StepError
			if !errors.As(err, &at) || at.Step != c.step || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want step %d and %q", err, c.step, c.says)
			}
		})
	}
	a := Account{Start: start, Tracers: []Tracer{{Name: "leaves", AfterStep: 3}}}
	if _, err := a.Run(); err == nil || !strings.Contains(err.Error(), "goes in with step 3") {
		t.Errorf("tracer after the end: error %v", err)
	}
	if _, err := exampleOne(0.001, 0).MonteCarlo(Draws{N: 10}); err == nil {
		t.Error("10 draws were taken")
	}
}

// TestBarelyFermented: where the readings overlap, the draws below zero keep the
// strength unbiased, but no bound is below zero.
func TestBarelyFermented(t *testing.T) {
	og, now := Within("original gravity", 1.050, 0.003), Within("gravity", 1.0495, 0.003)
	a := Account{Start: Start{VolumeL: Exactly(10), OG: &og, NowSG: &now}}
	e := must(a.MonteCarlo(Draws{N: 5000, Seed: 1}))(t)[0].Estimates
	for _, q := range []Quantity{QABV, QABVInputs} {
		if e[q].Low != 0 || e[q].High < 0.2 {
			t.Errorf("strength %+v", e[q])
		}
	}
	// u of the difference of two readings of limit 0.003: 0.003*sqrt(2/3) times
	// 131 % vol, by the trade's rule, within its own tenth.
	closeTo(t, "u", e[QABVInputs].U, 0.00245*131, 0.032)
}

// TestFinishFixesTheRest: after a final gravity what is left does not ferment,
// also where it was not known before.
func TestFinishFixesTheRest(t *testing.T) {
	og, fg := Exactly(1.050), Exactly(1.012)
	a := Account{
		Start: Start{VolumeL: Exactly(10), OG: &og},
		Steps: []Step{Finish{FG: &fg}, Add{AddSugar(Sugars()[0], Exactly(0.05))}, Finish{}},
	}
	snaps := must(a.Run())(t)
	if left, ok := snaps[1].State.fermentableKg(); !ok || left != 0 {
		t.Errorf("%g kg can ferment after the end, known %v", left, ok)
	}
	left, _ := snaps[2].State.fermentableKg()
	closeTo(t, "sugar added", left, 0.05, 1e-12)
	closeTo(t, "ethanol of the sugar", snaps[3].State.EthanolKg-snaps[1].State.EthanolKg, 0.05/2.0665, 1e-12)
}

// TestUnfermentedRemark: a batch without a gravity reading is wort, and says so.
func TestUnfermentedRemark(t *testing.T) {
	og := Exactly(1.050)
	a := Account{Start: Start{VolumeL: Exactly(20), OG: &og}}
	snaps := must(a.Run())(t)
	closeTo(t, "strength of wort", snaps[0].State.ABVPct(), 0, 0)
	if snaps[0].Notes != NoteUnfermented || NoteUnfermented.Code() != "unfermented" {
		t.Errorf("remarks %b", snaps[0].Notes)
	}
}
