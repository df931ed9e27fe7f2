package extraction

import "fmt"

// rankingFactor is the largest High/Low of an 80 % interval with which an
// absolute dose is shown; a rule of the house.
const rankingFactor = 1.5

// swellingABVPct is the strength of spirit, % vol, up to which plants hold liquid as
// they do in water.
const swellingABVPct = 60.0

// The range of K in which the release of slow forms depends on the rate.
const (
	openRateLow  = 0.2
	openRateHigh = 4.0
)

// rankingReasons returns why an absolute dose of a class is not to be believed,
// whatever its interval; empty if there is no such reason. They are the rules of
// section 8 that a steep on its own can break; that different species, lots or
// harvests are not comparable is up to the caller.
func (r *Result) rankingReasons(class Class) []string {
	s := &r.Steep
	var reasons []string
	add := func(when bool, why string) {
		if when {
			reasons = append(reasons, why)
		}
	}
	add(class == Aroma && r.boils(), "aroma in a boil: no usable figures for its loss")
	add(class == Aroma && s.Fermenting, "aroma in active fermentation: gas strips it and yeast converts it")
	add((class == Aroma || class == Resin) && s.Method == Tincture,
		"a tincture in beer: oil beyond what beer dissolves parts from it")
	add(s.Method == Tincture && s.MeanABVPct() > swellingABVPct,
		"spirit above 60 %: plants swell less in it, and hold less liquid by an unknown share")
	add(class == Resin && s.Method != Tincture,
		"resins in water or beer: solubility and losses to yeast are off by a factor of three or worse")
	// far below these rates little comes out and far above them all does, skin or not
	k := r.rateTime(class)
	add((s.Form == WholeHard || s.Form == FreshWhole) && k > openRateLow && k < openRateHigh,
		fmt.Sprintf("%s material: skin and membranes decide", s.Form))
	add(s.swells() && !s.Method.IsDirect(), "swelling material: draining fails")
	add(r.isThick(), fmt.Sprintf("very thick tea: below %.0f mL per gram", thickMLPerG))
	add(s.Method.IsDirect() && s.Method != Boil && s.Method != FlameOut && r.Minutes > longContactMin,
		"contact beyond a week: ageing, oxidation and precipitation act too")
	add(s.Reacts, "the solutes react when heated, which is not modelled")
	return reasons
}

// boils reports whether any pass is a rolling boil.
func (r *Result) boils() bool {
	stages := r.Steep.Stages()
	for i := range stages {
		if r.Steep.IsBoiling(&stages[i]) {
			return true
		}
	}
	return false
}

// rateTime returns K of a class over all passes.
func (r *Result) rateTime(class Class) float64 {
	k := 0.0
	for i := range r.Passes {
		k += r.Passes[i].RateTime[class]
	}
	return k
}

// isThick reports whether a pass of an extract has too little liquid to believe.
func (r *Result) isThick() bool {
	for i := range r.Passes {
		if !r.Steep.Method.IsDirect() && r.Passes[i].LiquidML < thickMLPerG*r.AsDriedG {
			return true
		}
	}
	return false
}

// RankingReasons returns why the effective dose of a class is only good for a
// ranking: the rules that hold always, and an 80 % interval wider than a factor
// of 1.5. Empty means that the number may be shown.
func (r *Result) RankingReasons(class Class, dose Band) []string {
	return withWidth(r.rankingReasons(class), dose)
}

// withWidth adds the reason of a wide interval. A dose of nothing, from too little
// liquid, is no matter of doubt.
func withWidth(reasons []string, dose Band) []string {
	if dose.At80.Value == 0 && dose.At80.High == 0 {
		return reasons
	}
	if f, ok := dose.At80.Factor(); !ok || f > rankingFactor {
		return append(reasons, fmt.Sprintf("the 80 %% interval spans more than a factor of %.1f", rankingFactor))
	}
	return reasons
}
