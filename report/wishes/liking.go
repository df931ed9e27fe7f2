package wishes

import (
	"math"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// Priors of the liking model, points on the 1-9 scale: the SDs of the random
// parts are those of [1] section 2.2; the level and the cost of a beer that
// is not "just right" are judgement.
const (
	likingMean    = 6.0 // a beer that is just right, before any score
	likingMeanSD  = 1.5
	likingTaster  = 0.8 // between tasters
	likingBrew    = 0.6 // between brews
	likingMethod  = 0.7 // between methods
	likingPair    = 0.5 // taster with method
	likingNoise   = 0.7 // one score
	defaultLiking = 6.0 // wish when none is stated: the first point above the middle
)

// Order of the coefficients: level, cost, tasters, methods, pairs, brews.
const (
	likingLevel = iota
	likingLoss
	likingFirst
)

// place returns the index of a name in a list, adding it when it is new.
func place(list *[]string, name string) int {
	for i, have := range *list {
		if have == name {
			return i
		}
	}
	*list = append(*list, name)
	return len(*list) - 1
}

// enoughLikings is how many likings a beer needs before its own mean counts: one
// taster is not a panel.
const enoughLikings = 2

// tastedLiked returns the largest probability, over the beers tasted, that the
// mean liking of that very beer among those who tasted it reaches the wish. With
// n likings of mean y, prior N(6, 1.5^2) and noise 0.7 of one score,
//
//	mean = (6/1.5^2 + n y/0.7^2) v,  v = 1/(1/1.5^2 + n/0.7^2)
//
// It asks nothing of the other beers, so that a beer far off the right dose does
// not pull down one that was liked.
func tastedLiked(s evidence.Study, wish float64) float64 {
	const prior, noise = 1 / (likingMeanSD * likingMeanSD), 1 / (likingNoise * likingNoise)
	var prob float64
	for _, t := range s.Trials {
		var likings field.MarkSum
		for _, sc := range t.Scores {
			if sc.Liking != nil {
				likings.Count++
				likings.Y += *sc.Liking
			}
		}
		if t.DoseGPerL == 0 || likings.Count < enoughLikings {
			continue
		}
		v := 1 / (prior + likings.Count*noise)
		mean := v * (likingMean*prior + likings.Y*noise)
		prob = max(prob, normal((mean-wish)/math.Sqrt(v)))
	}
	return prob
}

// WishedLiking returns the liking that the panel wants to reach.
func WishedLiking(s evidence.Study) float64 {
	if s.Wish != nil {
		return s.Wish.Liking
	}
	return defaultLiking
}

// normal returns the standard normal distribution function, which is above 0
// even where it underflows: a small chance is not none.
func normal(z float64) float64 {
	return max(math.SmallestNonzeroFloat64, 0.5*math.Erfc(-z/math.Sqrt2))
}
