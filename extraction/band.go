package extraction

import (
	"math"

	"hedgerow/trials/figure"
)

// Band is a value with its 80 % and its 95 % interval from the same draws.
type Band struct {
	// At80 is the value with its 80 % interval.
	At80 figure.Estimate
	// At95 is the value with its 95 % interval.
	At95 figure.Estimate
	// SDLn is the sd of the logarithm; 0 when some draws are zero.
	SDLn float64
}

// NewBand returns the band of draws about value; it changes their order. Value is
// the figure at the defaults, not the mean or median of the draws: it is the one
// that a reader can work out by hand.
func NewBand(value float64, draws []float64) Band {
	b := Band{SDLn: sdLn(draws)}
	arrange(draws, 0.025, 0.10, 0.90, 0.975)
	b.At80, b.At95 = interval(value, draws, 0.80), interval(value, draws, 0.95)
	return b
}

// sdLn returns the standard deviation of the logarithms, 0 if one is not above
// zero.
func sdLn(values []float64) float64 {
	mean, sum := 0.0, 0.0
	for i, v := range values {
		// a dose of nothing has no logarithm, and one such draw makes the spread of all of them
		// meaningless
		if v <= 0 {
			return 0
		}
		// Welford's running mean: stable, one pass.
		l := math.Log(v)
		step := l - mean
		mean += step / float64(i+1)
		sum += step * (l - mean)
	}
	return math.Sqrt(sum / float64(len(values)-1))
}

// Doubt is what the draws say about one steep and its mix, by class.
type Doubt struct {
	// Kept is Y S, the share of what is extractable in the liquid.
	Kept [classCount]Band
	// Dose is the effective dose, g per litre.
	Dose [classCount]Band
	// N is the number of draws.
	N int
	// Seed is the seed they came from.
	Seed uint64
}

// Doubt returns the intervals of yield and effective dose by Monte Carlo. Drawn
// are: rate (sd of ln 0.9 and 0.3 for solute and size), activation energy,
// agitation, class ceiling (capped at 1), held liquid unless it was measured,
// half-lives, the equality of fresh and dried, and a moisture that is a default
// or from a table. It errs
// as Run and Dose do.
func (s *Steep) Doubt(m Mix, draws Draws) (Doubt, error) {
	n, err := draws.count()
	if err != nil {
		return Doubt{}, err
	}
	c, err := NewCandidate(s, m)
	if err != nil {
		return Doubt{}, err
	}
	r, err := s.Run()
	if err != nil {
		return Doubt{}, err
	}
	point, err := r.Dose(m)
	if err != nil {
		return Doubt{}, err
	}
	kept, dose := c.sample(n, draws.Seed)
	out := Doubt{N: n, Seed: draws.Seed}
	for _, class := range everyClass {
		out.Kept[class] = NewBand(r.kept(class), kept[class])
		out.Dose[class] = NewBand(point.EffectiveGPerL[class], dose[class])
	}
	return out, nil
}

// sample draws n outcomes of all classes.
func (c *Candidate) sample(n int, seed uint64) (kept, dose [classCount][]float64) {
	all := make([]float64, 2*classCount*n)
	for class := range kept {
		kept[class] = all[2*class*n : (2*class+1)*n]
		dose[class] = all[(2*class+1)*n : (2*class+2)*n]
	}
	rng, d := newRand(seed), centralDraw()
	var s shared
	var o own
	forms := []Form{c.form}
	for i := range n {
		s.draw(rng, forms)
		o.draw(rng, c)
		c.figures(&s, &o, everyClass[:], &d)
		k, g := c.dose(&d, everyClass[:])
		for class := range k {
			kept[class][i], dose[class][i] = k[class], g[class]
		}
	}
	return kept, dose
}
