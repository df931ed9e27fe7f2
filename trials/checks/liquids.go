package checks

import (
	"fmt"

	"hedgerow/dilution"
)

// portionOf is what a litre of a liquid brings into an account: the batch after
// it went in less the batch before.
func portionOf(l dilution.Liquid) (dilution.State, error) {
	// into water, but masses add whatever it is poured into
	snaps, err := dilution.Account{Start: litreOfWort(1), Steps: []dilution.Step{dilution.Add{Liquid: l}}}.Run()
	if err != nil {
		return dilution.State{}, err
	}
	before, after := snaps[0].State, snaps[1].State
	return dilution.State{
		WaterKg:   after.WaterKg - before.WaterKg,
		EthanolKg: after.EthanolKg - before.EthanolKg,
		ExtractKg: after.ExtractKg - before.ExtractKg,
	}, nil
}

// density is the density in kg/m3 of a liquid of which one litre is added.
func density(l dilution.Liquid) (float64, error) {
	s, err := portionOf(l)
	return 1000 * s.MassKg(), err
}

// waterDensity is a litre of water measured at a temperature.
func waterDensity(in *inputs) (float64, error) {
	return density(dilution.AddTea{VolumeL: dilution.Exactly(1), TempC: new(dilution.Exactly(in.num("t_C")))})
}

// spirit is a litre of spirit measured at a temperature.
func spirit(abvPct, tempC float64) dilution.AddSpirit {
	return dilution.AddSpirit{
		VolumeL: dilution.Exactly(1),
		TempC:   new(dilution.Exactly(tempC)),
		ABVPct:  dilution.Exactly(abvPct),
	}
}

// ethanolIn is the mass fraction of ethanol of a spirit.
func ethanolIn(abvPct float64) (float64, error) {
	s, err := portionOf(spirit(abvPct, 20))
	return s.EthanolKg / s.MassKg(), err
}

// strengthWith is the strength of the spirit with a mass fraction of ethanol, by
// halving: a spirit is always given by its strength.
func strengthWith(fraction float64) (float64, error) {
	if !(fraction >= 0 && fraction <= 1) {
		return 0, fmt.Errorf("mass fraction %v is outside 0 to 1", fraction)
	}
	low, high := 0.0, 100.0
	for range 60 {
		middle := (low + high) / 2
		p, err := ethanolIn(middle)
		if err != nil {
			return 0, err
		}
		if p < fraction {
			low = middle
		} else {
			high = middle
		}
	}
	// after sixty halvings both ends are a rounding apart
	return high, nil
}

// strengthOfFraction is the strength with a mass fraction.
func strengthOfFraction(in *inputs) (float64, error) { return strengthWith(in.num("mass_frac")) }

// massFraction is the ethanol of a spirit.
func massFraction(in *inputs) (float64, error) { return ethanolIn(in.num("abv_pct")) }

// spiritDensity is the density of a mixture by its mass fraction.
func spiritDensity(in *inputs) (float64, error) {
	abv, err := strengthWith(in.num("mass_frac"))
	if err != nil {
		return 0, err
	}
	return density(spirit(abv, in.num("t_C")))
}

// spiritDensityAt20C is the density by the strength, as printed tables list it.
func spiritDensityAt20C(in *inputs) (float64, error) { return density(spirit(in.num("abv_pct"), 20)) }

// sugarDensity is the density of a sugar solution, a litre of juice.
func sugarDensity(in *inputs) (float64, error) {
	return density(dilution.AddJuice{
		VolumeL: dilution.Exactly(1),
		TempC:   new(dilution.Exactly(in.num("t_C"))),
		Plato:   dilution.Exactly(in.num("plato")),
	})
}
