package report

import (
	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials/figure"
	"hedgerow/trials/steeps"
)

// strengthCost is what added liquid does to the strength, as --json prints it.
type strengthCost struct {
	Share  float64        `json:"share"`   // how much thinner the beer gets, added liquid over all
	ABVPct *figure.Stated `json:"abv_pct"` // % vol lost; null when the strength is not known
}

// costView turns a cost into its printed form.
func costView(c steeps.StrengthCost) strengthCost {
	return strengthCost{c.Share, wording.EstimateView(c.ABVPct)}
}

// costWords ends a sentence on added liquid with what it costs; empty where
// nothing is added.
func costWords(c steeps.StrengthCost) string {
	abv := wording.EstimateView(c.ABVPct)
	switch {
	case c.Share < 0.0005:
		return ""
	// a spirit may make the beer stronger: without the beer's strength not even the direction is known
	case abv == nil && c.Spirit:
		return ""
	case abv == nil:
		return ", which thins the beer by " + document.Percent(c.Share)
	// a loss below 0 is a gain, which only a spirit brings
	case abv.Value < 0:
		return ", which makes the beer " + document.Fixed(-abv.Value, 2) + " % vol stronger"
	}
	return ", which costs " + document.Spread(*abv, 2, 2) + " % vol"
}

// costCell is the same for a table.
func costCell(c steeps.StrengthCost) string {
	abv := wording.EstimateView(c.ABVPct)
	switch {
	case c.Share < 0.0005:
		return "-"
	case abv != nil:
		return document.Fixed(abv.Value, 2)
	case c.Spirit:
		return "spirit"
	}
	return document.Percent(c.Share)
}

// steepSolids are the dissolved solids of an extract as --json prints them.
type steepSolids struct {
	figure.Stated
	Measured bool `json:"measured"`
}

// solidsView turns solids into their printed form.
func solidsView(a steeps.SteepAnswer) steepSolids {
	s := a.Solids
	if s.Measured {
		return steepSolids{figure.StatedExactly(s.GPerL), true}
	}
	return steepSolids{figure.StatedBetween(s.GPerL, s.Low, s.High, 0.95), false}
}
