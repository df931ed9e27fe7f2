package checks

import (
	"fmt"

	"hedgerow/extraction"
)

// soakOf reads a plant in a liquid: a batch in litres, or a tincture in mL.
func soakOf(in *inputs) (extraction.Soak, extraction.SoakBalance, error) {
	s := extraction.Soak{LiquidL: in.numOr("V0_L", 0) + in.numOr("V_mL", 0)/1000, MassG: in.num("m_g"),
		Moisture:     in.num("M"),
		SolidsPerDry: in.num("solids_per_dm"), HeldMLPerG: in.num("r_mL_per_g"),
		OwnWaterFloor: in.numOr("own_water_floor", 0),
		EvaporatedL:   in.numOr("evap_L", 0)}
	b, err := s.Balance()
	return s, b, err
}

// contactQuantity is a figure of a plant put straight in, through the balance that
// steep and ledger share.
func contactQuantity(figure string) (evaluator, bool) {
	read, ok := map[string]func(*inputs, extraction.Soak, extraction.SoakBalance) float64{
		"volume_in":    func(_ *inputs, _ extraction.Soak, b extraction.SoakBalance) float64 { return b.MixL },
		"volume_after": func(_ *inputs, _ extraction.Soak, b extraction.SoakBalance) float64 { return b.AfterL },
		"held_l":       func(_ *inputs, _ extraction.Soak, b extraction.SoakBalance) float64 { return b.HeldL },
		"loss_l": func(_ *inputs, s extraction.Soak,
			b extraction.SoakBalance) float64 {
			return s.LiquidL - b.AfterL
		},
		"solids_g_per_l": func(_ *inputs, _ extraction.Soak,
			b extraction.SoakBalance) float64 {
			return b.DissolvedG / b.MixL
		},
		"kept_share": func(_ *inputs, _ extraction.Soak, b extraction.SoakBalance) float64 { return b.AfterL / b.MixL },
		"spent_g":    spentG,
		"sg_after":   mixedSG,
		"abv_after": func(in *inputs, s extraction.Soak, b extraction.SoakBalance) float64 {
			return in.num("abv_pct") * s.LiquidL / b.MixL
		},
	}[figure]
	if !ok {
		return courseQuantity(figure)
	}
	return func(in *inputs) (float64, error) {
		s, b, err := soakOf(in)
		if err != nil {
			return 0, err
		}
		// read and left alone: rows give a gravity, and it moves no volume
		if figure != "spent_g" && figure != "sg_after" {
			in.numOr("sg", 1)
		}
		in.numOr("abv_pct", 0) // changes no volume
		return read(in, s, b), nil
	}, ok
}

// waterKgPerL is the density of water at 20 C.
const waterKgPerL = 0.99820123

// mixedSG is the gravity of the mixture, masses and volumes adding; taking the plant
// out does not change it.
func mixedSG(in *inputs, s extraction.Soak, b extraction.SoakBalance) float64 {
	beerG := 1000 * waterKgPerL * (s.LiquidL*in.num("sg") - s.EvaporatedL)
	return (beerG + b.WaterG + b.DissolvedG) / (1000 * waterKgPerL * b.MixL)
}

// spentG is the weight of the wet spent plant: what never dissolves and the mixture
// that it holds, masses and volumes adding.
func spentG(in *inputs, s extraction.Soak, b extraction.SoakBalance) float64 {
	beerG := 1000 * waterKgPerL * (s.LiquidL*in.num("sg") - s.EvaporatedL)
	return b.InsolubleG + b.HeldL/b.MixL*(beerG+b.WaterG+b.DissolvedG)
}

// tinctureQuantity is the liquid that runs off a tincture, or below which none does,
// L. The second is read off the same tincture with a litre more, of which some does.
func tinctureQuantity(figure string) (evaluator, bool) {
	return func(in *inputs) (float64, error) {
		s, b, err := soakOf(in)
		if err == nil && figure == "minimum_l" {
			s.LiquidL++
			b, err = s.Balance()
			return s.LiquidL - b.AfterL, err
		}
		return b.AfterL, err
	}, figure == "recovered_l" || figure == "minimum_l"
}

// spiritQuantity is the ceiling of a family of solutes by the strength of the liquid.
func spiritQuantity(figure string) (evaluator, bool) {
	return func(in *inputs) (float64, error) {
		c, err := extraction.ParseClass(in.text("family"))
		if err != nil {
			return 0, err
		}
		strength := in.num("abv_pct")
		s := aTea(extraction.Pass{VolumeML: 1000, Efficiency: new(1.0), ABVPct: &strength})
		r, err := s.Run()
		return r.Ceiling[c], err
	}, figure == "ceiling"
}

// heldQuantity is the liquid that a kind of plant keeps, mL per g of dry matter, at
// a normal score.
func heldQuantity(figure string) (evaluator, bool) {
	return func(in *inputs) (float64, error) {
		k, err := extraction.ParseKind(in.text("kind"))
		if err != nil {
			return 0, err
		}
		by, ok := map[string]extraction.Separation{"drained": extraction.Drained, "squeezed": extraction.Squeezed,
			"pressed": extraction.ScrewPressed, "left-in": extraction.LeftIn}[in.text("separation")]
		if !ok {
			return 0, fmt.Errorf("separation %q is none of drained, squeezed, pressed, left-in", in.text("separation"))
		}
		return k.HeldQuantile(by, in.numOr("z", 0)), nil
	}, figure == "default_ml_per_g" || figure == "quantile_ml_per_g"
}
