package checks

import (
	"strings"

	"hedgerow/dilution"
	"hedgerow/trials/figure"
)

// at is a figure of an account: a quantity, or the first tracer's dose, after a
// step.
type at struct {
	step     int
	quantity dilution.Quantity
	dose     bool
}

// fewDraws serve where only the best values are looked at.
var fewDraws = dilution.Draws{N: 100, Seed: 1}

// manyDraws serve the rows on intervals: JCGM 101 asks for at least 200000, and
// the rows allow for the sampling error of that many.
var manyDraws = dilution.Draws{N: 200_000, Seed: 20}

// best returns the best value of a figure of an account, as the ledger has it.
func (f at) best(a dilution.Account) (float64, error) {
	// the way of the ledger, whose best value it is; the few draws are thrown away
	results, err := a.MonteCarlo(fewDraws)
	if err != nil {
		return 0, err
	}
	return f.estimate(results[f.step]).Value, nil
}

// estimate picks the figure of a step.
func (f at) estimate(r dilution.StepResult) figure.Estimate {
	if f.dose {
		return r.DosesGPerL[0]
	}
	return r.Estimates[f.quantity]
}

// gum returns the first-order standard uncertainty of the figure.
func (f at) gum(a dilution.Account) (float64, error) {
	budgets, err := a.FirstOrder()
	if err != nil {
		return 0, err
	}
	if f.dose {
		return budgets[f.step].DosesGPerL[0].U, nil
	}
	return budgets[f.step].Quantities[f.quantity].U, nil
}

// fruitFigures names the figures of fruit put into a fermenting beer, by the step
// of fruitStory they are taken after: 1 just mixed, 2 at the end with base and
// fruit sugar fermented but the pulp still in, 3 racked off the pulp.
func fruitFigures(name string) (at, bool) {
	a, ok := map[string]at{
		"volume_L_mix":    {1, dilution.QVolumeL, false},
		"volume_L_mixed":  {1, dilution.QVolumeL, false},
		"sg_mix":          {1, dilution.QSG, false},
		"sg_mixed":        {1, dilution.QSG, false},
		"co2_g":           {1, dilution.QCO2ToComeG, false},
		"co2_to_come_g":   {1, dilution.QCO2ToComeG, false},
		"volume_L_end":    {2, dilution.QVolumeL, false},
		"sg_end":          {2, dilution.QSG, false},
		"fg":              {2, dilution.QSG, false},
		"fg_end":          {2, dilution.QSG, false},
		"abv":             {2, dilution.QABVInputs, false},
		"abv_end":         {2, dilution.QABVInputs, false},
		"og_equiv":        {2, dilution.QOriginalSG, false},
		"equiv_og":        {2, dilution.QOriginalSG, false},
		"og_equiv_end":    {2, dilution.QOriginalSG, false},
		"equiv_og_end":    {2, dilution.QOriginalSG, false},
		"re":              {2, dilution.QRealExtract, false},
		"volume_racked_L": {3, dilution.QVolumeL, false},
		"volume_L_racked": {3, dilution.QVolumeL, false},
	}[name]
	return a, ok
}

// fruitQuantity is a figure of fruit in a fermenting beer.
func fruitQuantity(name string) (evaluator, bool) {
	figure, ok := fruitFigures(name)
	return func(in *inputs) (float64, error) { return figure.best(fruitStory(in)) }, ok
}

// fruitStory reads fruit put into a fermenting beer, fermented out, racked: V and
// sg_now are the beer when the fruit goes in, fg_base the gravity the base would
// reach alone, f_water, f_sugar and f_nonferm kg per kg of fruit, retain the kg
// of mixture that the pulp of one kg of fruit keeps.
func fruitStory(in *inputs) dilution.Account {
	og, now, final := in.limited("og"), in.limited("sg_now"), in.limited("fg_base")
	// One weighing serves the addition and the pulp.
	fruit := in.limited("fruit_kg")
	fruit.Shared, fruit.SharedHalfWidth, fruit.HalfWidth = "fruit", fruit.HalfWidth, 0
	fermentability := in.limitedOr("fermentability", 1)
	return dilution.Account{
		Start: dilution.Start{VolumeL: in.limited("V"), OG: &og, NowSG: &now, FinalSG: &final},
		Steps: []dilution.Step{
			dilution.Add{Liquid: dilution.AddFruit{
				MassKg:         fruit,
				Water:          in.limited("f_water"),
				Sugar:          in.limited("f_sugar"),
				Nonfermentable: in.limited("f_nonferm"),
				Fermentability: &fermentability,
			}},
			dilution.Finish{},
			dilution.LosePulp{FruitKg: fruit, RetainKgPerKg: in.limitedOr("retain", 0)},
		},
	}
}

