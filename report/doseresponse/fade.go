package doseresponse

import (
	"math"

	"hedgerow/report/field"
	"hedgerow/trials/figure"
)

// A fading is how fast a taste is lost with age, and the right dose at some ages.
type fading struct {
	LnPerWeek     figure.Stated // loss of the ln of the effective dose, level 0.9; below 0 it grows
	HalfLifeWeeks *float64      // of the middle of it; nil when the taste does not fade
	DrinkAtDays   float64       // the age that the answer is for
	At30, At90    float64       // right dose for a beer drunk at 30 and 90 days, g/L
	Oldest        float64       // the oldest age that was tasted, days; 0 when none is known
}

// fade returns how the taste fades; ok is false when neither the ages tasted nor
// the age asked for bring it in.
func (p *Posterior) fade() (f fading, ok bool) {
	if p.prob.Fade < 0 {
		return fading{}, false
	}
	values := p.draws.Number(2*len(p.prob.Tasters) + p.prob.Fade)
	q := bandOf(p.draws, values, field.Order(values))
	f = fading{
		LnPerWeek:   figure.StatedBetween(q.mid, q.low, q.high, level),
		DrinkAtDays: p.drinkAge(),
		At30:        p.rightAtAge(30, q.mid),
		At90:        p.rightAtAge(90, q.mid),
		Oldest:      p.prob.Oldest,
	}
	if q.mid > 0 {
		weeks := math.Ln2 / q.mid
		f.HalfLifeWeeks = &weeks
	}
	return f, true
}

// drinkAge returns the age in days that the answer is for: the one asked for, else
// the lower median of the ages tasted, else 30.
func (p *Posterior) drinkAge() float64 {
	if d := p.study.DrinkAtDays; d != nil {
		return *d
	}
	return p.prob.Age0
}

// rightAtAge returns the right dose, g/L, of a beer drunk at another age: the best
// dose with the right doses of all draws moved by their own fade. For a target
// intensity, which has no best share, the dose asked for is moved by the middle
// of the fade.
func (p *Posterior) rightAtAge(days, middle float64) float64 {
	later := (min(days, field.OldestAge) - p.prob.Age0) / 7
	if p.study.TargetIntensity != nil {
		return p.dose(p.best + middle*(later-p.prob.Later))
	}
	prob, kept := *p.prob, *p.kept
	prob.Later = later
	kept.SetPsi(&prob)
	other := &Posterior{study: p.study, prob: &prob, points: p.points, kept: &kept, windows: p.windows}
	other.setTastes()
	return other.dose(other.bestDose())
}

// A pull is when to take a plant out of the beer.
type pull struct {
	Days  figure.Stated // level 0.9; without limits where the times tasted do not tell
	Dose  float64       // of the brew that was tasted on the way, g/L
	Brew  string        // its group
	Times []float64     // contact days at which it was tasted, ascending
}
