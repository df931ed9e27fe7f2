package doseresponse

import (
	"math"

	"hedgerow/report/evidence"
)

// A dose that the panel refused is offered again neither by itself nor as a jar:
// what is offered keeps refusedStep away from it (judgement: a tenth is what a
// tongue tells at best).
const refusedStep = 1.1

// refusingTasters is how many tasters it takes to refuse a dose: one alone may
// err.
const refusingTasters = 2

// refusedDoses are the doses that the panel refused, in g/L of the reference method.
type refusedDoses struct {
	tooLittle float64 // the highest that all called too little; 0 for none
	tooMuch   float64 // the lowest that all called too much; +Inf for none
}

// refused returns what the panel refused: brewed doses by the reference method,
// tasted about the age at which the beer will be drunk, that every one of two
// tasters or more called too little, or too much. Where a dose refused as too
// little is not below one refused as too much neither counts.
func (p *Posterior) refused() refusedDoses {
	r := refusedDoses{0, math.Inf(1)}
	if p.study.TargetIntensity != nil || len(p.prob.Tasters) < refusingTasters {
		return r
	}
	for _, t := range p.study.Trials {
		if !p.tellsOfReference(t) {
			continue
		}
		switch refusedAs(t) {
		case -1:
			r.tooLittle = max(r.tooLittle, t.DoseGPerL)
		case 1:
			r.tooMuch = min(r.tooMuch, t.DoseGPerL)
		}
	}
	if r.tooLittle >= r.tooMuch {
		return refusedDoses{0, math.Inf(1)}
	}
	return r
}

// tellsOfReference reports whether a trial is a brewed dose by the reference
// method that was tasted about the age at which the beer will be drunk. A beer
// whose age is not known counts.
func (p *Posterior) tellsOfReference(t evidence.Trial) bool {
	return t.DoseGPerL > 0 && t.Kind != evidence.Glass && t.Method == p.prob.Reference &&
		(t.DaysOld == nil || math.Abs(*t.DaysOld-p.drinkAge()) <= evidence.SameAgeDays)
}

// refusedAs returns -1 or 1 when all of two tasters or more voted that way on the
// trial, and else 0.
func refusedAs(t evidence.Trial) int {
	side := 0
	voters := map[string]bool{}
	for _, sc := range t.Scores {
		if sc.Vote == nil {
			continue
		}
		if *sc.Vote == 0 || side != 0 && *sc.Vote != side {
			return 0
		}
		side = *sc.Vote
		voters[sc.Taster] = true
	}
	if len(voters) < refusingTasters {
		return 0
	}
	return side
}

// keep returns dose d moved out of what was refused.
func (r refusedDoses) keep(d float64) float64 {
	return min(max(d, r.tooLittle*refusedStep), r.tooMuch/refusedStep)
}

// slide multiplies a ladder of ascending doses by one factor so that all of it
// lies clear of what was refused: the steps stay as they are, none is cut off.
func (r refusedDoses) slide(doses []float64) {
	if len(doses) == 0 {
		return
	}
	low, high := doses[0], doses[len(doses)-1]
	factor := 1.0
	if least := r.tooLittle * refusedStep; low < least {
		factor = least / low
	}
	if most := r.tooMuch / refusedStep; high > most {
		factor = most / high
	}
	for i := range doses {
		doses[i] *= factor
	}
}