// uncertaintyQuantity finds a statistic by the name
// "<example>.<figure>.<statistic>"; the statistic may have a dot of its own
// ("mc_2.5pct").
func uncertaintyQuantity(name string) (evaluator, bool) {
	example, rest, _ := strings.Cut(name, ".")
	figureName, statistic, _ := strings.Cut(rest, ".")
	story, figures, ok := storyOf(example)
	if !ok {
		return nil, false
	}
	figure, ok := figures(figureName)
	if !ok {
		return nil, false
	}
	return statisticOf(story, figure, statistic)
}

// storyOf finds an example: how its account is read and its figures named.
func storyOf(name string) (func(*inputs) dilution.Account, func(string) (at, bool), bool) {
	switch name {
	case "dilute":
		return diluteStory, mixFigures, true
	case "tincture":
		return tinctureStory, mixFigures, true
	case "fruit", "fruit_mid":
		return fruitStory, fruitFigures, true
	}
	return nil, nil, false
}

// statisticOf is a statistic of a figure: its value, its first-order standard
// uncertainty (u_gum), or standard deviation and quantiles of the draws. All of
// them are from the inputs' limits alone, without the model's own uncertainty.
func statisticOf(story func(*inputs) dilution.Account, place at, statistic string) (evaluator, bool) {
	if statistic == "u_gum" {
		return func(in *inputs) (float64, error) { return place.gum(story(in)) }, true
	}
	pick, ok := map[string]func(figure.Estimate) float64{
		"value":      func(e figure.Estimate) float64 { return e.Value },
		"mc_2.5pct":  func(e figure.Estimate) float64 { return e.Low },
		"mc_97.5pct": func(e figure.Estimate) float64 { return e.High },
		"mc_sd":      func(e figure.Estimate) float64 { return e.U },
		"u_mc":       func(e figure.Estimate) float64 { return e.U },
	}[statistic]
	return func(in *inputs) (float64, error) {
		a := story(in)
		// the draws of one account serve all its statistics, and take longer than all other rows together
		results, err := once(in, "draws", func() ([]dilution.StepResult, error) { return a.MonteCarlo(manyDraws) })
		if err != nil {
			return 0, err
		}
		return pick(place.estimate(results[place.step])), nil
	}, ok
}

// mixFigures names the figures of a finished beer with something added. The
// dilution factor is read off a passive solute; see finishedBeer.
func mixFigures(name string) (at, bool) {
	switch name {
	case "abv_before":
		return at{0, dilution.QABVInputs, false}, true
	case "factor", "dilution_factor":
		return at{1, dilution.QCO2Volumes, false}, true
	case "dose", "dose_gL", "dose_g_per_L":
		return at{1, 0, true}, true
	}
	q, ok := beerFigures[name]
	return at{1, q, false}, ok
}

// finishedBeer reads a finished beer. It is given one volume of CO2, a passive
// solute, so that its CO2 afterwards is the dilution factor.
func finishedBeer(in *inputs) dilution.Start {
	og, fg := in.limited("og"), in.limited("fg")
	ibu, ebc, one := in.limitedOr("ibu", 0), in.limitedOr("ebc", 0), dilution.Exactly(1)
	return dilution.Start{
		VolumeL: in.limited("V"), OG: &og, NowSG: &fg, Finished: true,
		IBU: &ibu, SRM: &ebc, CO2Volumes: &one,
	}
}

// diluteStory reads a finished beer with water of 20 C added.
func diluteStory(in *inputs) dilution.Account {
	return dilution.Account{
		Start: finishedBeer(in),
		Steps: []dilution.Step{dilution.Add{Liquid: dilution.AddTea{VolumeL: in.limited("water")}}},
	}
}

// tinctureStory reads a finished beer with Vt litres of a tincture added:
// strength in % vol, solids_gL on top of the solvent's volume, drawn from
// plant_g of a plant, whose dose is in g/L of the mix.
func tinctureStory(in *inputs) dilution.Account {
	solids := in.limitedOr("solids_gL", 0)
	return dilution.Account{
		Start: finishedBeer(in),
		Steps: []dilution.Step{dilution.Add{Liquid: dilution.AddSpirit{
			VolumeL:     in.limited("Vt"),
			ABVPct:      in.limited("strength"),
			SolidsGPerL: &solids,
		}}},
		Tracers: []dilution.Tracer{{Name: "plant", AfterStep: 1, Amount: in.limitedOr("plant_g", 0)}},
	}
}
