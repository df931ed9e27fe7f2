package dilution

import (
	"strings"

	"hedgerow/trials/figure"
)

// checkDraws is how the Monte Carlo rows are computed: [13] asks for at least
// 200000 draws, and the rows allow for the sampling error of that many.
var checkDraws = Draws{N: 200_000, Seed: 20}

// at is a figure of an account: a quantity, or the first tracer's dose, after a
// step.
type at struct {
	step     int
	quantity Quantity
	dose     bool
}

// fruitFigures names the figures of fruit put into a fermenting beer, by the
// step of fruitAccount they are taken after: 1 just mixed, 2 at the end with
// base and fruit sugar fermented but the pulp still in, 3 racked off the pulp.
func fruitFigures(name string) (at, bool) {
	a, ok := map[string]at{
		"volume_L_mix":    {1, QVolumeL, false},
		"volume_L_mixed":  {1, QVolumeL, false},
		"sg_mix":          {1, QSG, false},
		"sg_mixed":        {1, QSG, false},
		"co2_g":           {1, QCO2ToComeG, false},
		"co2_to_come_g":   {1, QCO2ToComeG, false},
		"volume_L_end":    {2, QVolumeL, false},
		"sg_end":          {2, QSG, false},
		"fg":              {2, QSG, false},
		"fg_end":          {2, QSG, false},
		"abv":             {2, QABVInputs, false},
		"abv_end":         {2, QABVInputs, false},
		"og_equiv":        {2, QOriginalSG, false},
		"equiv_og":        {2, QOriginalSG, false},
		"og_equiv_end":    {2, QOriginalSG, false},
		"equiv_og_end":    {2, QOriginalSG, false},
		"re":              {2, QRealExtract, false},
		"volume_racked_L": {3, QVolumeL, false},
		"volume_L_racked": {3, QVolumeL, false},
	}[name]
	return a, ok
}

// fruitCheck is a figure of fruit in a fermenting beer, on best values.
func fruitCheck(name string) (evaluator, bool) {
	figure, ok := fruitFigures(name)
	return func(a *checkArgs) (float64, error) {
		snaps, err := fruitAccount(a).Run()
		if err != nil {
			return 0, err
		}
		var out figures
		snaps[figure.step].State.measure(&out)
		return out[figure.quantity], nil
	}, ok
}

// fruitAccount reads fruit put into a fermenting beer, fermented out, racked: V
// and sg_now are the beer when the fruit goes in, fg_base the gravity the base
// would reach alone, f_water, f_sugar and f_nonferm kg per kg of fruit, retain
// the kg of mixture that the pulp of one kg of fruit keeps.
func fruitAccount(a *checkArgs) Account {
	og, now, final := a.input("og"), a.input("sg_now"), a.input("fg_base")
	// One weighing serves the addition and the pulp.
	fruit := a.input("fruit_kg")
	fruit.Shared, fruit.SharedHalfWidth, fruit.HalfWidth = "fruit", fruit.HalfWidth, 0
	fermentability := a.inputOr("fermentability", 1)
	return Account{
		Start: Start{VolumeL: a.input("V"), OG: &og, NowSG: &now, FinalSG: &final},
		Steps: []Step{
			Add{AddFruit{
				MassKg:         fruit,
				Water:          a.input("f_water"),
				Sugar:          a.input("f_sugar"),
				Nonfermentable: a.input("f_nonferm"),
				Fermentability: &fermentability,
			}},
			Finish{},
			LosePulp{FruitKg: fruit, RetainKgPerKg: a.inputOr("retain", 0)},
		},
	}
}

// uncertaintyCheck finds a statistic by the name "<example>.<figure>.<statistic>";
// the statistic may have a dot of its own ("mc_2.5pct").
func uncertaintyCheck(name string) (evaluator, bool) {
	example, rest, _ := strings.Cut(name, ".")
	figureName, statistic, _ := strings.Cut(rest, ".")
	account, figures, ok := exampleOf(example)
	if !ok {
		return nil, false
	}
	figure, ok := figures(figureName)
	if !ok {
		return nil, false
	}
	return statisticCheck(account, figure, statistic)
}

// exampleOf finds an example: how its account is read and its figures named.
func exampleOf(name string) (func(*checkArgs) Account, func(string) (at, bool), bool) {
	switch name {
	case "dilute":
		return diluteAccount, mixFigures, true
	case "tincture":
		return tinctureAccount, mixFigures, true
	case "fruit", "fruit_mid":
		return fruitAccount, fruitFigures, true
	}
	return nil, nil, false
}

