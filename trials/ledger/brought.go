package ledger

import (
	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/steeps"
)

// Brought returns the water, sugar and other solids that an addition of a material put
// straight in brings into the beer, by what it gives. It is empty for what
// went into wort whose volume and gravity were read once it was out, and for juice and puree of
// unknown make-up.
func Brought(materials trials.Materials, a trials.Addition, y steeps.Yield) (dilution.State, error) {
	if a.InReadings() {
		return dilution.State{}, nil
	}
	b := ledgerBuilder{book: &book{materials: materials}, origins: origins{}}
	in, ok, err := b.plant(a, y)
	if err != nil || !ok {
		return dilution.State{}, err
	}
	s, err := in.Portion()
	return s, trials.ProblemOf(err)
}
