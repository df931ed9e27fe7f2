package dilution

import (
	"testing"

	"hedgerow/trials/figure"
)

// FuzzAccount: whatever the figures, an account gives ordinary numbers or an
// error.
func FuzzAccount(f *testing.F) {
	f.Add(20.0, 1.05, 1.012, 1.0, 60.0, 0.5, 0.2, 9.0)
	f.Add(1e-9, 1.2, 0.99, 1e9, 100.0, 1e-9, 0.0, 1e-3)
	f.Add(-1.0, 0.97, 1.2, 0.0, -5.0, 100.0, 1e308, 0.0)
	f.Fuzz(func(t *testing.T, volume, og, now, added, tempC, fruit, lost, taken float64) {
		ogIn, nowIn, temp := Exactly(og), Exactly(now), Exactly(tempC)
		a := Account{
			Start: Start{VolumeL: Within("volume", volume, 0.1), OG: &ogIn, NowSG: &nowIn, Finished: true},
			Steps: []Step{
				Add{AddTea{VolumeL: Exactly(added), TempC: &temp}},
				Add{AddFruit{MassKg: Exactly(fruit), Water: Exactly(0.8), Sugar: Exactly(0.1), Nonfermentable: Exactly(0)}},
				LoseVolume{Exactly(lost)},
				TakeOut{Exactly(taken)},
				ReadGravity{SG: Exactly(now)},
			},
		}
		results, err := a.MonteCarlo(Draws{N: 100, Seed: 1})
		if err != nil {
			return
		}
		for i, r := range results {
			for q, e := range r.Estimates {
				if !figure.Finite(e.Value) || !figure.Finite(e.Low) || !figure.Finite(e.High) || !figure.Finite(e.U) {
					t.Errorf("step %d quantity %d: %+v", i, q, e)
				}
			}
		}
	})
}