// statisticCheck is a statistic of a figure: its value, its first-order standard
// uncertainty (u_gum), or standard deviation and quantiles of the draws. All of
// them are from the inputs' limits alone, without the model's own uncertainty.
func statisticCheck(account func(*checkArgs) Account, place at, statistic string) (evaluator, bool) {
	quantile, ok := map[string]func(figure.Estimate) float64{
		"value":      func(e figure.Estimate) float64 { return e.Value },
		"mc_2.5pct":  func(e figure.Estimate) float64 { return e.Low },
		"mc_97.5pct": func(e figure.Estimate) float64 { return e.High },
		"mc_sd":      func(e figure.Estimate) float64 { return e.U },
		"u_mc":       func(e figure.Estimate) float64 { return e.U },
	}[statistic]
	if statistic == "u_gum" {
		return func(a *checkArgs) (float64, error) { return place.gum(account(a)) }, true
	}
	return func(a *checkArgs) (float64, error) {
		results, err := account(a).MonteCarlo(checkDraws)
		if err != nil {
			return 0, err
		}
		if place.dose {
			return quantile(results[place.step].DosesGPerL[0]), nil
		}
		return quantile(results[place.step].Estimates[place.quantity]), nil
	}, ok
}

// gum is the first-order standard uncertainty of the figure.
func (f at) gum(account Account) (float64, error) {
	budgets, err := account.FirstOrder()
	if err != nil {
		return 0, err
	}
	if f.dose {
		return budgets[f.step].DosesGPerL[0].U, nil
	}
	return budgets[f.step].Quantities[f.quantity].U, nil
}

// mixFigures names the figures of a finished beer with something added. The
// dilution factor is read off a passive solute; see finishedStart.
func mixFigures(name string) (at, bool) {
	a, ok := map[string]at{
		"volume_L":         {1, QVolumeL, false},
		"sg":               {1, QSG, false},
		"abv":              {1, QABVInputs, false},
		"abv_pct":          {1, QABVInputs, false},
		"abv_before":       {0, QABVInputs, false},
		"re":               {1, QRealExtract, false},
		"real_extract_pct": {1, QRealExtract, false},
		"equiv_og":         {1, QOriginalSG, false},
		"og_equiv":         {1, QOriginalSG, false},
		"ibu":              {1, QIBU, false},
		"srm":              {1, QSRM, false},
		"ebc":              {1, QSRM, false}, // read as SRM: the scales are proportional
		"factor":           {1, QCO2Volumes, false},
		"dilution_factor":  {1, QCO2Volumes, false},
		"dose":             {1, 0, true},
		"dose_gL":          {1, 0, true},
		"dose_g_per_L":     {1, 0, true},
	}[name]
	return a, ok
}

// finishedStart reads a finished beer. It is given one volume of CO2, a
// passive solute, so that its CO2 afterwards is the dilution factor.
func finishedStart(a *checkArgs) Start {
	og, fg := a.input("og"), a.input("fg")
	ibu, ebc, one := a.inputOr("ibu", 0), a.inputOr("ebc", 0), Exactly(1)
	return Start{
		VolumeL: a.input("V"), OG: &og, NowSG: &fg, Finished: true,
		IBU: &ibu, SRM: &ebc, CO2Volumes: &one,
	}
}

// diluteAccount reads a finished beer with water litres of water of 20 C added.
func diluteAccount(a *checkArgs) Account {
	return Account{
		Start: finishedStart(a),
		Steps: []Step{Add{AddTea{VolumeL: a.input("water")}}},
	}
}

// tinctureAccount reads a finished beer with Vt litres of a tincture added:
// strength in % vol, solids_gL on top of the solvent's volume, drawn from
// plant_g of a plant, whose dose is in g/L of the mix.
func tinctureAccount(a *checkArgs) Account {
	solids := a.inputOr("solids_gL", 0)
	return Account{
		Start: finishedStart(a),
		Steps: []Step{Add{AddSpirit{
			VolumeL:     a.input("Vt"),
			ABVPct:      a.input("strength"),
			SolidsGPerL: &solids,
		}}},
		Tracers: []Tracer{{Name: "plant", AfterStep: 1, Amount: a.inputOr("plant_g", 0)}},
	}
}
