package checks

import (
	"fmt"
	"strings"

	"hedgerow/extraction"
	"hedgerow/trials"
	"hedgerow/trials/steeps"
)

// steepFigure reads one figure off the answer to a steep.
type steepFigure func(a steeps.SteepAnswer, class, pass int) float64

// steepFigures are the figures of a steep by name; those of one pass first.
var steepFigures = map[string]steepFigure{
	"pass_yield":         func(a steeps.SteepAnswer, c, p int) float64 { return a.Result.Passes[p].Yield[c] },
	"pass_liquid_out_ml": func(a steeps.SteepAnswer, _, p int) float64 { return a.Result.Passes[p].LiquidOutML },
	"pass_held_ml":       func(a steeps.SteepAnswer, _, p int) float64 { return a.Result.Passes[p].LiquidHeldML },
	"pass_reduced_min":   func(a steeps.SteepAnswer, c, p int) float64 { return a.Result.Passes[p].ReducedMinutes[c] },

	"yield":                  func(a steeps.SteepAnswer, c, _ int) float64 { return a.Result.Yield[c] },
	"survival":               func(a steeps.SteepAnswer, c, _ int) float64 { return a.Result.Survival[c] },
	"liquid_out_ml":          func(a steeps.SteepAnswer, _, _ int) float64 { return a.Result.ExtractML },
	"dose_g_per_l":           func(a steeps.SteepAnswer, _, _ int) float64 { return a.Dose.WeighedGPerL },
	"effective_dose_g_per_l": func(a steeps.SteepAnswer, c, _ int) float64 { return a.Dose.EffectiveGPerL[c] },
	"sd_ln_dose":             func(a steeps.SteepAnswer, c, _ int) float64 { return a.Doubt.Dose[c].SDLn },
}

// steepQuantity is a figure of a steep as `hedgerow steep` works it out: the
// request is what the flags say, in base units.
func steepQuantity(name string) (evaluator, bool) {
	figure, ok := steepFigures[name]
	return func(in *inputs) (float64, error) {
		class, pass := classOf(in), 0
		if strings.HasPrefix(name, "pass_") {
			pass = int(in.num("pass")) - 1
		}
		request := readRequest(in)
		if in.err != nil {
			return 0, in.err
		}
		answer, err := request.Steep(trials.Materials{})
		if err != nil {
			return 0, err
		}
		if pass < 0 || pass >= len(answer.Result.Passes) {
			return 0, fmt.Errorf("pass %d is not one of %d", pass+1, len(answer.Result.Passes))
		}
		return figure(answer, class, pass), nil
	}, ok
}

// classOf reads the solute class; water where none is given.
func classOf(in *inputs) int {
	word := trials.ClassNames[0]
	in.read("class", &word)
	for i, name := range trials.ClassNames {
		if name == word {
			return i
		}
	}
	if in.err == nil {
		in.err = fmt.Errorf("class %q is not one of %s", word, strings.Join(trials.ClassNames[:], ", "))
	}
	return 0
}

// readRequest reads a steep. Passes are as the notebook keeps them; treatments
// are what a material put in itself goes through.
func readRequest(in *inputs) steeps.SteepRequest {
	q := steeps.SteepRequest{Form: in.text("form"), Method: trials.MethodTea, MassG: in.num("mass_g"),
		MoisturePct: in.maybe("moisture_pct"), SpiritPct: in.maybe("spirit_pct"),
		SorptionMLPerG: in.numOr("sorption_ml_per_g", 0), IntoL: in.num("into_l"), AddedL: in.maybe("added_l"),
		TopUpL: in.numOr("top_up_l", 0), BoilOffL: in.numOr("boil_off_l", 0)}
	in.read("method", &q.Method)
	in.read("passes", &q.Passes)
	var treatments []struct {
		StartC    *float64 `json:"start_c"`
		EndC      *float64 `json:"end_c"`
		Minutes   float64  `json:"minutes"`
		Agitation string   `json:"agitation"`
		InBag     bool     `json:"in_bag"`
	}
	in.read("treatments", &treatments)
	for _, s := range treatments {
		q.Treatments = append(q.Treatments, steeps.Treatment{StartC: s.StartC,
			EndC: s.EndC, Minutes: s.Minutes, Agitation: s.Agitation, InBag: s.InBag})
	}
	var held struct{ Drained, Squeezed, Pressed *float64 }
	in.read("held_ml_per_g", &held)
	q.Remembered = extraction.HeldFigures{Drained: held.Drained, Squeezed: held.Squeezed, ScrewPressed: held.Pressed}
	return q
}
