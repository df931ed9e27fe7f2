package doseresponse

import "hedgerow/trials/figure"

// The ages of beers, in days, as the fade sees them.
const (
	usualAge = 30.0 // of a beer whose age is not known, when no other is
)

// A fading is how fast a taste is lost with age, and the right dose at some ages.
type fading struct {
	LnPerWeek     figure.Stated // loss of the ln of the effective dose, level 0.9; below 0 it grows
	HalfLifeWeeks *float64      // of the middle of it; nil when the taste does not fade
	DrinkAtDays   float64       // the age that the answer is for
	At30, At90    float64       // right dose for a beer drunk at 30 and 90 days, g/L
	Oldest        float64       // the oldest age that was tasted, days
}

// fade returns how the taste fades; ok is false when neither the ages tasted nor
// the age asked for bring it in.
func (p *Posterior) fade() (f fading, ok bool) { return fading{}, false }

// drinkAge returns the age in days that the answer is for.
func (p *Posterior) drinkAge() float64 {
	if d := p.study.DrinkAtDays; d != nil {
		return *d
	}
	return usualAge
}

// A pull is when to take a plant out of the beer.
type pull struct {
	Days  figure.Stated // without limits where none can be told; level 0.9
	Dose  float64       // of the brew that was tasted on the way, g/L
	Brew  string        // its group
	Times []float64     // contact days at which it was tasted, ascending
}

// pullAt returns when to take the plant out of a beer that was tasted at two or
// more contact times of one dose, with votes not all on one side; ok is false
// without such a beer.
func (p *Posterior) pullAt() (q pull, ok bool) { return pull{}, false }
