package report

import "hedgerow/trials/steeps"

// strengthCost is what added liquid does to the strength, as --json prints it.
type strengthCost struct {
	Share  float64   `json:"share"`   // how much thinner the beer gets, added liquid over all
	ABVPct *Estimate `json:"abv_pct"` // % vol lost; null when the strength is not known
}

// costView turns a cost into its printed form.
func costView(c steeps.StrengthCost) strengthCost {
	return strengthCost{c.Share, estimateView(c.ABVPct)}
}

// costWords ends a sentence on added liquid with what it costs; empty where
// nothing is added.
func costWords(c steeps.StrengthCost) string {
	abv := estimateView(c.ABVPct)
	switch {
	case c.Share < 0.0005:
		return ""
	case abv == nil && c.Spirit:
		return ""
	case abv == nil:
		return ", which thins the beer by " + percent(c.Share)
	case abv.Value < 0:
		return ", which makes the beer " + fixed(-abv.Value, 2) + " % vol stronger"
	}
	return ", which costs " + abv.spread(2, 2) + " % vol"
}

// costCell is the same for a table.
func costCell(c steeps.StrengthCost) string {
	abv := estimateView(c.ABVPct)
	switch {
	case c.Share < 0.0005:
		return "-"
	case abv != nil:
		return fixed(abv.Value, 2)
	case c.Spirit:
		return "spirit"
	}
	return percent(c.Share)
}

// steepSolids are the dissolved solids of an extract as --json prints them.
type steepSolids struct {
	Estimate
	Measured bool `json:"measured"`
}

// solidsView turns solids into their printed form.
func solidsView(a steeps.SteepAnswer) steepSolids {
	s := a.Solids
	if s.Measured {
		return steepSolids{Exactly(s.GPerL), true}
	}
	return steepSolids{Between(s.GPerL, s.Low, s.High, 0.95), false}
}
