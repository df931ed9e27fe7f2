package extraction

import (
	"math"
	"math/rand/v2"
	"sync"
)

// DoseBand returns the effective dose of one class with its intervals and spread
// from a few hundred stratified draws, for dose bands by the hundred: each
// score takes each five-hundredth of its distribution once (a Latin hypercube [22]),
// so that 500 draws serve as well as several thousand plain ones, and the same
// steep has the same band each time. It errs as Run and Dose do.
func (s *Steep) DoseBand(m Mix, class Class) (Band, error) {
	c, err := NewCandidate(s, m)
	if err != nil {
		return Band{}, err
	}
	r, err := s.Run()
	if err != nil {
		return Band{}, err
	}
	point, err := r.Dose(m)
	if err != nil {
		return Band{}, err
	}
	table := stratifiedScores()
	doses, d, classes := make([]float64, len(table)), centralDraw(), []Class{class}
	for i := range table {
		sc, o := table[i].scores(c.form, class)
		c.figures(&sc, &o, classes, &d)
		_, dose := c.dose(&d, classes)
		doses[i] = dose[class]
	}
	return NewBand(point.EffectiveGPerL[class], doses), nil
}

// stratifiedDraws is the number of stratified draws.
const stratifiedDraws = 500

// scoreRow are the normal scores of one stratified draw, for one form and class.
type scoreRow [15]float64

// scores spreads the row over what is in doubt.
func (r *scoreRow) scores(f Form, class Class) (shared, own) {
	s := shared{solute: r[0], ea: r[1], held: r[2], boil: r[3], hot: r[4], colour: r[5], fresh: r[6], moisture: r[7]}
	// scores of other forms and classes stay zero: nothing of them is asked
	s.size[f], s.ceiling[class] = r[8], r[9]
	o := own{agitate: r[10], slip: r[11], soluble: r[13], reading: r[14]}
	o.trials[class] = r[12]
	return s, o
}

// stratifiedScores is the table of stratified draws, worked out when first asked
// for: in each column the middles of equal parts of the normal distribution, in
// an order of its own.
var stratifiedScores = sync.OnceValue(func() []scoreRow {
	table := make([]scoreRow, stratifiedDraws)
	rng := rand.New(rand.NewPCG(20260301, stratifiedDraws))
	for column := range table[0] {
		for i, place := range rng.Perm(stratifiedDraws) {
			p := (float64(place) + 0.5) / stratifiedDraws
			table[i][column] = math.Sqrt2 * math.Erfinv(2*p-1)
		}
	}
	return table
})
