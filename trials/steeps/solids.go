package steeps

import (
	"hedgerow/dilution"
	"hedgerow/extraction"
	"hedgerow/trials"
)

// measuredSolids returns the dissolved solids of an extract in g/L from the
// gravity of its passes, each weighed by the liquid that came out of it. It is
// nil unless every pass has a gravity, and in spirit, where a gravity says nothing
// about solids.
func measuredSolids(s extraction.Steep, passes []trials.Pass) (*float64, error) {
	if len(passes) == 0 {
		return nil, nil
	}
	for _, p := range passes {
		if p.TeaSG == nil {
			return nil, nil
		}
	}
	if abv := s.Passes[0].ABVPct; s.Method == extraction.Tincture || abv != nil {
		return nil, nil
	}
	r, err := s.Run()
	if err != nil {
		return nil, trials.ProblemOf(err)
	}
	var grams, ml float64
	for i, p := range passes {
		gPerL, ok := solidsOfGravity(*p.TeaSG)
		if !ok {
			return nil, nil
		}
		grams += gPerL * r.Passes[i].LiquidOutML
		ml += r.Passes[i].LiquidOutML
	}
	if ml == 0 {
		return nil, nil
	}
	solids := grams / ml
	return &solids, nil
}

// solidsOfGravity is the strength of a watery extract of that gravity, taken as
// sugar: its mass fraction times its density at 20 C, g/L.
func solidsOfGravity(sg float64) (gPerL float64, ok bool) {
	plato, err := dilution.PlatoFromSG(sg)
	if err != nil {
		return 0, false
	}
	density, err := dilution.SucroseDensity(plato, 20)
	if err != nil {
		return 0, false
	}
	return max(plato, 0) / 100 * density, true
}
