package field

import (
	"cmp"
	"math"
	"slices"

	"hedgerow/report/evidence"
)

// commonNoise is the SD of one intensity, points, where no fit is at hand:
// the middle of the grid of sy.
const commonNoise = 1.4

// Limits of the test for intensities that do not rise with the dose, in SDs:
// a slope this far below 0, or a top dose this far below a weaker one
// ([1] section 2.1).
const (
	foldSlope = -1.645
	foldTop   = 3.0
)

// spreadFactor is the ratio of doses below which a slope cannot be told
// ([1] section 2.1).
const SpreadFactor = 1.3

// dropFolded takes the intensities out of the problem when they fall where
// they should rise, as a harsh overdose makes them do: the straight line of
// the model would then push the dose the wrong way. The votes stay.
func (p *Problem) dropFolded(s evidence.Study) {
	if len(p.Votes) > 0 && p.intensitiesFold(s) {
		p.Marks = nil
		p.Folded = true
	}
}

// intensitiesFold reports whether the intensities fall with the dose, or
// collapse at the top dose, among beers that may be compared. The slope is that
// within their lots, all taken together.
func (p *Problem) intensitiesFold(s evidence.Study) bool {
	var spread, cross float64
	for _, doses := range p.marksByDose(s) {
		if topFalls(doses) {
			return true
		}
		var n, sx, sy, sxx, sxy float64
		for _, d := range doses {
			n += d.Count
			sx += d.Count * d.x
			sy += d.Y
			sxx += d.Count * d.x * d.x
			sxy += d.x * d.Y
		}
		spread += sxx - sx*sx/n
		cross += sxy - sx*sy/n
	}
	// one dose has no slope; the sums leave rounding, not 0
	return spread > 1e-9 && cross/math.Sqrt(spread) < foldSlope*commonNoise
}

// topFalls reports whether the top dose scores far below a clearly weaker one.
// The doses are in ascending order.
func topFalls(doses []doseMarks) bool {
	top := doses[len(doses)-1]
	for _, d := range doses {
		if top.x-d.x < math.Log(SpreadFactor) {
			break
		}
		// only the top is tested: a dip further down is noise of a middle beer, not a harsh overdose
		fall := d.Y/d.Count - top.Y/top.Count
		if fall > foldTop*commonNoise*math.Sqrt(1/d.Count+1/top.Count) {
			return true
		}
	}
	return false
}

// doseMarks are the centred intensities of all trials of one dose.
type doseMarks struct {
	x float64 // relative ln dose
	MarkSum
}

// comparableDays is how far apart in age beers may have been tasted whose
// intensities are compared: an old beer that tastes of less may have faded.
const comparableDays = 21.0

// A peer is what beers have in common whose intensities may be compared: who brewed
// them, the method, dosed glasses or beer, and the time that the plant was in it.
type peer struct {
	brewer  string
	method  string
	glass   bool
	contact float64
}

// marksByDose pools the centred intensities by dose, in ascending order, in a list
// for each set of beers that may be compared: of one method and contact time, tasted
// within 21 days of age. Beers of one dose are one dose: were the test to take one
// of them for the top, the order of the records would choose it.
func (p *Problem) marksByDose(s evidence.Study) [][]doseMarks {
	sums := p.centredMarks()
	var order []int
	for k := range p.Beers {
		if sums[k].Count > 0 {
			order = append(order, k)
		}
	}
	// stable, so that float sums run in the order of the study, which is the same each time
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(p.AgeOf(s.Trials[p.Beers[a].Index]), p.AgeOf(s.Trials[p.Beers[b].Index]))
	})
	var sets [][]doseMarks
	young, at := map[peer]float64{}, map[peer]int{}
	for _, k := range order {
		t := s.Trials[p.Beers[k].Index]
		who := peer{t.Brewer, t.Method, t.Kind == evidence.Glass, p.Contact0}
		if Timed(t) {
			who.contact = *t.ContactDays
		}
		age := p.AgeOf(t)
		if from, ok := young[who]; !ok || age-from > comparableDays {
			young[who], at[who] = age, len(sets)
			sets = append(sets, nil)
		}
		sets[at[who]] = append(sets[at[who]], doseMarks{p.Beers[k].X, sums[k]})
	}
	for i := range sets {
		sets[i] = pooled(sets[i])
	}
	return sets
}

// pooled sorts intensities by dose and adds those of one dose.
func pooled(doses []doseMarks) []doseMarks {
	slices.SortStableFunc(doses, func(a, b doseMarks) int { return cmp.Compare(a.x, b.x) })
	sum := doses[:0]
	for _, d := range doses {
		if last := len(sum) - 1; last >= 0 && sum[last].x == d.x {
			sum[last].Count += d.Count
			sum[last].Y += d.Y
			continue
		}
		sum = append(sum, d)
	}
	return sum
}

// A MarkSum is number and sum of the intensities of a trial, each less the
// mean of its taster.
type MarkSum struct{ Count, Y float64 }

// centredMarks sums the intensities by trial.
func (p *Problem) centredMarks() []MarkSum {
	means := make([]MarkSum, len(p.Tasters))
	for _, m := range p.Marks {
		means[m.Taster].Count++
		means[m.Taster].Y += m.Y
	}
	sums := make([]MarkSum, len(p.Beers))
	for _, m := range p.Marks {
		sums[m.Trial].Count++
		// a generous taster who missed the strong beer would else look like intensities that fall
		sums[m.Trial].Y += m.Y - means[m.Taster].Y/means[m.Taster].Count
	}
	return sums
}
