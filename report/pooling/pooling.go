package pooling

import "math"

// PriorSD is the SD of the prior about the middle of the claims with which the
// trials of one brewer are fitted alone, ln dose.
const PriorSD = 1.5

// SharedSD is the SD, ln dose, of what the beer of another brewer does to the dose
// that the own people call right, once common to all other brewers and once for each.
const SharedSD = 0.45

// What is added to the variance of a number, as SDs of the ln dose.
const (
	modelSD    = 0.12 // what the model itself gets wrong
	methodSD   = 0.5  // another method than the one that is asked for
	strangerSD = 0.35 // of one taster's right dose, in a dose that is only printed
)

// learntBelow is the share of the variance of the prior above which trials taught
// nothing of the dose.
const learntBelow = 0.8

// A Word is what one brewer's trials say of a right ln dose.
type Word struct{ Mean, Var float64 }

// TakenOut returns the word of trials that were fitted with the prior
// N(middle, 1.5^2) to the mean t and the variance w, with that prior taken out,
//
//	1/v = 1/w - 1/1.5^2,  m = v (t/w - middle/1.5^2),
//
// and 0.12^2 added to v for what the model gets wrong. ok is false when the trials
// taught nothing: w is above 0.8 * 1.5^2.
func TakenOut(t, w, middle float64) (word Word, ok bool) {
	const prior = PriorSD * PriorSD
	if !(w > 0) || w > learntBelow*prior {
		return Word{}, false
	}
	v := 1 / (1/w - 1/prior)
	return Word{v * (t/w - middle/prior), v + modelSD*modelSD}, true
}

// Printed returns the word of a dose of which only mean and SD of the ln are known,
// as so many tasters found it. The SD is that of those people, who are few.
func Printed(mean, sd float64, tasters int) Word {
	return Word{mean, sd*sd + strangerSD*strangerSD/float64(tasters)}
}

// ByAnotherMethod returns the word when the dose is for another method.
func (w Word) ByAnotherMethod() Word { return Word{w.Mean, w.Var + methodSD*methodSD} }

// The SD between brewers, ln dose.
const (
	betweenSD   = 0.60
	betweenStep = 0.01
	betweenMost = 1.5
)

// A Pooled is what several brewers say of the right ln dose of one's own panel.
type Pooled struct {
	Word
	SD float64 // between brewers
}

// Pool returns what words of strangers say of the own right ln dose,
//
//	W_g = 1/(v_g + s^2),  M = sum W_g m_g / sum W_g,  V = 1/sum W_g + s^2,
//
// with s = 0.60, raised where the brewers differ by more than that lets expect:
// until sum W_g (m_g - M)^2 <= n - 1, to at most 1.5. There must be one at least.
func Pool(words []Word) Pooled {
	for step := 0; ; step++ {
		s := betweenSD + betweenStep*float64(step)
		mean, sum := weighed(words, s)
		var apart float64
		for _, w := range words {
			apart += (w.Mean - mean) * (w.Mean - mean) / (w.Var + s*s)
		}
		// one brewer differs from nobody, but for rounding
		if len(words) < 2 || apart <= float64(len(words)-1) || s >= betweenMost-betweenStep/2 {
			return Pooled{Word{mean, 1/sum + s*s}, s}
		}
	}
}

// PoolShared returns the same of brewers at whose tables the own panel scored: what
// their beers do has the SD 0.45 for each brewer and once more for all of them.
func PoolShared(words []Word) Word {
	mean, sum := weighed(words, SharedSD)
	return Word{mean, 1/sum + SharedSD*SharedSD}
}

// weighed returns the mean of words weighed by 1/(v + s^2), and the sum of the weights.
func weighed(words []Word, s float64) (mean, sum float64) {
	for _, w := range words {
		weight := 1 / (w.Var + s*s)
		mean += weight * w.Mean
		sum += weight
	}
	return mean / sum, sum
}

// Both returns two independent words as one.
func Both(a, b Word) Word {
	v := 1 / (1/a.Var + 1/b.Var)
	return Word{v * (a.Mean/a.Var + b.Mean/b.Var), v}
}

// Worth returns how many single brews of one's own, tasted by so many people, a
// word is worth: (0.08 + 0.36/m)/V. The first brew of one's own adds about
// 1/(0.08 + 0.36/m) to 1/variance (measured for 1, 2, 4 and 8 tasters).
func (w Word) Worth(tasters int) float64 {
	return (0.08 + 0.36/float64(tasters)) / w.Var
}

// Apart returns how many SDs a word lies above another: z.
func (w Word) Apart(other Word) float64 {
	return (w.Mean - other.Mean) / math.Sqrt(w.Var+other.Var)
}
