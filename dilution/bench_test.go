package dilution

import "testing"

// BenchmarkMix measures one mix: water from a volume, added to a beer, with
// volume, gravity and strength of the result.
func BenchmarkMix(b *testing.B) {
	beer, err := FromGravities(Gravities{OG: 1.048, FG: 1.010}, 12)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	var sum float64
	for b.Loop() {
		water, err := Tea{VolumeL: 0.6, TempC: 20}.Portion()
		if err != nil {
			b.Fatal(err)
		}
		mixed := beer.Plus(water)
		sum += mixed.VolumeL() + mixed.SG() + mixed.ABVPct()
	}
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}

// BenchmarkFromGravities measures (OG, FG) to masses.
func BenchmarkFromGravities(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := FromGravities(Gravities{OG: 1.048, FG: 1.010}, 12); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLedger20 measures the intervals of an account of 20 events with
// 10000 draws.
func BenchmarkLedger20(b *testing.B) {
	a := twentyEvents()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := a.MonteCarlo(Draws{N: 10_000, Seed: 1}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkFirstOrder20 measures the budgets of the same account.
func BenchmarkFirstOrder20(b *testing.B) {
	a := twentyEvents()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := a.FirstOrder(); err != nil {
			b.Fatal(err)
		}
	}
}

// twentyEvents is a long account: teas, fruit, sugar and spirit, readings,
// losses, a split and measured volumes.
func twentyEvents() Account {
	gravity := func(sg float64) Input {
		return Input{Name: "gravity", Value: sg, HalfWidth: 0.0005, Shared: "hydrometer", SharedHalfWidth: 0.0005}
	}
	og, final := gravity(1.052), Within("expected final gravity", 1.011, 0.002)
	ibu, srm := Within("IBU", 25, 2), Within("SRM", 6, 0.5)
	solids, hot := Within("tea solids", 8, 2), Within("tea temperature", 60, 5)
	fruit := Input{Name: "fruit", Value: 2, Shared: "fruit", SharedHalfWidth: 0.02}
	loss := LoseVolume{Within("sample", 0.15, 0.05)}
	return Account{
		Start: Start{VolumeL: Within("batch volume", 20, 0.4), OG: &og, FinalSG: &final, IBU: &ibu, SRM: &srm},
		Steps: []Step{
			ReadGravity{SG: gravity(1.045)},
			loss,
			ReadGravity{SG: gravity(1.030)},
			Add{AddTea{VolumeL: Within("tea", 0.5, 0.005), TempC: &hot, SolidsGPerL: &solids}},
			loss,
			ReadGravity{SG: gravity(1.020)},
			Add{AddFruit{
				MassKg:         fruit,
				Water:          Exactly(0.8575),
				Sugar:          Within("fruit sugar", 0.0442, 0.011),
				Nonfermentable: Within("fruit solids", 0.0148, 0.005),
			}},
			loss,
			ReadGravity{SG: gravity(1.014)},
			LosePulp{FruitKg: fruit, RetainKgPerKg: Within("retained", 0.5, 0.25)},
			Add{AddSugar(Sugars()[0], Within("sugar", 0.1, 0.001))},
			Saturate{TempC: Within("temperature", 18, 1)},
			ReadGravity{SG: gravity(1.011)},
			ReadVolume{VolumeL: Within("measured volume", 20.5, 0.3)},
			LoseVolume{Within("trub", 0.8, 0.2)},
			TakeOut{Within("jar", 5, 0.05)},
			Add{AddTea{VolumeL: Within("tea", 0.2, 0.002), SolidsGPerL: &solids}},
			Add{AddSpirit{VolumeL: Within("tincture", 0.02, 0.0005), ABVPct: Within("strength", 60, 1)}},
			Warm{To: Saturate{TempC: Within("temperature", 21, 1)}},
			ReadGravity{SG: gravity(1.009)},
		},
		Tracers: []Tracer{{Name: "flowers", AfterStep: 4, Amount: Within("flowers", 40, 1)}},
	}
}
