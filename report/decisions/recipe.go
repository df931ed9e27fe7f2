package decisions

import (
	"fmt"
	"math"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/planning"
)

// recipeView is how to reach the dose as --json prints it.
type recipeView struct {
	MassG     float64        `json:"mass_g"` // grams as weighed
	Form      string         `json:"form"`   // whole, cut, crushed, powder, fresh ...
	Method    string         `json:"method"` // tea, cold-tea, tincture, contact ...
	Passes    []trials.Pass  `json:"passes"`
	LiquidL   float64        `json:"liquid_l"`
	LeaveIn   *float64       `json:"leave_in_min"` // of a plant put in itself; null where it stays
	BringsL   float64        `json:"brings_l"`     // its own water and solids
	KeptL     float64        `json:"kept_l"`       // made beyond it, since less cannot be made well
	VolumeL   float64        `json:"volume_l"`     // litres at 20 C
	AfterL    float64        `json:"volume_after_mixing_l"`
	Like      string         `json:"like_trial"`
	Why       string         `json:"why_this_way"` // in place of the way first thought of; empty where it was taken
	ABVBefore *figure.Stated `json:"abv_before_pct"`
	ABVAfter  *figure.Stated `json:"abv_after_pct"`
}

// recipeFor scales the pattern of the reference method to the next dose.
func recipeFor(n *trials.Notebook, materials trials.Materials, s ledger.TrialSet, r SuggestRequest,
	v suggestPayload) (*recipeView, error) {
	way, err := planning.Choose(n, materials, s, planning.Ask{Kind: trials.PlanBatch, Method: v.Reference,
		DoseGPerL: v.Next.DoseGPerL})
	if err != nil {
		return nil, err
	}
	recipe, err := planning.RecipeFor(n, materials, way.Pattern, v.Next.DoseGPerL, s.Class, r.VolumeL)
	if err != nil {
		return nil, err
	}
	for i := len(s.Trials) - 1; i >= 0; i-- {
		if len(s.Trials[i].Ledger.Steps) > 0 {
			recipe = recipe.WithEffect(s.Closely(i))
			break
		}
	}
	recipe = recipe.Whole()
	out := &recipeView{MassG: recipe.MassG, Form: recipe.Form, Method: recipe.Method,
		Passes: append([]trials.Pass{}, recipe.Passes...), LiquidL: recipe.LiquidL,
		VolumeL: recipe.IntoL, AfterL: recipe.IntoL + recipe.LiquidL, Like: recipe.Like,
		KeptL: recipe.KeptL, Why: way.Sentence(r.VolumeL,
			func(l float64) string { return wording.VolumeText(Rounded(l), r.Units) })}
	if recipe.Direct != nil {
		out.LeaveIn, out.BringsL = recipe.Direct.Minutes, recipe.BringsL
		out.AfterL += recipe.BringsL
	}
	if recipe.Effect != nil {
		out.ABVBefore, out.ABVAfter = wording.EstimateView(recipe.Effect.Before.ABVPct),
			wording.EstimateView(recipe.Effect.After.ABVPct)
	}
	return out, nil
}

// weighed is what to weigh for which volume; "" without a recipe.
func weighed(recipe *recipeView, q SuggestRequest) string {
	if recipe == nil {
		return ""
	}
	return wording.MassText(Rounded(recipe.MassG), q.Units) + " in " + wording.VolumeText(recipe.VolumeL, q.Units)
}

// recipeText says in sentences how to make it.
func recipeText(r *recipeView, v suggestPayload, q SuggestRequest) []string {
	if r == nil {
		return nil
	}
	lines := []string{fmt.Sprintf("For %s of beer: %s %s, %s, %s%s.", wording.VolumeText(r.VolumeL, q.Units),
		wording.MassText(Rounded(r.MassG), q.Units), v.Material, r.Form, r.methodText(), r.likeText())}
	if r.Why != "" {
		lines = append(lines, r.Why)
	}
	for i, p := range r.Passes {
		p.VolumeL = Rounded(p.VolumeL)
		lines = append(lines, fmt.Sprintf("Pass %d: %s.", i+1, wording.PassWords(p, q.Units)))
	}
	if len(r.Passes) == 0 && r.Method == trials.MethodContact {
		lines = append(lines, r.contactText(q))
	}
	if r.LiquidL > 0 {
		lines = append(lines, r.liquidText(q))
	}
	return lines
}

// contactText says how long a plant is left in the beer and what it does to it.
func (r *recipeView) contactText(q SuggestRequest) string {
	text := "Leave it in to the end"
	if r.LeaveIn != nil {
		text = fmt.Sprintf("Leave it in for about %s; taste it on the way", wording.DurationText(*r.LeaveIn))
	}
	const hardly = 0.01 // of the beer
	if r.BringsL < hardly*r.VolumeL {
		return text + ". No liquid goes in, so the beer keeps its strength."
	}
	return text + fmt.Sprintf(". About %s of it is its own water: %s", wording.VolumeText(Rounded(r.BringsL), q.Units),
		r.weakerText())
}

// weakerText says what water alone does: what is in a litre is then in as much more.
func (r *recipeView) weakerText() string {
	const example = 5.0
	return fmt.Sprintf("5.0 %% vol become %s.", document.Fixed(example*r.VolumeL/r.AfterL, 1))
}

// liquidText says how much liquid goes in and what it does to the beer.
func (r *recipeView) liquidText(q SuggestRequest) string {
	text := fmt.Sprintf("About %s of liquid goes in", wording.VolumeText(Rounded(r.LiquidL), q.Units))
	if r.KeptL > 0 {
		text = fmt.Sprintf("Pour %s of it; keep the rest (less would be cold before it has drawn)",
			wording.VolumeText(Rounded(r.LiquidL), q.Units))
	}
	if r.ABVBefore != nil && r.ABVAfter != nil {
		return text + fmt.Sprintf("; the beer goes from %s to %s %% vol.", document.Fixed(r.ABVBefore.Value, 1),
			document.PlusMinus(*r.ABVAfter, 1, 1))
	}
	return text + fmt.Sprintf("; the beer gets %s %% more and weaker: %s",
		document.Significant(100*r.LiquidL/r.VolumeL, 2), r.weakerText())
}

// methodText names the way in.
func (r *recipeView) methodText() string {
	if r.Method == trials.MethodContact {
		return "straight into the beer"
	}
	return "as " + r.Method
}

// likeText names the trial a recipe follows.
func (r *recipeView) likeText() string {
	switch {
	case r.Like != "":
		return ", made like " + r.Like
	// the sentence that follows says what was chosen and why
	case r.Why != "":
		return ""
	}
	return " (the plain way, since this was never tried)"
}

// Rounded keeps two significant digits, three from 100 on: a scale shows no
// more, and the interval is wider still.
func Rounded(v float64) float64 {
	if v <= 0 {
		return v
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return math.Round(v/step) * step
}
