package dilution

import (
	"fmt"
	"math"
	"testing"
)

// readBeer is a wort, its final gravity read later.
func readBeer(og, fg float64) Account {
	o := Exactly(og)
	return Account{Start: Start{VolumeL: Exactly(10), OG: &o}, Steps: []Step{ReadGravity{SG: Exactly(fg)}}}
}

// With both gravities measured the strength moves by the share of the yield that
// an independent program found by central difference of the mass model over 1 %
// (computed independently), whether the beer begins as wort or
// as beer.
func TestYieldTiedByGravities(t *testing.T) {
	for _, c := range []struct{ og, fg, want float64 }{
		{1.045, 1.010, 0.77}, {1.060, 1.012, 0.754114}, {1.100, 1.020, 0.72}, {1.125, 1.010, 0.69},
	} {
		tolerance := 0.005 // two printed digits
		if c.og == 1.060 {
			tolerance = 1e-5
		}
		og, fg := Exactly(c.og), Exactly(c.fg)
		for name, a := range map[string]Account{
			"wort": readBeer(c.og, c.fg),
			"beer": {Start: Start{VolumeL: Exactly(10), OG: &og, NowSG: &fg}},
		} {
			budgets := must(a.FirstOrder())(t)
			b := budgets[len(budgets)-1].Quantities[QABV]
			closeTo(t, fmt.Sprint(name, c.og), partNamed(b, YieldError)/YieldURel/b.Value, c.want, tolerance)
		}
	}
}

// partNamed is what a source adds to a budget, 0 where it adds nothing.
func partNamed(b budget, name string) float64 {
	for _, part := range b.Parts {
		if part.Name == name {
			return part.U
		}
	}
	return 0
}

// Without instruments the doubt of an expected strength of 5 to 16 % vol is that
// of the table of section 8.
func TestStrengthDoubt(t *testing.T) {
	for abv, want := range map[float64]float64{5: 0.117, 8: 0.139, 10: 0.156, 12: 0.175, 14: 0.196, 16: 0.216} {
		d := StrengthDoubt{ModelPct: ModelABVPct, FermentedPct: abv, YieldRel: YieldURel}
		closeTo(t, fmt.Sprint(abv), d.U(), want, 0.0006)
	}
}

// What no gravity has tied moves with all of the yield, what one has with a part,
// spirit not at all; and it is one error, so that they add before squaring.
func TestYieldIsOneError(t *testing.T) {
	a := readBeer(1.060, 1.012)
	a.Start.FinalSG = new(Exactly(1.012))
	a.Steps = append(a.Steps, Add{AddSugar(Sugars()[0], Exactly(0.1))}, Finish{},
		Add{AddSpirit{VolumeL: Exactly(0.5), ABVPct: Exactly(40)}})
	snaps := must(a.Run())(t)
	budgets := must(a.FirstOrder())(t)
	kgAt := func(i int) float64 { return snaps[i].State.EthanolKg }
	tied := 0.754114 * kgAt(1)
	added := kgAt(3) - kgAt(2)
	after := snaps[4].State
	want := YieldURel * 100 * 1000 * (tied + added) / ethanolDensity20 / after.VolumeL()
	closeTo(t, "yield", partNamed(budgets[4].Quantities[QABV], YieldError), want, 1e-5)
	if partNamed(budgets[4].Quantities[QABVInputs], YieldError) != 0 {
		t.Error("the yield is no doubt of an input")
	}
	label := Start{VolumeL: Exactly(10), ABVPct: new(Exactly(5)), NowSG: new(Exactly(1.01))}
	printed := must(Account{Start: label}.FirstOrder())(t)
	if u := printed[0].Quantities[QABV].U; u != 0 {
		t.Errorf("a printed strength has u %v", u)
	}
}

// A reading after the sugar has fermented ties all of it again.
func TestReadingTiesTheYieldAgain(t *testing.T) {
	a := readBeer(1.060, 1.012)
	a.Start.FinalSG = new(Exactly(1.012))
	a.Steps = append(a.Steps, Add{AddSugar(Sugars()[0], Exactly(0.1))}, Finish{})
	snaps := must(a.Run())(t)
	end := snaps[3].State
	a.Steps = append(a.Steps, ReadGravity{SG: Exactly(end.SG())})
	b := must(a.FirstOrder())(t)[4].Quantities[QABV]
	og, fg := Exactly(end.OriginalSG()), Exactly(end.SG())
	same := must(Account{Start: Start{VolumeL: Exactly(1), OG: &og, NowSG: &fg}}.FirstOrder())(t)[0].Quantities[QABV]
	closeTo(t, "yield", partNamed(b, YieldError), partNamed(same, YieldError), 1e-6)
}

// Draws and first order agree on a strong beer, where the yield counts for as much
// as the model, and so do the limits: a normal and a rectangular error beside one
// another.
func TestYieldByBothWays(t *testing.T) {
	a := readBeer(1.125, 1.010)
	fast := must(a.Propagate())(t)[1].Estimates[QABV]
	drawn := must(a.MonteCarlo(Draws{N: 200_000, Seed: 11}))(t)[1].Estimates[QABV]
	want := math.Hypot(0.10, 0.012*0.6927*fast.Value)
	closeTo(t, "first order", fast.U, want, 0.0005)
	closeTo(t, "Monte Carlo", drawn.U, want, 0.001)
	closeTo(t, "low", fast.Low, drawn.Low, 0.004)
	closeTo(t, "high", fast.High, drawn.High, 0.004)
}

// The warning begins above 10 % vol that was fermented.
func TestStrongIsRemarked(t *testing.T) {
	for _, c := range []struct {
		og, fg float64
		want   bool
	}{{1.048, 1.010, false}, {1.086, 1.011, false}, {1.090, 1.010, true}, {1.125, 1.010, true}} {
		snaps := must(readBeer(c.og, c.fg).Run())(t)
		if got := snaps[1].Notes.has(NoteStrong); got != c.want {
			t.Errorf("%v: strong %v at %.2f %% vol", c.og, got, snaps[1].State.ABVPct())
		}
		if snaps[0].Notes.has(NoteStrong) {
			t.Errorf("%v: the wort is no strong beer", c.og)
		}
	}
	spirited := readBeer(1.048, 1.010)
	spirited.Steps = append(spirited.Steps, Add{AddSpirit{VolumeL: Exactly(3), ABVPct: Exactly(60)}})
	if snaps := must(spirited.Run())(t); snaps[2].Notes.has(NoteStrong) {
		t.Error("spirit does not come from gravities")
	}
}
