package dilution

import (
	"math"
	"testing"
)

// conditioned is a beer of a printed strength, primed and fermented in the
// package; the figures after each step.
func conditioned(t *testing.T, beer Start, priming AddFruit, waterML float64) []Snapshot {
	t.Helper()
	a := Account{Start: beer, Steps: []Step{Add{AddTea{VolumeL: Exactly(waterML / 1000)}}, Add{priming},
		Condition{Share: ConditionShare()}}}
	return must(a.Run())(t)
}

// Just primed and after conditioning, computed independently: Balling with the
// mass balance, by a separate program.
func TestConditioningExamples(t *testing.T) {
	label := func(litres, abv, sg float64) Start {
		return Start{VolumeL: Exactly(litres), ABVPct: new(Exactly(abv)), NowSG: new(Exactly(sg)), Finished: true}
	}
	for _, c := range []struct {
		name                              string
		beer                              Start
		sugar                             AddFruit
		waterML                           float64
		primed, primedSG, after, afterSG  float64
		primedL, afterL, co2GPerL, labels float64
	}{
		{"sugar", label(12.5, 4.90, 1.0105), AddSugar(Sugars()[0], Exactly(0.082)), 150,
			4.823, 1.01282, 5.220, 1.00980, 12.701, 12.697, 2.99, 5.2},
		{"dextrose", label(17, 6.30, 1.012), AddSugar(Sugars()[1], Exactly(0.126)), 200,
			6.197, 1.01435, 6.606, 1.01127, 0, 0, 0, 6.6},
	} {
		snaps := conditioned(t, c.beer, c.sugar, c.waterML)
		primed, after := snaps[2].State, snaps[3].State
		closeTo(t, c.name+" primed", primed.ABVPct(), c.primed, 0.0005)
		closeTo(t, c.name+" primed SG", primed.SG(), c.primedSG, 0.000005)
		closeTo(t, c.name+" after", after.ABVPct(), c.after, 0.0005)
		closeTo(t, c.name+" SG after", after.SG(), c.afterSG, 0.000005)
		label := must(LabelABVPct(after.ABVPct()))(t)
		closeTo(t, c.name+" label", label, c.labels, 1e-12)
		if c.primedL > 0 {
			closeTo(t, c.name+" volume", primed.VolumeL(), c.primedL, 0.0005)
			closeTo(t, c.name+" volume after", after.VolumeL(), c.afterL, 0.0005)
			closeTo(t, c.name+" CO2", (after.CO2G-primed.CO2G)/after.VolumeL(), c.co2GPerL, 0.005)
		}
	}
}

// A gravity taken as final keeps its doubt: only later sugar ferments.
func TestSettle(t *testing.T) {
	og := Within("original gravity", 1.048, 0.001)
	a := Account{Start: Start{VolumeL: Exactly(10), OG: &og},
		Steps: []Step{ReadGravity{SG: Within("gravity", 1.010, 0.001)},
			Settle{}, Add{AddSugar(Sugars()[0], Exactly(0.06))}, Condition{Share: ConditionShare()}}}
	results := must(a.MonteCarlo(Draws{N: 20_000, Seed: 9}))(t)
	if results[1].Estimates[QSG] != results[2].Estimates[QSG] || results[2].Estimates[QSG].U < 0.0005 {
		t.Errorf("gravity %+v became %+v", results[1].Estimates[QSG], results[2].Estimates[QSG])
	}
	gained := results[4].State.EthanolKg - results[2].State.EthanolKg
	closeTo(t, "ethanol of 60 g of sugar by Balling", gained, 0.06/2.0665, 1e-9)
	unread := Account{Start: a.Start, Steps: []Step{Condition{Share: ConditionShare()}}}
	if _, err := unread.Run(); err == nil {
		t.Error("conditioned without a word on how far it ferments")
	}
	for _, share := range []float64{-0.1, 1.1, math.NaN()} {
		bad := Account{Start: a.Start, Steps: []Step{Settle{}, Condition{Share: Exactly(share)}}}
		if _, err := bad.Run(); err == nil {
			t.Errorf("share %v was taken", share)
		}
	}
}

// The examples of the guidance round down (7.59 to 7.5); a strength that is a
// tenth but for rounding keeps it.
func TestLabel(t *testing.T) {
	for abv, want := range map[float64]float64{7.59: 7.5, 5.0: 5.0, 0.3 * 10: 3.0, 0.1 + 0.2: 0.3, 0: 0, 4.96: 4.9} {
		closeTo(t, "label", must(LabelABVPct(abv))(t), want, 1e-12)
	}
	for _, bad := range []float64{-0.1, 96.1, math.NaN(), math.Inf(1)} {
		if _, err := LabelABVPct(bad); err == nil {
			t.Errorf("%v %% vol was taken", bad)
		}
	}
}

// A beer that has reached the gravity expected of it is finished, whatever either
// reading may be off; one that has not is left alone, in every draw.
func TestSettleWhereReached(t *testing.T) {
	beer := func(read float64) []StepResult {
		og, final := Exactly(1.048), Within("expected final gravity", 1.010, 0.001)
		a := Account{Start: Start{VolumeL: Exactly(10), OG: &og, FinalSG: &final},
			Steps: []Step{ReadGravity{SG: Within("gravity", read, 0.001)}, Settle{IfReached: true}}}
		return must(a.MonteCarlo(Draws{N: 2000, Seed: 10}))(t)
	}
	for _, read := range []float64{1.010, 1.009} {
		if e := beer(read)[2].Estimates[QCO2ToComeG]; e.Value > 1e-6 || e.U > 1e-6 {
			t.Errorf("read at %v: %+v g of CO2 to come", read, e)
		}
	}
	unfinished := beer(1.013)
	if before, after := unfinished[1].Estimates, unfinished[2].Estimates; before != after {
		t.Errorf("%+v became %+v", before[QCO2ToComeG], after[QCO2ToComeG])
	}
	if n := unfinished[2].Notes; n.has(noteIdle) {
		t.Errorf("notes %b", n)
	}
}
