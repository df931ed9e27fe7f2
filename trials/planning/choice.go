package planning

import (
	"fmt"
	"math"

	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/steeps"
)

// How much liquid may go into a beer with a plant, as a share of the beer (judgement):
// past much another way is looked for, past most nothing is planned. Spirit counts for
// more, since 2 % of it at 40 % vol bring 0.8 % vol into the glass.
const (
	muchLiquid, mostLiquid = 0.05, 0.20
	muchSpirit, mostSpirit = 0.02, 0.05
)

// Ask is what a way is wanted for.
type Ask struct {
	Kind      string          // trials.PlanBench, trials.PlanSplit or trials.PlanBatch
	Method    string          // the method that it has to be; empty for any
	Told      bool            // the method was asked for, so that nothing stands in for it
	Like      *trials.Extract // the extract that is to be followed; nil for none
	DoseGPerL float64         // the highest dose, effective
	Taste     *TasteSpan      // of an evening of dosing to taste; nil for none
}

// TasteSpan is the advice between which an evening of dosing to taste goes.
type TasteSpan struct {
	LowGPerL  float64 // the lowest dose that is advised, effective
	HighGPerL float64 // the highest
}

// Choice is the way that a plan and a suggestion take, and why it is not the way that
// was thought of first.
type Choice struct {
	Pattern Pattern
	Share   float64 // liquid that comes with the dose, as a share of the beer
	MostD   float64 // highest dose that brings no more than muchLiquid; +Inf for a plant put in itself
	took    string  // in words
	instead string  // what was thought of first; "" where that was taken
	reached bool    // whether that would have reached the dose at all
	shareOf float64 // the liquid that would have come with it
}

// Much reports whether more liquid comes with the dose than a beer likes.
func (c Choice) Much() bool { return c.Share > limits(c.Pattern).much }

// excess is the liquid beside the most that is planned.
func (c Choice) excess() float64 { return c.Share / limits(c.Pattern).most }

// Sentence says which way was chosen in place of which, for so much beer; "" where the
// first was. Volumes are printed by volume.
func (c Choice) Sentence(beerL float64, volume func(float64) string) string {
	switch {
	case c.instead == "":
		return ""
	case !c.reached:
		return fmt.Sprintf("Chosen: %s, since %s would be too weak for the dose.", c.took, c.instead)
	}
	return fmt.Sprintf("Chosen: %s, since %s would add %s to %s of beer (%.0f %%).", c.took, c.instead,
		volume(c.shareOf*beerL), volume(beerL), 100*c.shareOf)
}

// way is a pattern with its name.
type way struct {
	Pattern
	name string
}

// Choose takes the first way that brings no more liquid than a beer likes, else the one
// that brings least. A plan that would drown the beer is refused, with what would work.
func Choose(n *trials.Notebook, materials trials.Materials, s ledger.TrialSet, a Ask) (Choice, error) {
	var best Choice
	found := false
	list := waysFor(s, a)
	steeper := bestOf(n, materials)
	for i, w := range list {
		c, err := weighUp(steeper, s.Class, w, a.DoseGPerL)
		if err != nil {
			return c, err
		}
		if i > 0 {
			first, _ := weighUp(steeper, s.Class, list[0], a.DoseGPerL)
			c.instead, c.shareOf, c.reached = list[0].name, first.Share, !math.IsInf(first.Share, 0)
		}
		// by how far it is from being too much, so that spirit and water are weighed alike
		if !found || c.excess() < best.excess() || c.excess() == best.excess() && c.MostD > best.MostD {
			best, found = c, true
		}
		if !c.Much() {
			return c, nil
		}
	}
	switch {
	case best.excess() <= 1:
		return best, nil
	case a.Taste != nil:
		return best, tooWeakToTaste(s, *a.Taste, best)
	}
	return best, drowned(s, a, best)
}

// limits are the shares of liquid that a way is measured by.
func limits(p Pattern) struct{ much, most float64 } {
	if p.Extract != nil && p.Extract.SpiritPct != nil {
		return struct{ much, most float64 }{muchSpirit, mostSpirit}
	}
	return struct{ much, most float64 }{muchLiquid, mostLiquid}
}

// weighUp works out the liquid that comes with a dose D by a way whose extract carries
// c g/L: the share D / (c - D) of the beer. A plant put in itself brings only its own
// water, which no way leaves out.
func weighUp(steeper *steeps.Steeper, class int, w way, dose float64) (Choice, error) {
	c := Choice{Pattern: w.Pattern, took: w.name, MostD: math.Inf(1)}
	if w.Extract == nil {
		return c, nil
	}
	y, err := steeper.Extract(*w.Extract)
	if err != nil {
		return c, err
	}
	carries := strength(y, class)
	much := limits(w.Pattern).much
	c.MostD = carries * much / (1 + much)
	c.Share = math.Inf(1)
	if carries > dose {
		c.Share = dose / (carries - dose)
	}
	return c, nil
}

