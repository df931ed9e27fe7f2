package panel

import (
	"fmt"
	"math"
	"slices"
)

// PlacedScore is a score with the position of its glass in the flight.
type PlacedScore struct {
	Score
	Position int // 1 for the first glass
}

// positionShift is how much higher glasses score at a position than in the first.
type positionShift struct {
	Position int     // 1 for the first glass
	N        int     // scores at this position
	Shift    float64 // score units, trials and tasters allowed for
	SE       float64 // standard error of Shift, valid if OK
	Low      float64 // t limits, valid if OK
	High     float64 // valid if OK
	OK       bool    // false for the first position, and where the orders cannot tell
}

// positionEffects is the result of PositionEffect.
type positionEffects struct {
	Test     fTest           // that no position differs from another
	Shifts   []positionShift // one for each position, rising
	DF       int             // residual degrees of freedom
	Warnings []string        // positions that the orders hide, in words
}

// PositionEffect tells whether the place in the flight moved the scores, from
// the least-squares fit
//
//	score = trial + taster + position + error
//
// Shifts are against the lowest position. With balanced orders the trial means
// need no correction; the shift says whether a warm-up glass was missing.
//
// Minimum: two positions, orders that differ between tasters, and one residual
// degree of freedom.
//
// Errors: as Adjusted; a position below 1; one position only; too few scores;
// orders from which position and trial cannot be told apart; more than 300
// trials, tasters and positions together.
func PositionEffect(scores []PlacedScore, level float64) (*positionEffects, error) {
	if err := checkLevel(level); err != nil {
		return nil, err
	}
	plain := make([]Score, len(scores))
	for i, s := range scores {
		plain[i] = s.Score
		if s.Position < 1 {
			return nil, fmt.Errorf("position %d of taster %q: count glasses from 1", s.Position, s.Taster)
		}
	}
	set, err := newScoreSet(plain)
	if err != nil {
		return nil, err
	}
	return placedFit(set, scores, level)
}

// placedFit fits the model with and without positions.
func placedFit(set scoreSet, scores []PlacedScore, level float64) (*positionEffects, error) {
	const most = 300
	places := positionsOf(scores)
	if size := set.trials.levels() + set.tasters.levels() + len(places); size > most {
		return nil, fmt.Errorf("%d trials, tasters and positions: at most %d are fitted at once; take one tasting",
			size, most)
	}
	if len(places) < 2 {
		return nil, fmt.Errorf("every glass stood at position %d: there is nothing to compare", places[0])
	}
	y := set.y
	// positions after trials and tasters: when they cannot be told apart it is the position that is dropped
	base := append(set.trials.indicators(), set.tasters.indicators()...)
	columns := append(append([][]float64(nil), base...), placeColumns(scores, places[1:])...)
	without, with := fitLinear(base, y), fitLinear(columns, y)
	switch {
	case with.df() < 1:
		return nil, fmt.Errorf("%d scores leave nothing to measure the noise with: taste again, or have more people taste",
			len(scores))
	case len(with.kept) == len(without.kept):
		return nil, fmt.Errorf("the trials always stood at the same positions: serve them in orders that differ between " +
			"tasters")
	case !with.noisy(y):
		return nil, fmt.Errorf("the scores fit trial + taster + position exactly: there is no noise to test against")
	}
	e := &positionEffects{DF: with.df()}
	e.Test = newFTest(without.rss-with.rss, len(with.kept)-len(without.kept), with.rss, with.df())
	e.shifts(scores, places, with, len(base), level)
	if missing := len(places) - 1 - e.Test.DFTop; missing > 0 {
		e.Warnings = append(e.Warnings, fmt.Sprintf("the orders cannot tell %s from the trials and tasters",
			plural(missing, "position")))
	}
	return e, nil
}

// positionsOf lists the different positions in order.
func positionsOf(scores []PlacedScore) []int {
	var list []int
	for _, s := range scores {
		list = append(list, s.Position)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// placeColumns returns one 0/1 column per position.
func placeColumns(scores []PlacedScore, places []int) [][]float64 {
	columns := make([][]float64, len(places))
	for k, place := range places {
		columns[k] = make([]float64, len(scores))
		for i, s := range scores {
			if s.Position == place {
				columns[k][i] = 1
			}
		}
	}
	return columns
}

// shifts reads the position coefficients, which start after the base columns.
// When some position had to be dropped, the others are relative to it too, so
// none is given.
func (e *positionEffects) shifts(scores []PlacedScore, places []int, f *linearFit, base int, level float64) {
	count := make(map[int]int)
	for _, s := range scores {
		count[s.Position]++
	}
	complete := e.Test.DFTop == len(places)-1
	variance := f.rss / float64(f.df())
	t := tQuantile(0.5+level/2, float64(f.df()))
	for k, place := range places {
		shift := positionShift{Position: place, N: count[place]}
		if at := f.position(base + k - 1); k > 0 && at >= 0 && complete {
			c := make([]float64, len(f.kept))
			c[at] = 1
			shift.Shift, shift.SE = f.coef[at], math.Sqrt(variance*f.covariance(c, c))
			shift.Low, shift.High, shift.OK = shift.Shift-t*shift.SE, shift.Shift+t*shift.SE, true
		}
		e.Shifts = append(e.Shifts, shift)
	}
}
