package steeps

import (
	"hedgerow/extraction"
	"hedgerow/extraction/ways"
	"hedgerow/trials"
)

// SteepResult is what a steep gives.
type SteepResult = extraction.Result

// Gain is what one change to a steep would do to the effective dose: another
// pass, squeezing, crushing, longer, hotter.
type Gain = ways.Gain

// Gains returns what would get more of a class out of the steep, most first.
func (q SteepRequest) Gains(materials trials.Materials, class int) ([]Gain, error) {
	s, err := q.steep(materials)
	if err != nil {
		return nil, err
	}
	list, err := ways.Improve(&s, extraction.Class(class), q.mix(), calculatorDraws)
	return list, trials.ProblemOf(err)
}

// GainsOf returns what would have got more of a class out of a logged extract, in
// the beer that it went into first, or if it is still to be poured in itself.
func GainsOf(n *trials.Notebook, materials trials.Materials, x trials.Extract, class int) ([]Gain, error) {
	y, err := OfExtract(n, materials, x)
	if err != nil {
		return nil, err
	}
	// not poured yet: in so much beer the volume of the extract does not matter, and the gains do not hang on
	// it
	mix := extraction.Mix{IntoL: hugeL}
	if b, ok := firstBeer(n, x); ok {
		mix.IntoL = b.VolumeL
	}
	list, err := ways.Improve(&y.Result.Steep, extraction.Class(class), mix, steepDraws)
	return list, trials.ProblemOf(err)
}

// firstBeer is the batch that got some of an extract first.
func firstBeer(n *trials.Notebook, x trials.Extract) (trials.Batch, bool) {
	pours := poursOf(n.Index(), x)
	if len(pours) == 0 {
		return trials.Batch{}, false
	}
	return n.BatchByID(pours[0].BatchID)
}
