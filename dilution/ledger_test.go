package dilution

import "testing"

// handStep is the state after one step of the ledger worked by hand.
type handStep struct {
	what                                       string
	waterKg, ethanolKg, extractKg              float64
	volumeL, sg, abvPct, originalSG, keptShare float64
}

// TestLedgerByHand follows a batch with a tea in mid-fermentation, fruit later,
// two kinds of loss and a hydrometer whose zero error was found afterwards, step
// by step.
//
// The expected figures were computed independently: a short program in another
// language, with only the published equations (every power written out, no
// Horner sums), each root found by 200 halvings instead of Newton steps. The
// hydrometer showed 1.0010 in plain water at 20 C when it was finally tried, so
// every reading below is entered 0.0010 lower than it was noted.
func TestLedgerByHand(t *testing.T) {
	og, final := Exactly(1.052), Exactly(1.011)
	ibu, solids, hot, sample := Exactly(28), Exactly(6), Exactly(60), Exactly(26)
	a := Account{
		Start: Start{VolumeL: Exactly(20), OG: &og, FinalSG: &final, IBU: &ibu},
		Steps: []Step{
			ReadGravity{SG: Exactly(1.0310 - 0.0010)},
			LoseVolume{Exactly(0.20)},
			Add{AddTea{VolumeL: Exactly(0.8), TempC: &hot, SolidsGPerL: &solids}},
			ReadGravity{SG: Exactly(1.0190 - 0.0010), TempC: &sample, CalTempC: Cal20C},
			Add{AddFruit{MassKg: Exactly(1.8), Water: Exactly(0.8575), Sugar: Exactly(0.0442), Nonfermentable: Exactly(0.0148)}},
			ReadGravity{SG: Exactly(1.0105 - 0.0010)},
			LosePulp{FruitKg: Exactly(1.8), RetainKgPerKg: Exactly(0.6)},
			LoseVolume{Exactly(0.5)},
		},
		Tracers: []Tracer{{Name: "flowers in the tea", AfterStep: 3, Amount: Exactly(30)}},
	}
	want := []handStep{
		// 20 L of 1.052: 12.872 P, 20*1.052*0.99820123 kg in all.
		{"wort", 18.298903, 0, 2.703251, 20, 1.052, 0, 1.052, 1},
		// 0.931768 kg of extract gone brings SG to 1.0300; a 2.0665th of it is
		// ethanol; the beer shrinks by 41 mL.
		{"first reading", 18.298903, 0.450892, 1.771483, 19.95947, 1.030, 2.86230, 1.052, 1},
		// All masses times 1 - 0.20/19.95947.
		{"sample", 18.115542, 0.446374, 1.753733, 19.75947, 1.030, 2.86230, 1.052, 0.989980},
		// 0.8 L at 60 C with 4.8 g of solids hold 0.783577 kg of water: 0.788 L
		// when cold. The original gravity is an equivalent from here on.
		{"tea", 18.899119, 0.446374, 1.758533, 20.54747, 1.028937, 2.75253, 1.050109, 0.989980},
		// 1.0180 at 26 C is 1016.0164 kg/m3; 0.414801 kg of extract gone give
		// that density at 26 C, which is 1.019466 at 20 C.
		{"warm reading", 18.899119, 0.647100, 1.343731, 20.52799, 1.019466, 3.99408, 1.050109, 0.989980},
		// 1.8 kg of fruit: 1.5435 kg water, 0.07956 kg sugar, 0.02664 kg other.
		{"fruit", 20.442619, 0.647100, 1.449931, 22.14015, 1.019879, 3.70324, 1.048320, 0.989980},
		// 0.490796 kg of extract gone; the reading holds at 1.048320.
		{"last reading", 20.442619, 0.884601, 0.959135, 22.11641, 1.0095, 5.06786, 1.048320, 0.989980},
		// The pulp keeps 1.8*0.6 = 1.08 kg of 22.286355 kg.
		{"pulp out", 19.451967, 0.841734, 0.912655, 21.04465, 1.0095, 5.06786, 1.048320, 0.942005},
		// 0.5 L of 21.04465 L stay on the trub.
		{"racked", 18.989807, 0.821735, 0.890971, 20.54465, 1.0095, 5.06786, 1.048320, 0.919624},
	}
	results := must(a.MonteCarlo(Draws{N: 100, Seed: 1}))(t)
	if len(results) != len(want) {
		t.Fatalf("%d snapshots, want %d", len(results), len(want))
	}
	for i, w := range want {
		s := results[i].State
		// The masses and figures are written to their last digit.
		closeTo(t, w.what+": water", s.WaterKg, w.waterKg, 1e-6)
		closeTo(t, w.what+": ethanol", s.EthanolKg, w.ethanolKg, 1e-6)
		closeTo(t, w.what+": extract", s.ExtractKg, w.extractKg, 1e-6)
		closeTo(t, w.what+": volume", s.VolumeL(), w.volumeL, 1e-5)
		closeTo(t, w.what+": gravity", s.SG(), w.sg, 1e-6)
		closeTo(t, w.what+": strength", s.ABVPct(), w.abvPct, 1e-5)
		closeTo(t, w.what+": original gravity", s.OriginalSG(), w.originalSG, 1e-6)
		closeTo(t, w.what+": kept share", results[i].KeptShare, w.keptShare, 1e-6)
	}

	// 28 mg/L of 20 L, less three losses, in 20.54465 L.
	got, _ := results[8].State.IBU()
	closeTo(t, "bitterness", got, 25.066846, 1e-6)
	// 30 g times 0.919624/0.989980, in 20.54465 L.
	dose := results[8].DosesGPerL[0]
	closeTo(t, "dose of the flowers", dose.Value, 1.356459, 1e-6)
	// Nothing is in doubt, so the draws and the budget give the same.
	closeTo(t, "lowest dose drawn", dose.Low, 1.356459, 1e-6)
	closeTo(t, "highest dose drawn", dose.High, 1.356459, 1e-6)
	closeTo(t, "dose of the budget", must(a.FirstOrder())(t)[8].DosesGPerL[0].Value, 1.356459, 1e-6)
	// After the fruit 0.466549 kg could still ferment: 215.947 g of CO2, and an
	// expected final gravity of 1.010012.
	closeTo(t, "CO2 to come", results[5].Estimates[QCO2ToComeG].Value, 215.947, 1e-3)
	end, _ := results[5].State.Finish()
	closeTo(t, "expected final gravity", end.SG(), 1.010012, 1e-6)
	// The rule (OG-FG)*131.25 on the first and last readings says 5.58 % vol, half
	// a per cent too much, for the tea and the fruit diluted the beer.
	if rule := (1.052 - 1.0095) * 131.25; rule-results[8].State.ABVPct() < 0.5 {
		t.Errorf("rule %g, model %g", rule, results[8].State.ABVPct())
	}
	if !results[6].Notes.has(NoteFurther) {
		t.Error("a gravity below the expected one is not remarked on")
	}
}

// TestCorrectionAfterwards: a zero error found later changes every figure after
// the first reading, and a common zero error moves all readings together.
func TestCorrectionAfterwards(t *testing.T) {
	og := Exactly(1.050)
	read := func(zero float64) float64 {
		a := Account{
			Start: Start{VolumeL: Exactly(20), OG: &og},
			Steps: []Step{ReadGravity{SG: Exactly(1.014 - zero)}, Add{AddTea{VolumeL: Exactly(1)}}},
		}
		return must(a.Run())(t)[2].State.ABVPct()
	}
	if gain := read(0.002) - read(0); gain < 0.2 || gain > 0.3 {
		t.Errorf("a zero error of 0.002 in the final gravity alone is worth %g %% vol, want about 0.26", gain)
	}
}