// drowned is the refusal of a plan that adds too much liquid.
func drowned(s ledger.TrialSet, a Ask, c Choice) error {
	hint := fmt.Sprintf("ask for at most %s g/L with --dose", trials.Number(floor2(c.MostD)))
	switch {
	case a.Kind == trials.PlanBench:
		hint += ", or plan jars with: hedgerow plan split " + s.Material.Key
	case a.Method != trials.MethodContact:
		hint += ", or put the plant itself into the beer with --as contact"
	}
	if math.IsInf(c.Share, 0) {
		return trials.Refuse(hint, "%s is too weak for %s g/L: no amount of it brings the beer there", c.took,
			trials.Number(trials.Round3(a.DoseGPerL)))
	}
	return trials.Refuse(hint, "%s would add %.0f %% of liquid to the beer for %s g/L: too much to be beer", c.took,
		100*c.Share, trials.Number(trials.Round3(a.DoseGPerL)))
}

// tooWeakToTaste is the refusal of an evening of dosing to taste of which not even the middle
// of the advice can be reached in a glass.
func tooWeakToTaste(s ledger.TrialSet, t TasteSpan, c Choice) error {
	much := limits(c.Pattern).much
	top := floor2(glassTop(c.MostD * (1 + much) / much))
	jars := "taste the plant itself in jars: hedgerow plan split " + s.Material.Key + " --as contact"
	hint := jars
	if t.LowGPerL < top {
		hint = fmt.Sprintf("dose what can be reached with --dose %s,%s, or %s", trials.Number(floor2(t.LowGPerL)),
			trials.Number(top), jars)
	}
	return trials.Refuse(hint, "%s brings a glass to %s g/L at most, and the doses go from %s to %s g/L", c.took,
		trials.Number(top), trials.Number(trials.Round3(t.LowGPerL)), trials.Number(trials.Round3(t.HighGPerL)))
}

// floor2 rounds down to two digits, so that what is printed is accepted when typed.
func floor2(v float64) float64 {
	if v <= 0 {
		return v
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return trials.Tidy(math.Floor(v/step) * step)
}

// waysFor lists the ways to look at, the most natural first.
func waysFor(s ledger.TrialSet, a Ask) []way {
	m := s.Material
	if a.Like != nil {
		return []way{{Pattern{Extract: a.Like, Like: a.Like.Name}, "a steep like " + a.Like.Name}}
	}
	p := PatternUsed(s, a.Method)
	switch {
	case p.Extract != nil && p.Like != "":
		return stronger(p)
	case a.Kind == trials.PlanBench && p.Extract == nil && !a.Told:
		return standIns(m)
	case p.Extract == nil:
		return []way{{p, "the plant itself"}}
	case a.Method == "" && a.Kind == trials.PlanBench:
		return standIns(m)
	case a.Method == "":
		return append(teas(m), way{plainWay(m, trials.MethodContact), "the plant itself in the beer"})
	case a.Method == trials.MethodTea:
		return teas(m)
	}
	return stronger(p)
}

// teas are the plain tea of a material and the strongest.
func teas(m trials.Material) []way {
	return []way{{plainTea(m), "a plain tea"}, {strongTea(m), "a strong tea in little water"}}
}

// standIns are the ways in a glass, where there is no time for a plant to steep in the
// beer: its tea, a tincture; of fresh fruit, which no tea is strong enough of, the pulp.
func standIns(m trials.Material) []way {
	if isFreshFruit(m) {
		return []way{{plainWay(m, trials.MethodPuree), "the fruit itself as pulp"}}
	}
	return append(teas(m), way{plainWay(m, trials.MethodTincture), "a tincture"})
}

// stronger is a steep and the same in less and less liquid, down to what still covers
// the plant (8 mL for each gram of a dried one; judgement).
func stronger(p Pattern) []way {
	method := p.Extract.Method
	list := []way{{p, "the same " + method + " as before"}}
	if p.Like == "" {
		list[0].name = "a plain " + method
	}
	const least = 0.008
	covers := least * p.Extract.MassG
	if isFreshForm(p.Extract.Form) {
		covers *= freshLiquid
	}
	for _, k := range []float64{0.85, 0.7, 0.6, 0.5, 0.4} {
		if len(p.Extract.Passes) == 0 || k*p.Extract.Passes[0].VolumeL < covers {
			break
		}
		x := *p.Extract
		x.Passes = scaledPasses(x.Passes, k)
		list = append(list, way{Pattern{Extract: &x, Like: p.Like},
			fmt.Sprintf("the %s in %.0f %% of the liquid", method, 100*k)})
	}
	return list
}

// TopDose is the highest dose by a way that brings no more liquid than a beer likes, in
// two digits.
func (c Choice) TopDose() float64 { return floor2(c.MostD) }
