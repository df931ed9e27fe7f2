package dilution

import (
	"encoding/json"
	"testing"

	"hedgerow/trials/figure"
)

// FuzzEvaluate: whatever the inputs, an answer is an ordinary number or an
// error, never a panic.
func FuzzEvaluate(f *testing.F) {
	f.Add("water_density", `{"t_C": 20}`)
	f.Add("beer_abv", `{"og": 1.05, "fg": 1.01}`)
	f.Add("mix_sg20", `{"water_kg": 0, "ethanol_kg": 0, "extract_kg": 0}`)
	f.Add("mix_volume_L", `{"water_kg": -1, "ethanol_kg": 1, "extract_kg": 0, "t_C": 20}`)
	f.Add("plato_from_sg", `{"sg": 1e308}`)
	f.Add("unit_conversion", `{"frm": "F", "to": "C", "value": 1e308}`)
	f.Add("ph_two_point", `{"buffer1": 4, "read1": 4, "buffer2": 7, "read2": 4, "reading": 5}`)
	for family, inputs := range checkExamples {
		if family != "uncertainty.d" {
			f.Add(family+".sg", inputs)
		}
	}
	f.Fuzz(func(t *testing.T, quantity, inputs string) {
		v, known, err := Evaluate(quantity, json.RawMessage(inputs))
		if known && err == nil && !figure.Finite(v) {
			t.Errorf("%s %s = %g", quantity, inputs, v)
		}
		if !known && err != nil {
			t.Errorf("%s is not known, with error %v", quantity, err)
		}
	})
}

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
