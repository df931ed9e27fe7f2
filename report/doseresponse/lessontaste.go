package doseresponse

import (
	"math"
	"math/rand/v2"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// Where series start: going up far below any dose that was advised or is likely, going
// down far above.
const (
	startBelow = 4.0 // times
	startAbove = 2.0
)

// tasteLesson weighs an evening on which the panel doses to taste, a glass up and a
// glass down each, with the extract that goes into the beer or with another. Its doses
// are where the two glasses start.
func (p *Posterior) tasteLesson(extract evidence.Extract) lesson {
	low, high := p.dose(p.psiQ.low), p.dose(p.psiQ.high)
	if len(p.study.ClaimsGPerL) > 0 {
		lo, hi := claimRange(p.study.ClaimsGPerL)
		low, high = min(low, lo), max(high, hi)
	}
	return p.lessonFrom(doseToTaste, 0, []float64{low / startBelow, high * startAbove}, p.simulateNotes(extract))
}

// simulateNotes returns the sums over the panel of the four ends that are noted, a row
// for each kept draw.
func (p *Posterior) simulateNotes(extract evidence.Extract) [][]float64 {
	rng := rand.New(rand.NewPCG(seed, 3))
	index, sd := p.prob.Glass, field.GlassSDLn
	if extract == evidence.Used {
		index, sd = p.prob.Used, field.UsedSDLn
	}
	// known or not, as the draw has it: the step is the method's and the habit the panel's, not the evening's
	known := func(i, at int, mean, sd float64) float64 {
		if at >= 0 {
			return p.kept.At(i)[2*p.kept.Tasters+at]
		}
		return mean + sd*rng.NormFloat64()
	}
	rows := make([][]float64, len(p.kept.Point))
	for i := range rows {
		step := known(i, index, 0, sd)
		habit := known(i, p.prob.Habit, field.HabitLn, field.HabitSDLn)
		rows[i] = p.notesOf(i, step, habit, rng)
	}
	return rows
}

// notesOf returns the sums of what the panel notes under kept draw i: where it begins
// to be right and too much going up, and the same going down.
func (p *Posterior) notesOf(i int, step, habit float64, rng *rand.Rand) []float64 {
	v, nd := p.kept.At(i), &p.points[p.kept.Point[i]].Node
	row := make([]float64, 0, 4)
	for _, up := range [...]float64{1, -1} {
		for _, end := range [...]float64{-1, 1} {
			var sum float64
			for _, j := range p.prob.Panel {
				kappa, c := field.NoteWindow(nd, p.prob.Sharp[j])
				noise := math.Sqrt(field.NoteVariance(kappa, math.Log(field.UsualStep))) * rng.NormFloat64()
				sum += p.prob.RightOf(v, j) - p.prob.DrunkLater(v) + end*c - step + up*habit + noise
			}
			row = append(row, sum)
		}
	}
	return row
}
