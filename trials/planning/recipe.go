package planning

import (
	"slices"

	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/steeps"
)

// recipe is how to reach an effective dose in a batch: how much to weigh and
// how to steep it, after the pattern of an extract or addition already made.
type recipe struct {
	MaterialKey string           // key of the material
	Form        string           // whole, cut, crushed, powder, fresh ...
	Method      string           // tea, cold-tea, tincture, contact ...
	MassG       float64          // grams to weigh
	Passes      []trials.Pass    // of an extract; volumes scaled to the mass
	Direct      *trials.Addition // of a material put in itself
	SpiritPct   *float64         // strength of the spirit of a tincture, % vol
	LiquidL     float64          // liquid that comes with it
	BringsL     float64          // the plant's own water and solids, where it goes in itself
	KeptL       float64          // made beyond that, since less cannot be made well
	IntoL       float64          // beer before
	Dose        float64          // effective dose aimed at, g/L
	Like        string           // name of the trial it follows; empty for a plain pattern
	Effect      *effect          // what it does to the beer, where that is known
}

// effect is a beer before and after.
type effect struct{ Before, After ledger.State }

// RecipeFor works out the mass and the steep for an effective dose of a class in
// intoL of beer. The yield per gram and the liquid per gram stay as in the
// pattern, so with g grams carried and l litres brought per gram weighed, a plant's
// own water and what dissolves of it among them,
//
//	m = D V / (g - D l)
//
// A pattern whose extract is itself no stronger than the dose is refused.
func RecipeFor(n *trials.Notebook, materials trials.Materials, p Pattern, dose float64, class int,
	intoL float64) (recipe, error) {
	y, err := patternYield(n, materials, p)
	if err != nil {
		return recipe{}, err
	}
	perG := y.Grams[class].Value / y.MassG
	litresPerG, err := litresPerGram(materials, y, p)
	if err != nil {
		return recipe{}, err
	}
	// each gram would thin the beer as much as it flavours it: no mass, however large, gets there
	if perG <= dose*litresPerG {
		return recipe{}, trials.Refuse("steep in less liquid, or squeeze, so that the extract is stronger than the "+
			"beer has to be",
			"an extract made this way carries %s g/L, not more than the %s g/L aimed at",
			trials.Number(perG/litresPerG), trials.Number(dose))
	}
	m := dose * intoL / (perG - dose*litresPerG)
	r := recipe{MaterialKey: y.MaterialKey, Method: y.Method, MassG: m, LiquidL: m * y.LiquidL / y.MassG, IntoL: intoL,
		Dose: dose, Like: p.Like}
	if p.Extract != nil {
		r.Form, r.SpiritPct, r.Passes = p.Extract.Form, p.Extract.SpiritPct, scaledPasses(p.Extract.Passes, m/y.MassG)
	} else {
		r.Form, r.Direct, r.BringsL = p.Addition.Form, p.Addition, m*litresPerG
	}
	return r, nil
}

// litresPerGram is the liquid that goes into the beer with a gram of material: an
// extract, or the water, sugar and solids of what is put straight in, juice and puree
// too. What went into the wort was in it when its volume was measured.
func litresPerGram(materials trials.Materials, y steeps.Yield, p Pattern) (float64, error) {
	if p.Extract != nil {
		return y.LiquidL / y.MassG, nil
	}
	in, err := ledger.Brought(materials, *p.Addition, y)
	if err != nil {
		return 0, err
	}
	return in.VolumeL() / y.MassG, nil
}

// scaledPasses are the passes for k times the material; what was measured then
// is not carried over.
func scaledPasses(passes []trials.Pass, k float64) []trials.Pass {
	out := slices.Clone(passes)
	for i := range out {
		out[i].ID = ""
		out[i].VolumeL *= k
		out[i].RecoveredL, out[i].HeldL, out[i].SpentG, out[i].TeaSG, out[i].TeaPH = nil, nil, nil, nil, nil
		out[i].TeaSGLimit, out[i].WaterSG, out[i].TeaBrix = nil, nil, nil
	}
	return out
}

// Pattern is a steep or direct addition to go by.
type Pattern struct {
	Extract  *trials.Extract  // nil for a material put in itself
	Addition *trials.Addition // nil for an extract
	Like     string           // name of the trial it comes from; empty for a plain one
}

// bestOf works out what a steep gives by its best values: a plan is made of doses, and
// no interval of one is read here.
func bestOf(n *trials.Notebook, materials trials.Materials) *steeps.Steeper {
	return steeps.NewSteeper(n.Index(), materials, steeps.BestValues)
}

// patternYield is what the pattern gives.
func patternYield(n *trials.Notebook, materials trials.Materials, p Pattern) (steeps.Yield, error) {
	if p.Extract != nil {
		return bestOf(n, materials).Extract(*p.Extract)
	}
	return bestOf(n, materials).Direct(*p.Addition)
}

// PatternUsed returns the latest way the material was used with a method, else the
// plain way of that method.
func PatternUsed(s ledger.TrialSet, method string) Pattern {
	var best *ledger.Use
	like := ""
	for _, t := range s.Trials {
		for i, u := range t.Uses {
			// the latest, for ways of working change
			if u.Method() != method || (best != nil && !u.Addition.At.After(best.Addition.At)) {
				continue
			}
			best, like = &t.Uses[i], t.Batch.Name
		}
	}
	switch {
	case best == nil:
		return plainWay(s.Material, method)
	case best.Extract != nil:
		return Pattern{Extract: best.Extract, Like: like}
	}
	return Pattern{Addition: best.Repeated(), Like: like}
}

// WithEffect adds what the liquid of the recipe does to the beer of a trial:
// its original gravity and its last gravity. The strength has the interval that the
// account of the trial gives it.
func (r recipe) WithEffect(t ledger.Trial) recipe {
	last := ledger.StateOf(t.Last)
	if !last.OriginalSG.OK || r.LiquidL <= 0 {
		return r
	}
	start := dilution.Start{VolumeL: dilution.Within("volume", r.IntoL, 0.02*r.IntoL),
		ABVPct: dilution.ExactlyOrNone(&t.ABVBefore), NowSG: dilution.ExactlyOrNone(&last.GravitySG.Value),
		Finished: true}
	tea := dilution.AddTea{VolumeL: ledger.Added("tea", r.LiquidL)}
	results, err := dilution.Account{Start: start,
		Steps: []dilution.Step{dilution.Add{Liquid: tea}}}.Propagate()
	// without it the recipe still stands
	if err == nil {
		r.Effect = &effect{Before: ledger.StateOf(results[0]), After: ledger.StateOf(results[1])}
		r.Effect.Before.ABVPct = asDoubtful(r.Effect.Before.ABVPct, last.ABVPct)
		r.Effect.After.ABVPct = asDoubtful(r.Effect.After.ABVPct, last.ABVPct)
	}
	return r
}

// asDoubtful gives a strength the interval, relative to its value, that an account
// gives the strength of a beer, if that is the wider: water does not make a strength
// better known.
func asDoubtful(abv, account figure.Estimate) figure.Estimate {
	if !account.HasBounds || account.Value <= 0 || !abv.OK {
		return abv
	}
	k := abv.Value / account.Value
	low := min(abv.Low, abv.Value-k*(account.Value-account.Low))
	high := max(abv.High, abv.Value+k*(account.High-account.Value))
	return figure.Between(abv.Value, low, high, account.Level)
}
