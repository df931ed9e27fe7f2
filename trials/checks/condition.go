package checks

import (
	"errors"
	"fmt"

	"hedgerow/dilution"
)

// conditionQuantity is a figure of beer after it has fermented in the package, by
// the steps that end a ledger.
func conditionQuantity(name string) (evaluator, bool) {
	if name == "label_abv" {
		return func(in *inputs) (float64, error) { return dilution.LabelABVPct(in.num("abv_pct")) }, true
	}
	figure, ok := map[string]dilution.Quantity{
		"abv_after": dilution.QABVInputs,
		"sg_after":  dilution.QSG,
	}[name]
	return func(in *inputs) (float64, error) {
		a := conditioned(in)
		// the zeros in place of missing inputs would be refused in a sentence about zeros
		if in.err != nil {
			return 0, in.err
		}
		return at{len(a.Steps), figure, false}.best(a)
	}, ok
}

// conditioned reads a beer of known strength, primed with sugar_g of a sugar in
// water_mL of water: extract_share of it is extract, water_share water and the rest
// does not ferment; of the extract fermented_share does.
func conditioned(in *inputs) dilution.Account {
	abv, sg := dilution.Exactly(in.num("abv_pct")), dilution.Exactly(in.num("sg"))
	share, water := in.num("extract_share"), in.num("water_share")
	fermented := dilution.Exactly(in.num("fermented_share"))
	a := dilution.Account{Start: dilution.Start{VolumeL: dilution.Exactly(in.num("V_L")), ABVPct: &abv, NowSG: &sg,
		Finished: true}}
	// an addition of nothing is refused, and rows without water mean none
	if ml := in.num("water_mL"); ml != 0 {
		a.Steps = append(a.Steps, dilution.Add{Liquid: dilution.AddTea{VolumeL: dilution.Exactly(ml / 1000)}})
	}
	if g := in.num("sugar_g"); g != 0 {
		a.Steps = append(a.Steps, dilution.Add{Liquid: dilution.AddFruit{MassKg: dilution.Exactly(g / 1000),
			Water: dilution.Exactly(water), Sugar: dilution.Exactly(share), Nonfermentable: dilution.Exactly(rest(share, water)),
			Fermentability: &fermented}})
	}
	a.Steps = append(a.Steps, dilution.Condition{Share: dilution.ConditionShare()})
	return a
}

// rest is what two shares leave of the whole; a hair below zero is rounding.
func rest(share, water float64) float64 {
	if left := 1 - share - water; left < -1e-9 || left > 1e-12 {
		return left
	}
	return 0
}

// strongQuantity is a figure of the doubt of a strength, as a budget of the ledger
// has it.
func strongQuantity(name string) (evaluator, bool) {
	compute, ok := map[string]evaluator{"u_abv": strengthU, "yield_sensitivity": yieldSensitivity}[name]
	return compute, ok
}

// strengthU is the standard uncertainty of a strength from its parts.
func strengthU(in *inputs) (float64, error) {
	d := dilution.StrengthDoubt{ModelPct: in.num("u_model"), FermentedPct: in.num("abv_fermented_pct"),
		YieldRel: in.num("u_yield_rel"), InputsPct: in.num("u_instrument")}
	for what, v := range map[string]float64{"u_model": d.ModelPct, "abv_fermented_pct": d.FermentedPct,
		"u_yield_rel": d.YieldRel, "u_instrument": d.InputsPct} {
		if v < 0 {
			return 0, fmt.Errorf("%s is %v, below zero", what, v)
		}
	}
	return d.U(), nil
}

// yieldSensitivity is how much of the doubt of the yield two gravities leave: what
// the yield adds to the doubt of the strength, over all that it could.
func yieldSensitivity(in *inputs) (float64, error) {
	budgets, err := beerAccount(in, 1).FirstOrder()
	if err != nil {
		return 0, err
	}
	b := budgets[0].Quantities[dilution.QABV]
	for _, part := range b.Parts {
		// a strength of nothing has no share to divide by
		if part.Name == dilution.YieldError && b.Value > 1e-9 {
			return part.U / (dilution.YieldURel * b.Value), nil
		}
	}
	return 0, errors.New("nothing has fermented")
}
